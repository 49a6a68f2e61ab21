"""What an edit is and what is none, on both Pythons through the phone's door."""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tailslate.craft.errors import RuleError
from tailslate.day import edit

Door = Callable[[str], str]


def parts(**changed: Any) -> list[Any]:
    """The parts of a sound edit, some of them changed by name."""
    sound: dict[str, Any] = {"format": 1, "day": "d1", "set": "floor", "incarnation": "abcde12345"}
    sound |= {"counter": 1, "salt": "12345678", "rules": 1, "at_ms": 1764000000000, "by": "p-grip"}
    sound |= {"for_whom": "", "how": "", "kind": "task", "record": "t1"}
    sound |= {"changes": [["title", "Bag stand 3", []]]}
    return list((sound | changed).values())


def write(value: Any) -> str:
    return json.dumps(value, separators=(",", ":"), ensure_ascii=False)


def merged(door: Door, text: str) -> dict[str, Any]:
    answer: dict[str, Any] = json.loads(
        door(json.dumps({"do": "merge", "day": "d1", "items": [text], "cells": {}}, ensure_ascii=False))
    )
    assert answer["ok"], answer
    return answer


def test_e1_the_id_is_the_digest_of_the_text_as_it_stands(phone_door: Door) -> None:
    """SHA-256 by FIPS 180-4 (Python's hashlib), base64url by RFC 4648 section 5 (Python's base64)."""
    text = write(parts(changes=[["title", "Tür zu, été, 灯, 🎬", []]]))
    digest = base64.urlsafe_b64encode(hashlib.sha256(text.encode()).digest()[:12]).decode()
    assert merged(phone_door, text)["ids"] == [f"abcde12345.1.{digest}"]


MALFORMED = {
    "text_not_canonical": [
        write(parts()) + " ",
        write(parts()).replace(",", ", ", 1),
        write(parts())[:-2],
        write(parts()).replace("]]]", "]],]"),
        write(parts(changes=[["title", "a", []]])).replace('"a"', '"\\u0061"'),
        write(parts(changes=[["title", "a", []]])).replace('"a"', '"a\\u0000"'),
        write(parts(changes=[["title", "a", []]])).replace('"a"', '"a\\ud800"'),
        write(parts(changes=[["title", "a", []]])).replace('"a"', '"a\\r"'),
        write(parts(changes=[["title", "a", []]])).replace('"a"', '"a\x07"'),
        write(parts(counter=1)).replace(",1,", ",01,", 1),
        write(parts(changes=[["order", 1, []]])).replace(",1,[]", ",NaN,[]"),
        write(parts(changes=[["order", 1, []]])).replace(",1,[]", ",Infinity,[]"),
        write(parts(changes=[["order", 1.5, []]])),
        write(parts(changes=[["order", 1e300, []]])),
        "",
        "no",
        "{}",
        "<!doctype html><title>Sign in</title>",
        "[" * 5000,
    ],
    "text_not_an_edit": [
        write([]),
        write(parts()[:-1]),
        write(parts(set="attic")),
        write(parts(incarnation="")),
        write(parts(incarnation="a.b")),
        write(parts(counter=0)),
        write(parts(counter="1")),
        write(parts(counter=True)),
        write(parts(salt="short")),
        write(parts(at_ms=-1)),
        write(parts(kind="Task")),
        write(parts(record="a/b")),
        write(parts(record="")),
        write(parts(record="t1\n")),
        write(parts(kind="task\n")),
        write(parts(incarnation="abcde12345\n")),
        write(parts(changes=[["title\n", 1, []]])),
        write(parts(changes=[["a", 1, ["a.²." + "x" * 16]]])),
        write(parts(changes=[["a", 1, ["a.1." + "é" * 16]]])),
        write(parts(how="magic")),
        write(parts(changes=[])),
        write(parts(changes=[["title", "a"]])),
        write(parts(changes=[["b", 1, []], ["a", 1, []]])),
        write(parts(changes=[["a", 1, []], ["a", 1, []]])),
        write(parts(changes=[["a", 1, ["no id"]]])),
        write(parts(changes=[["a", 1, ["b.1.0123456789abcdef", "a.1.0123456789abcdef"]]])),
    ],
    "value_not_allowed": [
        write(parts(changes=[["order", 2**53, []]])),
        write(parts(changes=[["order", [[[[[1]]]]], []]])),
    ],
    "foreign_day": [write(parts(day="another"))],
    "format_newer": [write(parts(format=2))],
    "text_too_large": [
        write(parts(changes=[["note", "x" * 1_000_000, []]])),
        write(parts(changes=[["note", "灯" * 6000, []]])),
    ],
    "value_too_large": [write(parts(changes=[["note", "x" * 8300, []]]))],
}
FLAT = [(code, text) for code, texts in MALFORMED.items() for text in texts]


