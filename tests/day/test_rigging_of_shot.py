"""The rigs of a shot on its sheet, on both Pythons. Figures are published or worked by hand, with their source."""

from __future__ import annotations

from typing import Any

import pytest

from a_day import ADay, Door
from people import ASSISTANT_DIRECTOR, GAFFER, GRIP, KEY_GRIP
from things_of_a_shot import SAFE, Figure, a_shot_in, asked_for, by_label, part, thing

# Sandbag on a stand, by moments about the line between two feet (statics): stand 8 kg, legs 0.55 m, load 6 kg.
STAND = {"source": "key", "stand_kg": "8 kg", "leg_radius_m": "0.55 m", "legs": 3, "overhead": "no"}
OUT = {**STAND, "load_kg": "6 kg", "offset_m": "0.9 m"}
BOOM = {
    **STAND,
    "load_kg": "4.5 kg",
    "load_arm_m": "1.6 m",
    "boom_kg": "3 kg",
    "boom_centre_m": "0.35 m",
    "weight_arm_m": "0.8 m",
}


def rig(door: Door, day: ADay | None = None, **fields: Any) -> dict[str, Figure]:
    found = day or a_shot_in()
    found.act(KEY_GRIP, "rig", "stand", **fields)
    return by_label(thing(part(found, door, "rigging"), "rig/stand"))


def test_a_boom_is_balanced_with_its_own_weight(phone_door: Door) -> None:
    """(4.5 x 1.6 + 3 x 0.35) / 0.8 = 10.3125 kg, 17.8125 kg on the stand: moment balance, worked by hand."""
    found = rig(phone_door, **BOOM, rating_kg="17 kg")
    assert found["Counterweight"]["value"] == pytest.approx(10.3125, rel=1e-9)
    assert found["Counterweight"]["state"] == "plain"
    assert found["Load on the stand"]["value"] == pytest.approx(17.8125, rel=1e-9)
    assert found["Load on the stand"]["state"] == "over"


def test_a_counterweight_that_is_off_speaks_against_it(phone_door: Door) -> None:
    assert rig(phone_door, **BOOM, counterweight_kg="7 kg")["Counterweight"]["state"] == "over"
    assert rig(phone_door, **BOOM, counterweight_kg="10.5 kg")["Counterweight"]["state"] == SAFE


def test_bags_of_a_boom_hold_the_worse_of_lamp_or_weight_taken_off(phone_door: Door) -> None:
    """By hand, r = 0.55 / 2: lamp side (4.5 x 1.6 + 3 x 0.35 - 7.5 r) 1.5 - 8 r = 7.08125 kg m, back side
    (10.3125 x 0.8 - 3 x 0.35 - 13.3125 r) 1.5 - 8 r = 3.11 kg m; the larger over r is 25.75 kg: three of 10 kg."""
    found = rig(phone_door, **BOOM, bag_kg="10 kg")["Bags"]
    assert found["value"] == 3
    assert found["line"].startswith("25.8 kg by the sum")


@pytest.mark.parametrize(
    ("bags", "state", "words"),
    [(None, "plain", "2 bags of 7 kg"), (1, "over", "2 bags of 7 kg"), (2, SAFE, "2 bags of 7 kg")],
)
def test_bags_for_a_load_out_from_the_column(
    bags: int | None, state: str, words: str, phone_door: Door
) -> None:
    """(1.5 x 6 x (0.9 - 0.275) - 8 x 0.275) / 0.275 = 12.4545 kg: moments, safety factor 1.5 common practice."""
    found = rig(phone_door, **OUT, bag_kg="7 kg", **({} if bags is None else {"bags": bags}))["Bags"]
    assert (found["state"], found["shown"]) == (state, words)
    assert "12.5 kg by the sum" in found["line"]


def test_a_load_inside_the_base_still_gets_a_bag(phone_door: Door) -> None:
    """6 kg at 0.20 m lies inside r = 0.275 m: the sum asks for none, one is hung all the same (common practice)."""
    found = rig(phone_door, **{**OUT, "offset_m": "0.2 m"}, bag_kg="12.5 kg", bags=0)["Bags"]
    assert (found["value"], found["state"]) == (1, "over")


