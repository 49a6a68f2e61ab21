"""The demonstration day: ordinary edits, every state of a shot, the same on both Pythons."""

from __future__ import annotations

import itertools
import json
from collections.abc import Iterator
from typing import Any

import pytest

from a_day import Door
from micropython.interpreter import MicroPython
from people import DAY
from tailslate import demonstration
from tailslate.day import check, edit, kinds, merge, reads, rows, sheet, task_id
from tailslate.day.edit import Edit
from tailslate.day.gathered import Gathered
from tailslate.day.phone_door import call

NOW_MS = 1_764_079_920_000  # 25 November 2025, 14:12 UTC
SETTLED = ("done", "off")
SHOTS = ("12a", "12b", "12c", "12d", "12e", "13a")


def salts() -> Iterator[str]:
    return (f"{number:08d}" for number in itertools.count())


@pytest.fixture(scope="module")
def made() -> list[Edit]:
    return demonstration.edits_of(
        demonstration.plan(), day_id=DAY, incarnation="demo000001", salts=salts(), now_ms=NOW_MS
    )


@pytest.fixture(scope="module")
def records(made: list[Edit]) -> dict[str, Any]:
    """What a phone of the floor holds after it has read them all, whatever their order."""
    words = merge.verdict_words([one for one in made if one.kind == "verdict"])
    floor = [one for one in reversed(made) if one.kind != "verdict" and one.set == "floor"]
    found: dict[str, Any] = {}
    for name, cell in merge.fold(floor, words).items():
        kind, record, field = name.split("/")
        found.setdefault(f"{kind}/{record}", {})[field] = cell
    return found


def asked(shot: str, records: dict[str, Any]) -> str:
    """The question that the engine puts for a shot: with the records that the steps reach, no others."""
    keys = reads.follow([f"shot/{shot}"], reads.SHOT_STEPS, Gathered(records))
    return json.dumps(
        {"do": "shot", "shot": shot, "records": {k: records[k] for k in keys}, "complete": True}
    )


def answers(records: dict[str, Any], door: Door) -> dict[str, Any]:
    return {shot: json.loads(door(asked(shot, records))) for shot in SHOTS}


def test_every_shot_stands_as_the_story_has_it(records: dict[str, Any], phone_door: Door) -> None:
    found = answers(records, phone_door)
    states = {shot: found[shot]["readiness"]["state"] for shot in SHOTS}
    assert states == {
        "12a": "done", "12b": "ready", "12c": "not_ready", "12d": "unknown", "12e": "not_ready", "13a": "not_ready",
    }  # fmt: skip
    first = {shot: [reason["code"] for reason in found[shot]["readiness"]["reasons"]][:1] for shot in SHOTS}
    assert first == {
        "12a": [], "12b": [], "12c": ["again"], "12d": ["key_not_read"], "12e": ["two_answers"], "13a": ["hold"],
    }  # fmt: skip


def test_the_frame_moved_in_asks_the_grips_again(records: dict[str, Any], phone_door: Door) -> None:
    rows = json.loads(phone_door(asked("12c", records)))["sheet"]["rows"]["tasks"]
    flag = next(row for row in rows if row["title"] == "Flag off the near shoulder")
    assert flag["state"] == "again"
    assert (
        flag["changes"][0].replace("\u00a0", " ") == "Muslin fill moved in: 3.2 m, now 2.7 m. Electric 14:08"
    )


def test_double_diffusion_leaves_the_key_of_the_insert_short(
    records: dict[str, Any], phone_door: Door
) -> None:
    levels = json.loads(phone_door(asked("12e", records)))["sheet"]["light"]["levels"]
    key = next(level for level in levels if level["role"] == "key")
    assert (key["kind"], key["stops"]["high"] < -0.5) == ("range", True)