@pytest.mark.parametrize(("code", "text"), FLAT, ids=[f"{c} {t[:40]!r}" for c, t in FLAT])
def test_e3_malformed_is_refused_by_both_pythons_with_the_same_words(
    code: str, text: str, phone_door: Door
) -> None:
    answer = merged(phone_door, text)
    assert answer["ids"] == [None]
    assert [row[1] for row in answer["refused"]] == [code]
    with pytest.raises(RuleError) as here:
        edit.read(text, day="d1")
    assert answer["refused"][0][2] == here.value.sentence


def test_e3_half_of_a_surrogate_pair_is_refused_as_json_stringify_hands_it_over(phone_door: Door) -> None:
    raw = write(parts(changes=[["title", "a", []]])).replace('"a"', '"a\ud800"')
    answer = json.loads(phone_door(json.dumps({"do": "merge", "day": "d1", "items": [raw], "cells": {}})))
    assert [row[1] for row in answer["refused"]] == ["text_not_canonical"]


def test_e3_one_malformed_text_loses_nothing_of_the_others(phone_door: Door) -> None:
    items = [write(parts()), "broken", write(parts(counter=2, record="t2"))]
    answer = json.loads(phone_door(json.dumps({"do": "merge", "day": "d1", "items": items, "cells": {}})))
    assert [one is not None for one in answer["ids"]] == [True, False, True]
    assert sorted(answer["cells"]) == ["task/t1/title", "task/t2/title"]


def test_e2_made_on_one_python_reads_on_the_other(micropython: Any) -> None:
    asked = {"do": "make", "day": "d1", "incarnation": "abcde12345", "counter": 7, "salt": "abcdefgh"}
    asked |= {"at_ms": 1764000000000, "by": "p-art", "kind": "dressing", "record": "chart"}
    asked |= {"changes": {"title": 'Tür "auf"\n\tété 灯 🎬 \\u', "order": 3}, "seen": {}}
    there = json.loads(micropython.call(json.dumps(asked, ensure_ascii=False)))
    one = edit.read(there["text"], day="d1")
    assert one.id == there["id"]
    assert [change[1] for change in one.changes] == [3, 'Tür "auf"\n\tété 灯 🎬 \\u']


@settings(max_examples=300)
@given(st.text(max_size=40), st.integers(-(2**53) + 1, 2**53 - 1))
def test_e2_any_text_without_control_characters_survives_as_it_was(words: str, number: int) -> None:
    is_allowed = all(c in "\n\t" or ord(c) >= 32 for c in words) and not any(
        0xD800 <= ord(c) < 0xE000 for c in words
    )
    text = write(parts(changes=[["note", words, []], ["order", number, []]]))
    if is_allowed:
        assert [change[1] for change in edit.read(text, day="d1").changes] == [words, number]
    else:
        with pytest.raises(RuleError):
            edit.read(text, day="d1")


@settings(max_examples=300)
@given(st.text(max_size=200))
def test_e3_no_text_at_all_brings_reading_down(text: str) -> None:
    with pytest.raises(RuleError) as refused:
        edit.read(text, day="d1")
    assert refused.value.code in MALFORMED
