"""Art swaps what lies on the table; the grip's shot says what that did to the fill. On both Pythons, worked by hand."""

from __future__ import annotations

import copy
import json
from typing import Any

import pytest

from a_day import FACE, SHOT, ADay, Door, a_ready_day
from people import ART_DIRECTOR, DAY, GAFFER, KEY_GRIP


@pytest.fixture
def day() -> ADay:
    """A 0.9 by 1.5 m white cloth, its near edge 0.15 m before the face and 0.45 m below it; key read at 400 lx."""
    found = a_ready_day()
    found.remove(GAFFER, "reading/r-1")
    found.act(
        ART_DIRECTOR, "dressing", "cloth", title="White cloth", scene="12", reflectance_ratio="0.8",
        width_m="1.5 m", depth_m="0.9 m", base_height_m="0.75 m", flame_retardant="yes", material="white cotton",
    )  # fmt: skip
    serves = {"dressing": "cloth", "shot": SHOT, "use": "bounce", "point": FACE}
    found.act(ART_DIRECTOR, "serves", f"cloth~{SHOT}", **serves, near_m="0.15 m")
    found.act(GAFFER, "point", FACE, height_m="1.2 m")
    found.act(GAFFER, "point", "table", title="the table", scene="12", type="table")
    found.read("k", "400 lx")
    found.read("t", "320 lx", role="all", point="table")
    return found


def light(day: ADay, door: Door) -> dict[str, Any]:
    found: dict[str, Any] = day.ask(door)["sheet"]["light"]
    return found


def change(day: ADay, door: Door) -> dict[str, Any]:
    [found] = light(day, door)["changes"]
    return dict(found)


def darker(day: ADay, **more: Any) -> None:
    day.act(ART_DIRECTOR, "dressing", "cloth", material="dark velvet", reflectance_ratio="0.2", **more)


def test_the_near_edge_alone_places_the_cloth(day: ADay, phone_door: Door) -> None:
    """F = 0.2312 (Howell, Catalogue of Configuration Factors, element to perpendicular rectangle; by quadrature and
    Monte Carlo), 0.8 * 320 * F = 59.187 lx, (400 + 59.187) / 59.187 = 7.758 : 1."""
    found = light(day, phone_door)
    fill = next(one for one in found["levels"] if one["role"] == "fill")
    assert fill["lux"]["low"] == pytest.approx(59.18722, rel=1e-5)
    assert found["key_to_fill"]["low"] == pytest.approx(7.758215789, rel=1e-4)
    [bounce] = found["bounces"]
    assert (bounce["title"], bounce["lifts"], bounce["share"]["ratio"]) == (
        "White cloth",
        "the Gambler's face",
        1.0,
    )
    assert bounce["line"].startswith("by the light at the table, read ")


def test_what_plates_cover_is_left_out(day: ADay, phone_door: Door) -> None:
    day.act(ART_DIRECTOR, "serves", f"cloth~{SHOT}", covered_ratio="0.25")
    fill = day.levels(phone_door)["fill"]
    assert fill["lux"]["low"] == pytest.approx(0.75 * 59.18722, rel=1e-5)


def test_a_card_that_stands_bounces_from_its_front(day: ADay, phone_door: Door) -> None:
    """L = r E / pi, and a 4 by 4 ft rectangle of 1000 cd/m2 gives 330.85 lx at 2 m (closed form and quadrature; Howell)."""
    size = {"width_m": "4 ft", "tall_m": "4 ft", "base_height_m": "0.5904 m", "depth_m": None}
    day.act(ART_DIRECTOR, "dressing", "cloth", **size, reflectance_ratio="1")
    day.act(ART_DIRECTOR, "serves", f"cloth~{SHOT}", bounces_from="front", near_m="2 m")
    fill = day.levels(phone_door)["fill"]
    assert fill["lux"]["low"] == pytest.approx(330.8517617 * 320.0 / 3141.592654, rel=1e-6)


def test_the_light_on_it_is_that_of_the_point_that_is_said(day: ADay, phone_door: Door) -> None:
    day.act(GAFFER, "point", "bar", title="the bar", scene="12", type="other")
    day.read("b", "160 lx", role="all", point="bar")
    day.act(ART_DIRECTOR, "serves", f"cloth~{SHOT}", lit_at="bar")
    assert day.levels(phone_door)["fill"]["lux"]["low"] == pytest.approx(59.18722 / 2.0, rel=1e-5)


def test_a_table_that_nobody_read_has_the_light_of_what_is_aimed_at_it(day: ADay, phone_door: Door) -> None:
    """By hand: 1280 cd at 2 m is 320 lx."""
    day.remove(GAFFER, "reading/t")
    day.a_source("lantern", role="practical", intensity_cd="1280 cd")
    day.act(GAFFER, "level", f"lantern~{SHOT}", point="table")
    found = light(day, phone_door)
    fill = next(one for one in found["levels"] if one["role"] == "fill")
    assert fill["lux"]["low"] == pytest.approx(59.18722, rel=1e-5)
    assert "worked out: lay the meter on it" in found["bounces"][0]["line"]


