"""What a form, the server and an import refuse, in the same words, on both Pythons."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tailslate.day import check, edit, kinds

Door = Callable[[str], str]
CASES = Path(__file__).parent.parent / "cases" / "kinds"
ID = "abcde12345.1.0123456789abcdef"

ALLOWED: list[tuple[str, str, Any]] = [
    ("shot", "title", "Over the Gambler"),
    ("shot", "title", None),
    ("shot", "phase", "rolling"),
    ("shot", "exposure_index", 800),
    ("shot", "t_stop", ["2.8", "T2.8"]),
    ("shot", "planned_roll_time", "23:59"),
    ("level", "distance_m", ["1.93", "6 ft 4 in"]),
    ("level", "source", "key"),
    ("task", "done", False),
    ("task", "done", ["done", []]),
    ("task", "done", ["done", [["layer/l2/gap_m", ["2.7", "2.7 m"]]]]),
    ("task", "relies_on", ["layer/l2/gap_m"]),
    ("task", "department", "grip"),
    ("hold", "on", "source/key"),
    ("person", "departments", ["grip", "electric"]),
    ("source", "present", True),
    ("source", "present", ["removed", [ID]]),
    ("verdict", "says", ["out", "out_of_range", "why"]),
]

OUT: list[tuple[str, str, Any, str, str]] = [
    ("shot", "title", 3, "wrong_type", "title must be text, got 3"),
    ("shot", "title", "x" * 201, "too_long", "title may have at most 200 bytes, this has 201; shorten it"),
    ("shot", "title", "灯" * 67, "too_long", "title may have at most 200 bytes, this has 201; shorten it"),
    ("shot", "exposure_index", True, "wrong_type", "exposure index must be a whole number, got yes"),
    ("shot", "exposure_index", 0, "out_of_range", "exposure index must be from 1 to 409600, got 0"),
    ("level", "distance_m", ["501", "501 m"], "out_of_range",
     "last frame or lamp to the subject must be from 0.05 m to 500 m, got 501 m"),
    ("layer", "transmittance_ratio", ["1.2", "1.2"], "out_of_range",
     "transmittance, typical must be from 0 to 1, got 1.2"),
    ("level", "distance_m", ["1,93", "1,93 m"], "wrong_type",
     'last frame or lamp to the subject must be a decimal number, got "1,93"'),
    ("level", "distance_m", ["1.93\n", "1.93 m"], "wrong_type",
     'last frame or lamp to the subject must be a decimal number, got "1.93\n"'),
    ("shot", "planned_roll_time", "23:59\n", "wrong_type",
     'planned to roll must be a time such as 07:12, got "23:59\n"'),
    ("level", "distance_m", ["NaN", "NaN"], "wrong_type",
     'last frame or lamp to the subject must be a decimal number, got "NaN"'),
    ("level", "distance_m", "1.93", "wrong_type",
     'last frame or lamp to the subject must be a decimal number with what was typed, got "1.93"'),
    ("shot", "phase", "asleep", "not_a_choice",
     'phase must be one of setting, rehearsing, last_looks, rolling, done, got "asleep"'),
    ("shot", "planned_roll_time", "24:00", "wrong_type",
     'planned to roll must be a time such as 07:12, got "24:00"'),
    ("task", "done", True, "wrong_type", "done must be not done, or done for these, got yes"),
    ("task", "done", ["done", [["no cell", 1]]], "wrong_type",
     "done must be done for a list of fields with their values, got a list"),
    ("task", "department", "catering", "not_a_choice",
     "department must be one of grip, electric, camera, art, props, sound, script, "
     'assistant_directors, production, got "catering"'),
    ("hold", "on", "key", "wrong_type", 'on must be a kind and an id, such as source/s-1, got "key"'),
    ("person", "departments", [], "not_a_choice",
     "departments must be one or more of grip, electric, camera, art, props, sound, script, "
     "assistant_directors, production, got a list"),
    ("source", "present", ["removed", ["x"]], "wrong_type",
     "on the day must be yes, or removed with the ids it covers, got a list"),
    ("shot", "colour", "x", "unknown_field", "a shot has no field colour"),
    ("kite", "colour", "x", "unknown_kind", "no kind of record is called kite; update, or choose another"),
]  # fmt: skip


def asked(door: Door, kind: str, field: str, value: Any) -> list[dict[str, str]]:
    answer = json.loads(
        door(json.dumps({"do": "check", "kind": kind, "set": {field: value}}, ensure_ascii=False))
    )
    assert answer["ok"], answer
    reasons: list[dict[str, str]] = answer["reasons"]
    return reasons


@pytest.mark.parametrize(("kind", "field", "value"), ALLOWED)
def test_k2_what_is_within_the_table_is_not_refused(
    kind: str, field: str, value: Any, phone_door: Door
) -> None:
    assert asked(phone_door, kind, field, value) == []


@pytest.mark.parametrize(("kind", "field", "value", "code", "sentence"), OUT)
def test_k2_a_refusal_names_field_value_and_limit_in_the_same_words(
    kind: str, field: str, value: Any, code: str, sentence: str, phone_door: Door
) -> None:
    reasons = asked(phone_door, kind, field, value)
    assert [(reason["code"], reason["sentence"]) for reason in reasons] == [(code, sentence)]


def test_k1_every_field_has_a_rule_a_type_that_is_checked_and_a_label() -> None:
    for kind in kinds.KINDS.values():
        names = [one.name for one in kind.fields]
        assert len(set(names)) == len(names), kind.name
        for one in kind.fields:
            assert edit.NAME.match(one.name)
            assert one.rule in ("plain", "ask", "careful")
            assert one.label
            check.faults(kind.name, {one.name: "x"})  # a type without a check would raise
            if one.rule == "careful":
                assert one.choices or one.type == "tick", f"{kind.name}.{one.name}: careful needs an order"
            if one.type == "reference":
                assert one.kind in kinds.KINDS
        for end in (*kind.ends, *([kind.part_of] if kind.part_of else [])):
            assert kind.field(end) is not None


def test_k1_no_kind_or_field_of_the_first_published_table_has_changed_or_gone() -> None:
    """tests/cases/kinds holds the table as published with each version of the rules; it is never written again."""
    published = json.loads((CASES / "rules_1.json").read_text(encoding="utf-8"))
    for kind, set_name, field, type_name, rule, unit, choices in published:
        now = kinds.field_of(kind, field)
        assert now is not None, f"{kind}.{field} is gone"
        assert kinds.set_of(kind) == set_name
        assert (now.type, now.rule, now.unit) == (type_name, rule, unit), f"{kind}.{field}"
        assert list(now.choices)[: len(choices)] == choices, f"{kind}.{field}: a new choice goes to the end"


def test_k1_a_record_with_two_ends_takes_its_id_from_them() -> None:
    assert kinds.record_id_of_ends("level", {"source": "key", "shot": "12c"}) == "key~12c"


def test_k1_a_form_is_told_that_id(phone_door: Door) -> None:
    ends = {"shot": "12c", "source": "key", "role": "key"}
    assert (
        json.loads(phone_door(json.dumps({"do": "record_id", "kind": "level", "set": ends})))["id"]
        == "key~12c"
    )


@pytest.mark.parametrize(
    ("kind", "changes", "who"),
    [
        ("hold", [["cleared", False, []]], ()),
        ("hold", [["cleared", ["done", []], []]], ("head", "assistant_directors")),
        ("shot", [["takes", 3, []]], ("script", "camera_when_no_script")),
        ("shot", [["title", "Wide", []]], ()),
        ("person", [["name", "Key grip", []]], ("production",)),
        ("kite", [["colour", "red", []]], ()),
    ],
)
def test_k1_only_a_few_acts_are_reserved_and_the_careful_direction_never_is(
    kind: str, changes: list[list[Any]], who: tuple[str, ...]
) -> None:
    assert kinds.reserved_for(kind, changes) == who


def test_k1_who_may_do_a_reserved_act() -> None:
    heads = ("head", "assistant_directors")
    assert kinds.may(heads, departments=["grip"], is_head=True, script_on_day=True)
    assert kinds.may(heads, departments=["assistant_directors"], is_head=False, script_on_day=True)
    assert not kinds.may(heads, departments=["grip"], is_head=False, script_on_day=True)
    continuity = ("script", "camera_when_no_script")
    assert kinds.may(continuity, departments=["camera"], is_head=False, script_on_day=False)
    assert not kinds.may(continuity, departments=["camera"], is_head=False, script_on_day=True)
