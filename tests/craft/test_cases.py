"""Each worked case, on the raw number: near enough to what is expected, and far from every common mistake.

The same cases run on the phone's Python, and both must answer alike.
"""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest

from craft import case_calls
from micropython.interpreter import MicroPython

FOLDER = Path(__file__).parent.parent / "cases" / "craft"
CASES: list[dict[str, Any]] = [
    case
    for path in sorted(FOLDER.glob("*.json"))
    for case in json.loads(path.read_text(encoding="utf-8"))["cases"]
]


def is_near(value: Any, expected: dict[str, Any]) -> bool:
    """Whether an answer agrees with what a case expects, as closely as the case asks."""
    wanted, tolerance = expected["value"], expected.get("tolerance", {})
    if isinstance(wanted, bool | str | list):
        return bool(value == wanted)
    if isinstance(wanted, dict):
        return sorted(value) == sorted(wanted) and all(
            math.isclose(value[name], wanted[name], abs_tol=1e-9) for name in wanted
        )
    assert tolerance, "a number needs a tolerance"
    reach = max(tolerance.get("abs", 0.0), tolerance.get("rel", 0.0) * abs(wanted))
    return abs(value - wanted) <= reach


def differences(here: Any, there: Any, where: str = "") -> list[str]:
    """Where two answers differ: figures by more than 1e-9 relative and 1e-12 absolute, all else at all."""
    if isinstance(here, dict) and isinstance(there, dict) and sorted(here) == sorted(there):
        return [each for name in here for each in differences(here[name], there[name], f"{where}/{name}")]
    if isinstance(here, list) and isinstance(there, list) and len(here) == len(there):
        pairs = enumerate(zip(here, there, strict=True))
        return [each for place, (one, other) in pairs for each in differences(one, other, f"{where}/{place}")]
    numbers = isinstance(here, int | float) and isinstance(there, int | float)
    if numbers and not isinstance(here, bool) and not isinstance(there, bool):
        return [] if math.isclose(here, there, rel_tol=1e-9, abs_tol=1e-12) else [f"{where}: {here}, {there}"]
    return [] if here == there else [f"{where}: {here!r}, {there!r}"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_the_answer_is_near_what_is_expected(case: dict[str, Any]) -> None:
    answers = case_calls.run_case(case)
    assert sorted(answers) == sorted(case["expected"])
    for name, expected in case["expected"].items():
        assert is_near(answers[name], expected), (
            f"{case['id']} {case['title']}: {name} is {answers[name]}, expected {expected}, {case['source']}"
        )


MISTAKES = [
    pytest.param(case, wrong, id=f"{case['id']}-{wrong['mistake']}")
    for case in CASES
    for wrong in case["wrong_answers"]
]


@pytest.mark.parametrize(("case", "wrong"), MISTAKES)
def test_a_common_mistake_would_be_noticed(case: dict[str, Any], wrong: dict[str, Any]) -> None:
    assert not is_near(wrong["value"], case["expected"][wrong["for"]])
    answer = case_calls.run_case(case)[wrong["for"]]
    assert abs(answer - wrong["value"]) > abs(answer - case["expected"][wrong["for"]]["value"])


def test_every_case_has_a_call_and_every_call_a_case() -> None:
    assert sorted(case_calls.CALLS) == sorted(case["id"] for case in CASES)


def test_the_phone_answers_every_case_alike(micropython: MicroPython) -> None:
    source = Path(case_calls.__file__).read_text(encoding="utf-8")
    program = f"""
import json
exec({source!r}, globals())
print(json.dumps([run_case(case) for case in json.loads({json.dumps(CASES)!r})]))
"""
    there = json.loads(micropython.run(program))
    here = [json.loads(json.dumps(case_calls.run_case(case))) for case in CASES]
    found = [
        f"{case['id']} {each}"
        for case, one, other in zip(CASES, here, there, strict=True)
        for each in differences(one, other)
    ]
    assert not found, "\n".join(found)
