"""Edits travel as lines and come out as the very texts that went in, in Python and in the phone's TypeScript."""

from __future__ import annotations

import json
import subprocess

from hypothesis import given
from hypothesis import strategies as st

import hatch_build
from micropython.interpreter import NODE
from rules_bundle import REPOSITORY
from tailslate.api.edit_lines import lines_of, texts_of
from tailslate.day.edit import make

DAY = "d7k2"
CASE = json.loads((REPOSITORY / "tests/cases/exchange/lines.json").read_text(encoding="utf-8"))

READ_BY_THE_PHONE = """
import { textsOf } from "./src/engine/edit_lines.ts";
let asked = "";
for await (const part of process.stdin) asked += part;
const { day, set, groups } = JSON.parse(asked);
console.log(JSON.stringify(groups.map((lines) => textsOf(lines, day, set))));
"""

names = st.sampled_from(["phonea0001", "phoneb0002", "phonec0003"])
texts = st.builds(
    lambda incarnation, counter, salt, rules, at_ms, says: (
        make(
            day=DAY, set_name="floor", incarnation=incarnation, counter=counter, salt=salt, rules=rules,
            at_ms=at_ms, by="p-1", kind="note", record="n", changes={"says": says}, seen={},
        ).text
    ),
    names,
    st.integers(1, 999_999_999),
    st.text("abcXYZ019-_,[]:", min_size=8, max_size=8),
    st.integers(0, 9),
    st.integers(0, 2**53 - 1),
    st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=30) | st.just('a\n"b\\c\t'),
)  # fmt: skip


def read_by_the_phone(groups: list[list[str]]) -> list[list[str]]:
    finished = subprocess.run(
        [NODE, "--input-type=module", "--eval", READ_BY_THE_PHONE],
        input=json.dumps({"day": DAY, "set": "floor", "groups": groups}),
        cwd=hatch_build.PWA,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=True,
    )
    return json.loads(finished.stdout)  # type: ignore[no-any-return]


def test_the_lines_are_those_written_by_hand() -> None:
    assert lines_of(CASE["texts"], day=DAY, set_name="floor") == CASE["lines"]
    assert texts_of(CASE["lines"], day=DAY, set_name="floor") == CASE["texts"]
    assert read_by_the_phone([CASE["lines"]]) == [CASE["texts"]]


@given(st.lists(texts, max_size=12))
def test_any_edits_come_out_as_they_went_in(group: list[str]) -> None:
    assert texts_of(lines_of(group, day=DAY, set_name="floor"), day=DAY, set_name="floor") == group


def test_any_edits_come_out_on_the_phone_as_they_went_in() -> None:
    groups: list[list[str]] = []

    @given(st.lists(texts, min_size=1, max_size=12))
    def gather(group: list[str]) -> None:
        groups.append(group)

    gather()
    lines = [lines_of(group, day=DAY, set_name="floor") for group in groups]
    assert read_by_the_phone(lines) == groups
    assert len(groups) > 50


def test_lines_are_shorter_than_the_texts() -> None:
    assert len("".join(CASE["lines"][:4])) < 0.8 * len("".join(CASE["texts"][:4]))