def test_two_answers_wait_the_height_of_a_lamp_and_a_safety_tick(
    records: dict[str, Any], phone_door: Door
) -> None:
    found = json.loads(phone_door(asked("12e", records)))["sheet"]["two_answers"]
    assert [(two["record"], two["field"], two["rule"]) for two in found] == [
        ("source/table-lamp", "height_m", "ask"),
        ("task/12e-sconce", "done", "careful"),
    ]
    assert {answer["department"] for two in found for answer in two["answers"]} == {"grip", "electric"}


def test_the_drinks_on_deck_are_not_cleared(records: dict[str, Any], phone_door: Door) -> None:
    glasses = json.loads(phone_door(asked("13a", records)))["sheet"]["rows"]["glasses"]
    assert {glass["caution"]["code"] for glass in glasses} == {"not_cleared"}


def test_it_holds_what_a_day_holds(records: dict[str, Any], made: list[Edit]) -> None:
    count: dict[str, int] = {}
    for key in records:
        count[key.split("/")[0]] = count.get(key.split("/")[0], 0) + 1
    named = ("shot", "source", "dressing", "drink", "task", "hold", "request", "allergy")
    assert {kind: count.get(kind, 0) for kind in named} == {
        "shot": 6, "source": 8, "dressing": 8, "drink": 6, "task": 104, "hold": 2, "request": 2, "allergy": 0,
    }  # fmt: skip
    of_people = [one for key, one in records.items() if key.startswith("task/") and "title" in one]
    assert len(of_people) == 43
    assert len({one["department"][1][0][1] for one in of_people}) == 7
    assert all(
        task_id.parse(key) for key, one in records.items() if key.startswith("task/") and "title" not in one
    )
    assert {one.kind for one in made if one.set == "health"} == {"allergy", "verdict"}


def test_no_row_stands_twice_and_no_department_has_more_than_seven_open_rows_in_any_shot(
    records: dict[str, Any], phone_door: Door
) -> None:
    found = answers(records, phone_door)
    for shot in SHOTS:
        listed = rows.all_rows(found[shot]["sheet"]["rows"])
        for what in ("title", "record"):
            names = [(row["department"], row[what], row["field"]) for row in listed]
            assert len(names) == len(set(names)), shot
        for department in kinds.DEPARTMENT_NAMES:
            still = [row for row in listed if row["department"] == department and row["state"] not in SETTLED]
            assert len(still) <= 7, (shot, department)


def test_at_most_seven_open_rows_a_department_and_shot_are_shown_also_before_anything_is_done(
    records: dict[str, Any], phone_door: Door
) -> None:
    """As the day stands, and as it was when nobody had ticked anything: what is over seven is folded, none is lost."""
    for day in (records, _unticked(records)):
        found = answers(day, phone_door)
        shots = [{"shot": shot, "sheet": found[shot]["sheet"]} for shot in SHOTS]
        for department in kinds.DEPARTMENT_NAMES:
            question = {"do": "list", "department": department, "shots": shots}
            for group in json.loads(phone_door(json.dumps(question)))["groups"]:
                still = [row for row in group["rows"] if row["state"] not in SETTLED]
                shown = [row for row in still if not row["is_folded"]]
                assert len(shown) <= 7, (group["shot"], department)
                assert sum(one["count"] for one in group["folds"]) == len(still) - len(shown)


def _unticked(records: dict[str, Any]) -> dict[str, Any]:
    return {
        key: {name: cell for name, cell in fields.items() if _type(key, name) != "tick"}
        for key, fields in records.items()
    }


def _type(key: str, name: str) -> str:
    known = kinds.field_of(key.split("/")[0], name)
    return known.type if known else ""


