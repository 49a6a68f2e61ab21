"""Starting points: every one makes a shot that the rules accept and can work out; nothing is called safe by them."""

from __future__ import annotations

import json
from typing import Any

import pytest

import tables_bundle
from a_day import SHOT, ADay, Door
from people import ASSISTANT_DIRECTOR, CAMERA_ASSISTANT, GAFFER
from seed_data.tables import rows
from tailslate.day import check, kinds, starting_points, what_if
from tailslate.day.gathered import Gathered

SHIPPED = tables_bundle.tables()
NAMES = [one["name"] for one in starting_points.POINTS]
LISTS = [name for name, _title, _tasks in starting_points.LISTS]


@pytest.fixture
def day() -> ADay:
    """An empty scene with one shot, its camera and a face placed."""
    found = ADay()
    found.act(ASSISTANT_DIRECTOR, "scene", "12", number="12", title="Saloon")
    found.act(CAMERA_ASSISTANT, "setup", "wide", title="Wide", scene="12", x_m="0", y_m="-4", lens_mm="35")
    found.act(CAMERA_ASSISTANT, "point", "face", title="the Gambler's face", scene="12", type="face")
    found.act(CAMERA_ASSISTANT, "point", "face", x_m="0", y_m="0", height_m="1.2")
    found.a_shot(setup="wide")
    return found


def started(door: Door, day: ADay, name: str, stem: str = "s") -> list[dict[str, Any]]:
    asked = {"do": "start", "name": name, "shot": SHOT, "stem": stem, "records": day.records}
    answer = json.loads(door(json.dumps({**asked, "tables": SHIPPED}, ensure_ascii=False)))
    assert answer["ok"], answer
    found: list[dict[str, Any]] = answer["acts"]
    return found


@pytest.mark.parametrize("name", NAMES)
def test_every_starting_point_gives_a_shot_with_light_and_cautions(
    phone_door: Door, day: ADay, name: str
) -> None:
    acts = started(phone_door, day, name)
    for act in acts:
        assert check.faults(act["kind"], act["set"]) == []
    tried = what_if.with_acts(day.records, acts)
    asked = {"do": "shot", "shot": SHOT, "records": tried, "complete": True}
    sheet = json.loads(phone_door(json.dumps(asked)))["sheet"]
    if name == "table_bounce":
        assert [one["record"] for one in sheet["rows"]["dressing"]] == ["dressing/s0"]
    else:
        assert [one["point"] for one in sheet["light"]["levels"]]
    for one in sheet["rigging"]:
        assert one["caution"] or any(figure["caution"] for figure in one["figures"])
    point = next(one for one in starting_points.POINTS if one["name"] == name)
    assert point["cautions"]
    for caution in point["cautions"]:
        assert caution.endswith(("decide.", "decides."))
        assert "safe" not in caution.replace("safety", "")


def test_a_soft_side_key_stands_where_trade_words_say(phone_door: Door, day: ADay) -> None:
    acts = {f"{act['kind']}/{act['record']}": act["set"] for act in started(phone_door, day, "soft_side_key")}
    source = next(changes for key, changes in acts.items() if key.startswith("source/"))
    # Camera at (0, -4), face at the origin; 60 degrees round to the camera's left, 1.5 + 1 + 0.6 m away:
    # x = -3.1 sin 60 = -2.68, y = -3.1 cos 60 = -1.55.
    assert [source["x_m"][0], source["y_m"][0]] == ["-2.68", "-1.55"]
    layers = [changes for key, changes in acts.items() if key.startswith("layer/")]
    assert sorted((one["order"], one["title"]) for one in layers) == [
        (1, "Half (light) grid cloth"), (2, "Quarter grid cloth"),
    ]  # fmt: skip
    assert "circuit" not in source
    rig = next(changes for key, changes in acts.items() if key.startswith("rig/"))
    assert "rating_kg" not in rig, "only the plate says it"
    assert starting_points.SIZES in (source["note"], rig["note"])


def test_a_boomed_top_light_is_over_people_and_asks_for_its_safety(phone_door: Door, day: ADay) -> None:
    acts = started(phone_door, day, "top_light")
    tried = what_if.with_acts(day.records, acts)
    asked = {"do": "shot", "shot": SHOT, "records": tried, "complete": True}
    answer = json.loads(phone_door(json.dumps(asked)))
    safety = [row for thing in answer["sheet"]["rows"]["rigs"] for row in thing["rows"]]
    assert [row["field"] for row in safety] == ["safety_on"]
    assert safety[0]["state"] == "open"
    assert answer["readiness"]["state"] == "not_ready"