def test_a_part_without_a_rating_has_no_answer(phone_door: Door) -> None:
    found = rig(phone_door, **OUT, bag_kg="7 kg", bags=4)
    assert found["Load on the stand"]["state"] == "unknown"
    assert asked_for(found["Load on the stand"]) == [("rig/stand", "rating_kg")]
    assert asked_for(found["Holding moment"]) == [("rig/stand", "holding_rating_nm")]
    rated = rig(phone_door, **OUT, rating_kg="6 kg", holding_rating_nm="52 Nm")
    assert rated["Load on the stand"]["state"] == SAFE  # at the rating is not over it
    assert rated["Holding moment"]["state"] == "over"


def test_the_holding_moment_is_weight_times_arm(phone_door: Door) -> None:
    """6 kg x 9.80665 m/s2 x 0.9 m = 52.95591 N m, by hand."""
    found = rig(phone_door, **OUT, holding_rating_nm="60 Nm")["Holding moment"]
    assert (found["state"], found["shown"]) == (SAFE, "53 Nm")
    assert found["value"] == pytest.approx(52.95591, rel=1e-9)


def test_what_hangs_over_people_needs_a_safety_until_it_is_ticked_for_this_load(phone_door: Door) -> None:
    """18 kg at a design factor of 10 (DGUV Regulation 17, EN 17206): 1.7652 kN with standard gravity."""
    day = a_shot_in()
    over = {**OUT, "load_kg": "18 kg", "overhead": "yes"}
    found = rig(phone_door, day, **over)["Safety"]
    assert (found["state"], found["shown"]) == ("unknown", "breaks at 1.77 kN or more")
    assert asked_for(found) == [("rig/stand", "safety_on")]
    day.tick(GRIP, "rig", "stand", "safety_on")
    assert by_label(thing(part(day, phone_door, "rigging"), "rig/stand"))["Safety"]["state"] == "plain"
    day.act(KEY_GRIP, "rig", "stand", load_kg="22 kg")
    assert by_label(thing(part(day, phone_door, "rigging"), "rig/stand"))["Safety"]["state"] == "unknown"


@pytest.mark.parametrize("said", [{}, {"overhead": "unknown"}])
def test_nobody_said_whether_it_is_over_people_then_it_is(said: dict[str, str], phone_door: Door) -> None:
    fields = {name: value for name, value in OUT.items() if name != "overhead"}
    assert rig(phone_door, **fields, **said)["Safety"]["state"] == "unknown"
    assert "Safety" not in rig(phone_door, **OUT)


def a_frame(day: ADay, **changes: Any) -> None:
    day.a_layer("grid", centre_height_m="2.4 m", **changes)


IN_WIND = {**STAND, "stand_kg": "5 kg", "load_kg": "4 kg", "offset_m": "0 m", "bag_kg": "15 kg", "bags": 1}


def test_a_frame_outdoors_tips_at_the_published_wind(phone_door: Door) -> None:
    """4 by 4 ft, 2.4 m up, 24 kg in all, legs 0.55 m, Cf 1.8, air 1.25 kg/m3 (EN 1991-1-4, 4.10 and 7.4.3), safety
    factor 1.5: 3.27947 m/s with g 9.81; standard gravity gives 0.02 % less."""
    day = a_shot_in("exterior")
    a_frame(day, rig="stand")
    found = rig(phone_door, day, **IN_WIND)
    assert found["Tips in gusts"]["value"] == pytest.approx(3.279472593, rel=5e-4)
    assert found["Tips in gusts"]["shown"] == "of 3.2 m/s"  # a limit is rounded down


