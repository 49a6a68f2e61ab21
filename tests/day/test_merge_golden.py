"""The golden cases of the merge, on both Pythons, in several orders and batches, through the phone's door."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest

from merge_cases import DAY, Golden, golden_cases
from tailslate.day.edit import Edit

CASES = golden_cases()


def ask(door: Callable[[str], str], do: str, **asked: Any) -> dict[str, Any]:
    answer: dict[str, Any] = json.loads(door(json.dumps({"do": do, **asked}, ensure_ascii=False)))
    assert answer["ok"], answer
    return answer


def texts(edits: list[Edit]) -> list[str]:
    return [one.text for one in edits]


def folded(door: Callable[[str], str], golden: Golden, order: list[Edit]) -> dict[str, Any]:
    cells: dict[str, Any] = ask(door, "fold", day=DAY, items=texts(order), verdicts=texts(golden.verdicts))[
        "cells"
    ]
    return cells


def joined(door: Callable[[str], str], golden: Golden, order: list[Edit], batch: int) -> dict[str, Any]:
    cells: dict[str, Any] = {}
    for start in range(0, len(order), batch):
        answer = ask(door, "merge", day=DAY, items=texts(order[start : start + batch]), cells=cells)
        assert not answer["needs_fold"]
        cells |= answer["cells"]
    return cells


@pytest.mark.parametrize("golden", CASES, ids=lambda golden: golden.name)
def test_golden_case(golden: Golden, phone_door: Callable[[str], str]) -> None:
    first = folded(phone_door, golden, golden.arrived)
    for order in golden.orders():
        assert json.dumps(folded(phone_door, golden, order), sort_keys=True) == json.dumps(
            first, sort_keys=True
        ), "M1: any order gives the same bytes"
    if "expect" in golden.case:
        assert golden.named(first) == golden.case["expect"]
    for record, wanted in golden.case.get("presence", {}).items():
        records: dict[str, dict[str, Any]] = {}
        for key, cell in first.items():
            kind, record_id, field = key.split("/")
            records.setdefault(f"{kind}/{record_id}", {})[field] = cell
        assert ask(phone_door, "presence", record=record, records=records)["presence"] == wanted


WITHOUT_VERDICTS = [
    golden
    for golden in CASES
    if not golden.verdicts
    and not golden.case["title"].startswith(("an act that is reserved", "a hold raised in"))
]


@pytest.mark.parametrize("golden", WITHOUT_VERDICTS, ids=lambda golden: golden.name)
def test_m1_joining_one_by_one_in_pairs_and_at_once_gives_what_folding_gives(
    golden: Golden, phone_door: Callable[[str], str]
) -> None:
    wanted = json.dumps(folded(phone_door, golden, golden.arrived), sort_keys=True)
    for order in golden.orders(6):
        for batch in (1, 2, len(order)):
            got = joined(phone_door, golden, order + order[:1], batch)
            assert json.dumps(got, sort_keys=True) == wanted