def test_the_board_has_ranges_and_shots_of_which_nobody_can_say_when(
    records: dict[str, Any], phone_door: Door
) -> None:
    found = answers(records, phone_door)
    day = json.loads(phone_door(json.dumps({"do": "day", "records": records, "now_ms": NOW_MS})))["work"]
    works = [found[shot]["work"] for shot in SHOTS]
    question = {"do": "forecast", "shots": works, "day": day, "now_ms": NOW_MS}
    told = json.loads(phone_door(json.dumps(question)))
    forecasts = {one["shot"]: one for one in told["shots"]}
    assert [shot for shot in SHOTS if forecasts[shot]["when"]] == ["12c", "12d"]
    assert [shot for shot in SHOTS if forecasts[shot]["is_open"]] == ["12e", "13a"]
    assert all(forecasts[shot]["planned_ms"] for shot in SHOTS)
    assert forecasts["12c"]["first"]
    assert "Grip is stuck" in forecasts["13a"]["why_none"]
    assert [one["what"] for one in told["hours"]] == ["meal", "rest", "under_age"]
    assert told["wrap"]["odds"] is None


def test_most_of_what_a_shot_asks_follows_from_its_set_up(records: dict[str, Any], phone_door: Door) -> None:
    listed = rows.all_rows(answers(records, phone_door)["12a"]["sheet"]["rows"])
    of_set_up = [row for row in listed if row["derived"]]
    assert len(of_set_up) > 3 * (len(listed) - len(of_set_up))
    assert all(row["derived"]["template"] and row["derived"]["from"] for row in of_set_up)


def test_every_edit_is_well_formed_within_the_table_and_in_the_past(made: list[Edit]) -> None:
    for one in made:
        assert edit.read(one.text, day=DAY).id == one.id
        assert check.faults(one.kind, {field: value for field, value, _seen in one.changes}) == []
        assert one.at_ms < NOW_MS
        assert one.how == ("server" if not one.by else "demo")
    for set_name in edit.SETS:
        assert [one.counter for one in made if one.set == set_name] == list(
            range(1, sum(one.set == set_name for one in made) + 1)
        )


def test_people_are_named_by_their_role_alone() -> None:
    people = demonstration.plan()["people"]
    assert [one["name"] for one in people] == [one["role"] for one in people]


def test_what_the_steps_reach_is_all_that_a_sheet_reads(records: dict[str, Any]) -> None:
    for shot in SHOTS:
        few = json.loads(asked(shot, records))["records"]
        assert len(few) < len(records)
        from_few = sheet.of_shot(shot, sheet.gather(shot, few))
        from_all = sheet.of_shot(shot, sheet.gather(shot, records))
        assert {**from_few, "reads": []} == {**from_all, "reads": []}


def test_a_sheet_reads_of_cells_no_more_than_the_phone_sends(
    records: dict[str, Any], phone_door: Door
) -> None:
    """pwa/src/engine/gather.ts leaves out of a cell what is gone and absent, and what does not count where nothing is."""
    for shot in SHOTS:
        question = json.loads(asked(shot, records))
        for fields in question["records"].values():
            for field, cell in fields.items():
                fields[field] = cell if cell[merge.OFF] else cell[:2]
        assert json.loads(phone_door(json.dumps(question))) == json.loads(phone_door(asked(shot, records)))


def test_both_pythons_give_the_same_words_states_and_rows(
    records: dict[str, Any], micropython: MicroPython
) -> None:
    here, there = answers(records, call), answers(records, micropython.call)
    assert _without_figures(here) == _without_figures(there)
    for mine, theirs in zip(_figures(here), _figures(there), strict=True):
        assert mine == pytest.approx(theirs, rel=1e-9, abs=1e-12)


def _without_figures(part: Any) -> Any:
    if isinstance(part, dict):
        return {key: _without_figures(part[key]) for key in sorted(part)}
    if isinstance(part, list):
        return [_without_figures(one) for one in part]
    return "a figure" if isinstance(part, float) else part


def _figures(part: Any) -> list[float]:
    if isinstance(part, dict):
        return [figure for key in sorted(part) for figure in _figures(part[key])]
    if isinstance(part, list):
        return [figure for one in part for figure in _figures(one)]
    return [part] if isinstance(part, float) else []