def test_no_frame_stands_outdoors_without_a_limit_a_reading_and_a_person(phone_door: Door) -> None:
    day = a_shot_in("exterior")
    a_frame(day, rig="stand")
    found = rig(phone_door, day, **IN_WIND)
    for label, field in (("Wind limit", "gust_limit_m_s"), ("Gusts", "gust_m_s"), ("Struck by", "strikes")):
        assert found[label]["state"] == "unknown"
        assert ("rig/stand", field) in asked_for(found[label])
    assert rig(phone_door, day, gust_limit_m_s="4 m/s")["Wind limit"]["state"] == "over"
    calm = rig(phone_door, day, gust_limit_m_s="3 m/s", gust_m_s="1 m/s", strikes="Milo")
    assert (calm["Wind limit"]["state"], calm["Gusts"]["state"]) == (SAFE, SAFE)
    gusty = rig(phone_door, day, gust_m_s="3 m/s")["Gusts"]
    assert gusty["state"] == "over"
    assert gusty["line"].endswith("strike it")


def test_only_a_scene_inside_is_out_of_the_wind(phone_door: Door) -> None:
    for inside, is_windy in (("interior", False), ("exterior", True)):
        day = a_shot_in(inside)
        a_frame(day, rig="stand")
        assert ("Tips in gusts" in rig(phone_door, day, **IN_WIND)) == is_windy
    day = a_shot_in()
    day.act(ASSISTANT_DIRECTOR, "scene", "12", inside=None)
    a_frame(day, rig="stand")
    assert "Tips in gusts" in rig(phone_door, day, **IN_WIND)


@pytest.mark.parametrize(
    ("layer", "words"),
    [
        ({"on_lines": "yes", "rig": "stand"}, "a competent person plans its lines"),
        ({}, "nobody has said which stand holds it"),
    ],
)
def test_a_frame_on_lines_or_held_by_nothing_has_no_number(
    layer: dict[str, str], words: str, phone_door: Door
) -> None:
    day = a_shot_in("exterior")
    a_frame(day, **layer)
    day.act(KEY_GRIP, "rig", "stand", **IN_WIND)
    found = thing(part(day, phone_door, "rigging"), "layer/grid")
    figure = by_label(found)["Tips in gusts"]
    assert (figure["state"], figure["shown"], figure["value"]) == ("unknown", "no number", None)
    assert words in figure["line"]
    assert found["caution"]["code"] == "wind"


def test_a_large_frame_on_a_stand_has_no_number(phone_door: Door) -> None:
    """8 by 8 ft is 5.9 m2: over about 6 by 6 ft a competent person plans it (common practice)."""
    day = a_shot_in("exterior")
    a_frame(day, rig="stand", width_m="8 ft", height_m="8 ft")
    figure = rig(phone_door, day, **IN_WIND)["Tips in gusts"]
    assert (figure["state"], figure["value"]) == ("unknown", None)
    assert "competent person" in figure["line"]


def test_f1_with_nothing_filled_in_nothing_is_within_and_every_figure_asks(phone_door: Door) -> None:
    day = a_shot_in("exterior")
    a_frame(day, rig="stand")
    for figure in rig(phone_door, day, source="key").values():
        assert figure["state"] == "unknown", figure
        assert figure["missing"], figure
        assert figure["caution"]["sentence"].endswith(("decides.", "decide.")), figure


def test_f4_a_load_with_two_answers_is_not_known(phone_door: Door) -> None:
    day = a_shot_in()
    day.act(KEY_GRIP, "rig", "stand", **OUT, bag_kg="7 kg", bags=4, rating_kg="20 kg")
    day.act(GAFFER, "rig", "stand", load_kg="14 kg", alone=True)
    found = by_label(thing(part(day, phone_door, "rigging"), "rig/stand"))
    for label in ("Bags", "Load on the stand", "Holding moment"):
        assert found[label]["state"] == "unknown"
        assert "two answers" in found[label]["missing"][0]["sentence"]


def test_a_value_that_no_rule_accepts_is_not_known(phone_door: Door) -> None:
    """An edit of a newer version may hold what these rules refuse: two legs make no stand."""
    found = rig(phone_door, **{**OUT, "legs": 2}, bag_kg="7 kg", bags=9)["Bags"]
    assert found["state"] == "unknown"
    assert "legs" in found["line"]