# Another cloth


def test_a_dark_cloth_says_the_stops_of_fill_lost_and_the_new_contrast(day: ADay, phone_door: Door) -> None:
    """By hand: 0.8 to 0.2 is two stops; (400 + 59.2) / 59.2 = 7.8 : 1, (400 + 14.8) / 14.8 = 28 : 1."""
    day.read("f", "59.2 lx", role="fill")
    assert light(day, phone_door)["changes"] == []
    darker(day)
    found = change(day, phone_door)
    assert found["stops"]["shown"] == "down 2.0 stops"
    assert found["stops"]["low"] == pytest.approx(-2.0, abs=1e-9)
    assert (found["was_ratio"], found["now_ratio"]) == ("7.8 : 1", "28 : 1")
    assert found["sentence"].startswith("Fill, the Gambler's face: down 2.0 stops since it was read ")
    assert found["sentence"].endswith("Key to fill was 7.8 : 1, now 28 : 1")
    assert found["because"][0].startswith("White cloth, ")
    assert "Art" in found["because"][0]
    contrast = light(day, phone_door)["key_to_fill"]
    assert (contrast["was"], contrast["shown"]) == ("7.8 : 1", "28 : 1")
    day.read("f2", "15 lx", role="fill")
    assert light(day, phone_door)["changes"] == []


def test_the_grips_shot_says_it_once_the_edit_has_come_over(day: ADay, phone_door: Door) -> None:
    """Two phones with the same day; the grip's hears of the cloth by exchange alone."""
    day.read("f", "59.2 lx", role="fill")
    grips = copy.deepcopy(day)
    edit = day.act(ART_DIRECTOR, "dressing", "cloth", material="dark velvet", reflectance_ratio="0.2")
    assert light(grips, phone_door)["changes"] == []
    cells = {
        f"{key}/{field}": cell for key, fields in grips.records.items() for field, cell in fields.items()
    }
    asked = {"do": "merge", "day": DAY, "set": "floor", "items": [edit.text], "cells": cells}
    for name, cell in json.loads(phone_door(json.dumps(asked)))["cells"].items():
        key, field = name.rsplit("/", 1)
        grips.records[key][field] = cell
    found = change(grips, phone_door)
    assert (found["stops"]["shown"], found["was_ratio"], found["now_ratio"]) == (
        "down 2.0 stops",
        "7.8 : 1",
        "28 : 1",
    )
    assert grips.levels(phone_door)["fill"]["kind"] == "range"
    assert not grips.levels(phone_door)["fill"]["fresh"]


def test_readings_alone_are_enough_no_place_and_no_size(phone_door: Door) -> None:
    """By hand: fill read at 60 lx from the cloth alone, now a quarter: 15 lx; (400 + 15) / 15 = 28 : 1."""
    day = a_ready_day()
    day.remove(GAFFER, "reading/r-1")
    day.act(ART_DIRECTOR, "dressing", "cloth", title="White cloth", reflectance_ratio="0.8")
    day.act(ART_DIRECTOR, "serves", f"cloth~{SHOT}", dressing="cloth", shot=SHOT, use="bounce", point=FACE)
    day.read("k", "400 lx")
    day.read("f", "60 lx", role="fill")
    darker(day)
    found = change(day, phone_door)
    assert (found["stops"]["shown"], found["now_ratio"]) == ("down 2.0 stops", "28 : 1")
    assert day.levels(phone_door)["fill"]["lux"]["low"] == pytest.approx(15.0, rel=1e-9)


def test_two_cloths_known_as_ranges_differ_by_a_range(day: ADay, phone_door: Door) -> None:
    """By hand: 0.6 to 0.75 against 0.15 to 0.28: log2(0.15 / 0.75) = -2.32 to log2(0.28 / 0.6) = -1.10."""
    day.act(
        ART_DIRECTOR, "dressing", "cloth", reflectance_low_ratio="0.6", reflectance_ratio="0.68",
        reflectance_high_ratio="0.75",
    )  # fmt: skip
    day.read("f", "46 lx", role="fill")
    darker(day, reflectance_low_ratio="0.15", reflectance_high_ratio="0.28")
    found = change(day, phone_door)
    assert found["stops"]["shown"] == "down 1.1 to 2.3 stops"
    assert found["stops"]["low"] == pytest.approx(-2.321928095, abs=1e-8)
    assert found["stops"]["high"] == pytest.approx(-1.099535674, abs=1e-8)


def test_a_lamp_in_the_fill_keeps_its_share(day: ADay, phone_door: Door) -> None:
    """By hand: 60 lx from a lamp and 59.187 from the cloth; the cloth's quarter leaves 60 + 14.797 = 74.797 of 119.187."""
    day.a_source("fill", role="fill", intensity_cd="240 cd")
    day.read("f", "119.187 lx", role="fill")
    darker(day)
    fill = day.levels(phone_door)["fill"]
    assert fill["lux"]["low"] == pytest.approx(74.7968, rel=1e-4)
    assert change(day, phone_door)["stops"]["shown"] == "down 0.7 stops"