def test_a_second_start_of_the_same_kind_has_a_name_of_its_own(phone_door: Door, day: ADay) -> None:
    day.records = what_if.with_acts(day.records, started(phone_door, day, "edge", "one"))
    again = started(phone_door, day, "edge", "two")
    assert [act["set"]["title"] for act in again if act["kind"] == "source"] == ["Edge from behind 2"]


def test_without_places_nothing_is_placed_and_a_face_is_made_once(phone_door: Door) -> None:
    day = ADay()
    day.act(ASSISTANT_DIRECTOR, "scene", "12", number="12")
    day.a_shot()
    acts = started(phone_door, day, "soft_side_key")
    assert [act["set"]["title"] for act in acts if act["kind"] == "point"] == ["the face"]
    assert not any("x_m" in act["set"] for act in acts)
    day.records = what_if.with_acts(day.records, acts)
    assert not any(act["kind"] == "point" for act in started(phone_door, day, "edge", "t"))


@pytest.mark.parametrize("name", LISTS)
def test_a_list_is_tasks_of_departments_on_this_shot(phone_door: Door, day: ADay, name: str) -> None:
    acts = started(phone_door, day, name)
    assert {act["kind"] for act in acts} == {"task"}
    for act in acts:
        assert check.faults("task", act["set"]) == []
        assert act["set"]["department"] in kinds.DEPARTMENT_NAMES
        assert act["set"]["shot"] == SHOT


def test_the_production_keeps_a_source_as_its_own_starting_point(phone_door: Door, day: ADay) -> None:
    day.records = what_if.with_acts(day.records, started(phone_door, day, "soft_side_key", "k"))
    source = next(key for key in day.records if key.startswith("source/k")).split("/")[1]
    day.act(GAFFER, "starting_point", "own", title="Our key", source=source, shot=SHOT)
    day.act(ASSISTANT_DIRECTOR, "shot", "12d", number="12D", scene="12")
    asked = {"do": "starting_points", "records": day.records}
    offered = json.loads(phone_door(json.dumps(asked)))["points"]
    assert [one["title"] for one in offered if one["name"] == "starting_point/own"] == ["Our key"]
    [line] = [one["line"] for one in offered if one["name"] == "starting_point/own"]
    assert line == "Your own, as it stands in 12C when it is used: what changes there changes this."
    asked = {"do": "start", "name": "starting_point/own", "shot": "12d", "stem": "n", "tables": {}}
    acts = json.loads(phone_door(json.dumps({**asked, "records": day.records})))["acts"]
    assert [act["kind"] for act in acts].count("layer") == 2
    level = next(act for act in acts if act["kind"] == "level")
    assert (level["set"]["shot"], level["set"]["role"], level["set"]["point"]) == ("12d", "key", "face")


@pytest.mark.parametrize(
    ("what", "table", "row_id", "role", "made"),
    [
        ("lamp", "lamps", "led_point_300", "key", ["source", "level"]),
        ("stand", "stands", "grip_stand_tall", "", ["rig"]),
        ("drink", "beverages", "black_tea", "", ["drink", "ingredient"]),
        ("mark", "", "", "red", ["mark"]),
    ],
)
def test_a_thing_now_is_known_by_its_kind_alone(
    phone_door: Door, day: ADay, what: str, table: str, row_id: str, role: str, made: list[str]
) -> None:
    row = next(one for one in rows(table) if one["id"] == row_id) if table else {"name": "the Gambler"}
    asked = {"do": "now", "what": what, "shot": SHOT, "role": role, "row": row, "stem": "n"}
    answer = json.loads(phone_door(json.dumps({**asked, "records": day.records})))
    assert answer["ok"], answer
    assert [act["kind"] for act in answer["acts"]] == made
    for act in answer["acts"]:
        assert check.faults(act["kind"], act["set"]) == []
        assert not any(field in act["set"] for field in ("distance_m", "circuit", "rating_kg", "load_kg"))
    found = Gathered(what_if.with_acts(day.records, answer["acts"]))
    assert found.of_kind(made[0])
