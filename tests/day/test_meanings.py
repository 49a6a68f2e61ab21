"""Every label that a sheet can show says what it is: found in the rules' own text and on the whole demonstration day."""

from __future__ import annotations

import ast
import gzip
import itertools
import json
import re
from pathlib import Path
from typing import Any

import pytest

from a_day import Door
from people import DAY
from tailslate import craft, day, demonstration
from tailslate.day import cautions, meanings, merge, reads
from tailslate.day.gathered import Gathered

RULES = sorted(Path(day.__file__).parent.glob("*.py"))
SOURCES = (Path(craft.__file__).parent / "SOURCES.md").read_text(encoding="utf-8")
SHOTS = ("12a", "12b", "12c", "12d", "12e", "13a")
NOW_MS = 1_764_079_920_000  # 25 November 2025, 14:12 UTC


def labels_in_rules() -> set[str]:
    """Return every text that a rules file gives a figure as its label."""
    found = set()
    for file in RULES:
        named: dict[str, set[str]] = {}
        tree = ast.parse(file.read_text(encoding="utf-8"))
        for node in ast.walk(tree):
            if isinstance(node, ast.Assign) and isinstance(node.value, (ast.Constant, ast.Tuple)):
                targets = node.targets[0]
                names = targets.elts if isinstance(targets, ast.Tuple) else [targets]
                values = node.value.elts if isinstance(node.value, ast.Tuple) else [node.value]
                for name, value in zip(names, values, strict=False):
                    if isinstance(name, ast.Name) and isinstance(value, ast.Constant):
                        named.setdefault(name.id, set()).add(str(value.value))
        for node in ast.walk(tree):
            is_figure = (
                isinstance(node, ast.Call)
                and isinstance(node.func, ast.Attribute)
                and isinstance(node.func.value, ast.Name)
                and (node.func.value.id, node.func.attr)
                in {("figures", "plain"), ("figures", "unknown"), ("figures", "tried")}
            )
            if not isinstance(node, ast.Call) or not is_figure or not node.args:
                continue
            first = node.args[0]
            if isinstance(first, ast.Constant):
                found.add(str(first.value))
            elif isinstance(first, ast.Name):
                found |= {one for one in named.get(first.id, set()) if one[:1].isupper()}
    return found


@pytest.fixture(scope="module")
def records() -> dict[str, Any]:
    """The demonstration day as a phone of the floor holds it."""
    salts = (f"{number:08d}" for number in itertools.count())
    made = demonstration.edits_of(
        demonstration.plan(), day_id=DAY, incarnation="demo000001", salts=salts, now_ms=NOW_MS
    )
    words = merge.verdict_words([one for one in made if one.kind == "verdict"])
    floor = [one for one in made if one.kind != "verdict" and one.set == "floor"]
    found: dict[str, Any] = {}
    for name, cell in merge.fold(floor, words).items():
        kind, record, field = name.split("/")
        found.setdefault(f"{kind}/{record}", {})[field] = cell
    return found


def labels_of(part: Any) -> list[str]:
    """Return every label within a part of a sheet."""
    if isinstance(part, dict):
        own = [part["label"]] if "label" in part else []
        return own + [label for value in part.values() for label in labels_of(value)]
    return [label for value in part for label in labels_of(value)] if isinstance(part, list) else []


def test_n1_every_figure_of_the_rules_has_a_meaning_and_no_meaning_is_left_over() -> None:
    labels = {meanings.label_of(label) for label in labels_in_rules()}
    assert len(labels) > 25
    assert labels - set(meanings.FIGURES) == set()
    built = {"Leg", "Neutral"}  # put together in legs.py
    assert set(meanings.FIGURES) - labels <= built


def test_n1_every_label_of_the_demonstration_day_has_a_meaning(
    records: dict[str, Any], phone_door: Door
) -> None:
    seen = set()
    for shot in SHOTS:
        keys = reads.follow([f"shot/{shot}"], reads.SHOT_STEPS, Gathered(records))
        asked = {"do": "shot", "shot": shot, "records": {key: records[key] for key in keys}, "complete": True}
        sheet = json.loads(phone_door(json.dumps(asked)))["sheet"]
        del sheet["two_answers"]  # their label is the record's own title
        seen |= set(labels_of(sheet))
    answer = json.loads(phone_door(json.dumps({"do": "meanings", "labels": sorted(seen)})))["meanings"]
    told = {one["label"] for one in answer}
    assert {meanings.label_of(label) for label in seen} - told == set()
    assert len(told) > 50
    assert all(one["meaning"] for one in answer)


def test_n2_every_source_is_one_of_the_arithmetic_s_and_every_caution_is_one() -> None:
    rows = [*meanings.FIGURES.values(), *(words[1:] for part in meanings.PARTS.values() for words in part)]
    used = {source for _said, _formula, source, _caution in rows}
    assert used | {""} == set(meanings.SOURCES)
    for key in used - {""}:
        assert re.search(rf"^\| {key} \|", SOURCES, re.MULTILINE), key
        if meanings.SOURCES[key] == meanings.PRACTICE:
            assert re.search(rf"^\| {key} \|.*{meanings.PRACTICE}", SOURCES, re.MULTILINE), key
    assert {caution for *_row, caution in rows} <= {"", *cautions.SENTENCES}


@pytest.mark.parametrize(
    ("label", "caution"),
    [("Load", "electric"), ("Leg 3", "electric"), ("Safety", "overhead"), ("Tips in gusts", "wind"),
     ("Sugar", "swallowed"), ("Flashes", "flash"), ("Out of the cold", "batch"), ("Bags", "load")],
)  # fmt: skip
def test_a_number_that_could_be_taken_for_safe_carries_its_caution(label: str, caution: str) -> None:
    found = meanings.meaning(label)
    assert found
    assert found["caution"] == cautions.caution(caution)


def test_a_part_of_a_shot_begins_with_its_own_words_and_says_each_once() -> None:
    found = meanings.meanings(["Bags", "Bags", "nothing of ours"], "light")
    labels = [one["label"] for one in found]
    assert labels[0] == "Level"
    assert labels[-1] == "Bags"
    assert len(labels) == len(set(labels))
    assert meanings.meaning("nothing of ours") is None


def test_n3_all_of_it_is_small_on_every_phone() -> None:
    assert len(gzip.compress(Path(meanings.__file__).read_bytes(), 9)) < 8_000