def test_of_a_lamp_that_nobody_knows_the_change_is_what_it_may_be(day: ADay, phone_door: Door) -> None:
    """By hand: the cloth gives 59.187 of the 119.187 lx read; the lamp, unknown and unmoved, the rest."""
    day.a_source("fill", role="fill", intensity_cd=None)
    day.read("f", "119.187 lx", role="fill")
    darker(day)
    assert day.levels(phone_door)["fill"]["lux"]["low"] == pytest.approx(74.7968, rel=1e-4)


def test_what_the_dressing_did_is_told_apart_from_what_a_lamp_did(day: ADay, phone_door: Door) -> None:
    """By hand: the lamp from 60 to 240 lx, the cloth from 59.187 to 14.797: 254.797 / 119.187 = +1.1 stops; the cloth
    alone 74.797 / 119.187 = -0.7."""
    day.a_source("fill", role="fill", intensity_cd="240 cd")
    day.read("f", "119.187 lx", role="fill")
    darker(day)
    day.act(GAFFER, "level", f"fill~{SHOT}", distance_m="1 m")
    found = change(day, phone_door)
    assert (found["stops"]["shown"], found["of_dressing"]["shown"]) == ("up 1.1 stops", "down 0.7 stops")
    assert ", the dressing alone down 0.7 stops. " in found["sentence"]


def test_another_piece_in_place_of_the_first_is_the_same_change(day: ADay, phone_door: Door) -> None:
    day.read("f", "59.2 lx", role="fill")
    day.act(
        ART_DIRECTOR, "dressing", "chart", title="Dark chart", scene="12", reflectance_ratio="0.2",
        width_m="1.5 m", depth_m="0.9 m", base_height_m="0.75 m",
    )  # fmt: skip
    serves = {"dressing": "chart", "shot": SHOT, "use": "bounce", "point": FACE, "near_m": "0.15 m"}
    day.act(ART_DIRECTOR, "serves", f"chart~{SHOT}", **serves)
    day.remove(ART_DIRECTOR, "dressing/cloth")
    found = change(day, phone_door)
    assert (found["stops"]["shown"], found["now_ratio"]) == ("down 2.0 stops", "28 : 1")
    assert "White cloth is no longer on the day" in " ".join(found["because"])


def test_a_cloth_taken_away_leaves_nothing(day: ADay, phone_door: Door) -> None:
    day.read("f", "59.2 lx", role="fill")
    day.remove(ART_DIRECTOR, f"serves/cloth~{SHOT}")
    found = change(day, phone_door)
    assert found["stops"] is None
    assert "nothing left of it" in found["sentence"]


# Nobody read the fill: ticks remember


def test_a_tick_remembers_the_cloth_that_it_was_ticked_for(day: ADay, phone_door: Door) -> None:
    day.tick(ART_DIRECTOR, "dressing", "cloth", "in_place")
    assert light(day, phone_door)["changes"] == []
    darker(day)
    found = change(day, phone_door)
    assert found["stops"]["shown"] == "down 2.0 stops"
    assert (found["was_ratio"], found["now_ratio"]) == ("7.8 : 1", "28 : 1")
    assert "since it was ticked " in found["sentence"]


def test_a_grips_tick_that_relied_on_the_cloth_remembers_it_too(day: ADay, phone_door: Door) -> None:
    day.a_task("keep", title="Keep the white cloth", relies_on=["dressing/cloth/reflectance_ratio"])
    day.tick(KEY_GRIP, "task", "keep")
    darker(day)
    assert change(day, phone_door)["stops"]["shown"] == "down 2.0 stops"
    row = day.row(phone_door, "Keep the white cloth")
    assert row["state"] == "again"


def test_stops_are_told_where_no_level_is_known(day: ADay, phone_door: Door) -> None:
    day.tick(ART_DIRECTOR, "dressing", "cloth", "in_place")
    day.act(GAFFER, "point", FACE, height_m=None)
    darker(day)
    found = change(day, phone_door)
    assert (found["stops"]["shown"], found["was_ratio"]) == ("down 2.0 stops", "")


def test_what_nobody_measured_and_nobody_read_is_told_as_all_that_it_may_be(
    day: ADay, phone_door: Door
) -> None:
    """By hand: a lamp beside it may give nothing of the fill or all of it: 0.8 to 0.2 takes nothing to two stops."""
    day.a_source("fill", role="fill", intensity_cd="240 cd")
    day.tick(ART_DIRECTOR, "dressing", "cloth", "in_place")
    day.act(GAFFER, "point", FACE, height_m=None)
    darker(day)
    found = change(day, phone_door)
    assert (found["stops"]["shown"], found["was_ratio"]) == ("down 0.0 to 2.0 stops", "")


def test_a_change_that_no_meter_shows_is_none(day: ADay, phone_door: Door) -> None:
    day.read("f", "59.2 lx", role="fill")
    day.act(ART_DIRECTOR, "dressing", "cloth", reflectance_ratio="0.795")
    assert light(day, phone_door)["changes"] == []
