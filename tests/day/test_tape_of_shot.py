"""The tape of a shot on its sheet, on both Pythons. Lengths are worked by hand, with their source."""

from __future__ import annotations

from typing import Any

import pytest

from a_day import SHOT, ADay, Door
from people import CAMERA_ASSISTANT, GAFFER, KEY_GRIP
from things_of_a_shot import SAFE, Figure, a_shot_in, asked_for, by_label, part, plain, thing


def a_job(door: Door, **fields: Any) -> dict[str, Figure]:
    day = a_shot_in()
    day.act(KEY_GRIP, "taping", "job", title="Job", shot=SHOT, **fields)
    return by_label(thing(part(day, door, "tape")["jobs"], "taping/job"))


def marks(count: int, **fields: Any) -> ADay:
    day = a_shot_in()
    for place in range(count):
        day.act(CAMERA_ASSISTANT, "mark", f"m-{place}", title="Mark", shot=SHOT, **fields)
    return day


def test_marks_have_a_bar_a_stem_and_a_tenth_of_waste(phone_door: Door) -> None:
    """12 marks x (150 + 150) mm x 1.1 = 3.96 m, by hand."""
    found = by_label(part(marks(12, bar_m="150 mm", stem_m="150 mm"), phone_door, "tape")["jobs"][0])["Marks"]
    assert found["value"] == pytest.approx(3.96, rel=1e-9)
    assert found["shown"] == "3.96 m"
    usual = by_label(part(marks(12), phone_door, "tape")["jobs"][0])["Marks"]
    assert usual["value"] == pytest.approx(3.96, rel=1e-9)
    assert usual["line"].endswith("15 cm where nobody said otherwise")


def test_a_run_has_a_cross_strip_at_each_end_too(phone_door: Door) -> None:
    """18 m, a strip of 150 mm each 1.5 m: 13 strips, not 12: 19.95 m, by hand."""
    found = a_job(phone_door, type="run", length_m="18 m", pitch_m="1.5 m", strip_m="150 mm")["Tape"]
    assert found["value"] == pytest.approx(19.95, rel=1e-9)
    assert found["line"] == "along its whole length, 13 cross strips"
    usual = a_job(phone_door, type="run", length_m="18 m")["Tape"]
    assert usual["value"] == pytest.approx(19.95, rel=1e-9)
    assert usual["line"].endswith("usual: pitch 1.5 m, strip 0.15 m")


def test_an_edge_is_wrapped_all_round(phone_door: Door) -> None:
    """2 layers x (2 x (0.9 + 1.5) + 0.04) m = 9.68 m, by hand."""
    panel = {"type": "edge", "width_m": "0.9 m", "height_m": "1.5 m", "layers": 2, "overlap_m": "40 mm"}
    assert a_job(phone_door, **panel)["Tape"]["value"] == pytest.approx(9.68, rel=1e-9)


def test_a_tube_is_wound_with_half_a_turn_on_the_last(phone_door: Door) -> None:
    """pi x 35 mm x 0.6 m / (48 mm x 0.5) = 2.74889 m, unrolled cylinder."""
    tube = {
        "type": "tube",
        "diameter_m": "35 mm",
        "length_m": "0.6 m",
        "tape_width_m": "48 mm",
        "overlap_ratio": "0.5",
    }
    assert a_job(phone_door, **tube)["Tape"]["value"] == pytest.approx(2.748893572, rel=1e-9)


def test_what_is_not_filled_in_is_asked_for(phone_door: Door) -> None:
    assert asked_for(a_job(phone_door)["Tape"]) == [("taping/job", "type")]
    tube = a_job(phone_door, type="tube", diameter_m="35 mm", length_m="0.6 m")["Tape"]
    assert (tube["state"], asked_for(tube)) == ("unknown", [("taping/job", "tape_width_m")])


@pytest.mark.parametrize(
    ("bump", "state", "words"),
    [
        ("6 mm", "plain", "6 mm low enough to lie flush"),
        ("9 mm", "over", "9 mm needs a bevelled edge, one in two"),
        ("20 mm", "over", "20 mm needs a ramp or a mat"),
    ],
)
def test_a_bump_that_people_walk_over(bump: str, state: str, words: str, phone_door: Door) -> None:
    """Up to 6.4 mm flush, to 13 mm bevelled 1:2, more a ramp (ADA Standards 2010, 303, from memory)."""
    found = a_job(phone_door, type="run", length_m="4 m", crosses_walkway="yes", bump_m=bump)["Walkway"]
    assert (found["state"], found["shown"], found["caution"]["code"]) == (state, words, "hot_cable")


def test_nobody_said_whether_people_walk_over_it_then_it_is_not_known(phone_door: Door) -> None:
    for said in ({}, {"crosses_walkway": "unknown"}, {"crosses_walkway": "yes"}):
        assert a_job(phone_door, type="run", length_m="4 m", **said)["Walkway"]["state"] == "unknown"
    found = a_job(phone_door, type="run", length_m="4 m", crosses_walkway="no")["Walkway"]
    assert found["state"] == "plain"
    ramp = {"crosses_walkway": "yes", "bump_m": "20 mm", "ramp_laid": "yes"}
    found = a_job(phone_door, type="run", length_m="4 m", **ramp)["Walkway"]
    assert (found["state"], found["shown"]) == ("plain", "ramp or mat over it")


def test_tape_is_counted_in_rolls_of_a_stated_length(phone_door: Door) -> None:
    """55 yd are 50.292 m (1 yd = 0.9144 m exactly): 18 m run and 35 m run, 19.95 + 38.75 m, take two such rolls."""
    day = a_shot_in()
    day.act(KEY_GRIP, "kit", "cloth", title="Cloth tape", count=1, roll_m="55 yd")
    for place, length in enumerate(("18 m", "35 m")):
        day.act(
            GAFFER,
            "taping",
            f"run-{place}",
            title="Run",
            shot=SHOT,
            type="run",
            length_m=length,
            roll="cloth",
        )
    roll = thing(part(day, phone_door, "tape")["rolls"], "kit/cloth")
    assert roll["figure"]["value"] == 2
    assert (roll["figure"]["state"], roll["figure"]["shown"]) == ("over", "2 rolls")
    assert plain(roll["figure"]["line"]) == "1 there; 58.7 m, rolls of 50.292 m"
    day.act(KEY_GRIP, "kit", "cloth", count=2)
    assert thing(part(day, phone_door, "tape")["rolls"], "kit/cloth")["figure"]["state"] == SAFE
    day.act(GAFFER, "taping", "run-1", length_m=None)
    assert thing(part(day, phone_door, "tape")["rolls"], "kit/cloth")["figure"]["shown"] == "at least 1 roll"


def test_tape_of_which_nobody_said_the_roll_is_told_in_metres(phone_door: Door) -> None:
    roll = thing(part(marks(2), phone_door, "tape")["rolls"], "")
    assert (roll["figure"]["state"], plain(roll["figure"]["shown"])) == ("unknown", "0.7 m")
