"""From one shot to the next: lists worked by hand, the same on both Pythons. Common practice, no source."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from a_day import ADay, Door
from people import ART_DIRECTOR, CAMERA_ASSISTANT, GAFFER, KEY_GRIP, PROPS_BUYER
from tailslate.day import direction

WIDE, CLOSE = "12a", "12c"


def two_shots() -> ADay:
    """A wide and a close shot on one face; the key burns in both, 3 m away and full, then 2 m away and at half."""
    day = ADay()
    day.act(CAMERA_ASSISTANT, "point", "face", title="the Gambler's face", scene="12", type="face")
    day.a_shot(WIDE, setup="wide", t_stop="T4")
    day.a_shot(CLOSE, setup="over", t_stop="T2.8")
    day.act(CAMERA_ASSISTANT, "setup", "wide", title="Wide", lens_mm="32 mm", camera_height_m="1.4 m")
    day.act(CAMERA_ASSISTANT, "setup", "over", title="Over", lens_mm="50 mm", camera_height_m="1.4 m")
    for shot, distance, output in ((WIDE, "3 m", "1"), (CLOSE, "2 m", "0.5")):
        day.a_source(shot=shot)
        day.act(GAFFER, "level", f"key~{shot}", distance_m=distance, output_ratio=output)
    return day


def told(day: ADay, door: Door, then: str = WIDE) -> dict[str, Any]:
    found: dict[str, Any] = day.ask(door, "turn_around", shot=CLOSE, shot_then=then)["turn_around"]
    return found


def lines(day: ADay, door: Door, then: str = WIDE) -> dict[str, list[str]]:
    """Sentences by department."""
    found = told(day, door, then)["departments"]
    return {
        one["department"]: [line["sentence"].replace("\u00a0", " ") for line in one["lines"]] for one in found
    }


def test_what_moves_is_dimmed_and_set_says_from_and_to(phone_door: Door) -> None:
    found = lines(two_shots(), phone_door)
    assert found["electric"] == [
        "Move: Key, distance 2 m, was 3 m",
        "Dim: Key, light let through 1.0 stop down (50 %), was 100 %",
    ]
    assert found["camera"] == [
        "Move: camera from Wide to Over",
        "Set: lens 50 mm, was 32 mm; stop T2.8, was T4",
    ]


def test_a_lamp_that_comes_and_one_that_goes(phone_door: Door) -> None:
    day = two_shots()
    day.a_source("back", role="back", shot=CLOSE)
    day.a_source("sconce", role="practical", shot=WIDE)
    found = lines(day, phone_door)["electric"]
    assert (
        "Add: Back as back on the Gambler's face, distance 2 m, dimmer not known" in found
    )  # unknown is said, not left out
    assert "Drop: Sconce" in found


def test_a_lamp_that_is_listed_and_does_not_burn_is_dropped(phone_door: Door) -> None:
    day = two_shots()
    day.act(GAFFER, "level", f"key~{CLOSE}", on="no")
    assert lines(day, phone_door)["electric"] == ["Drop: Key"]


def test_the_grip_carries_what_stands_on_a_stand_with_its_caution(phone_door: Door) -> None:
    day = two_shots()
    day.act(KEY_GRIP, "rig", "stand", title="Stand 1", source="key", overhead="yes")
    day.a_source("back", role="back", shot=CLOSE)
    day.act(KEY_GRIP, "rig", "boom", title="Boom", source="back")
    found = told(day, phone_door)["departments"]
    grip = next(one["lines"] for one in found if one["department"] == "grip")
    assert [line["sentence"].replace("\u00a0", " ") for line in grip] == [
        "Add: Boom",
        "Move: Key, distance 2 m, was 3 m",
    ]
    assert grip[0]["caution"]["code"] == "overhead"  # nobody said that it is not over people


@pytest.mark.parametrize("step", ["2.05 m", "1.95 m"])
def test_what_moves_by_less_than_a_step_stays(step: str, phone_door: Door) -> None:
    """The distance of a lamp asks again from 0.1 m on."""
    day = two_shots()
    day.act(GAFFER, "level", f"key~{WIDE}", distance_m=step, output_ratio="0.5")
    found = told(day, phone_door)
    assert "electric" not in [one["department"] for one in found["departments"]]
    assert found["same"] == 1


def test_what_nobody_said_is_asked_and_never_taken_as_unchanged(phone_door: Door) -> None:
    day = two_shots()
    for shot in (WIDE, CLOSE):
        day.act(GAFFER, "level", f"key~{shot}", distance_m=None, output_ratio=None)
    found = told(day, phone_door)
    electric = next(one["lines"] for one in found["departments"] if one["department"] == "electric")
    assert [(line["act"], line["sentence"]) for line in electric] == [
        ("ask", "Ask: Key, distance not known in either shot"),
        ("ask", "Ask: Key, light let through or dimmer not known in either shot"),
    ]
    assert found["asked"] == 2


def test_whether_a_lamp_burns_that_nobody_said_is_asked(phone_door: Door) -> None:
    day = two_shots()
    day.act(GAFFER, "level", f"key~{CLOSE}", on=None)
    assert lines(day, phone_door)["electric"] == ["Ask: Key: does it burn in 12C? Nobody said"]


def test_two_answers_are_asked(phone_door: Door) -> None:
    day = two_shots()
    day.act(GAFFER, "level", f"key~{CLOSE}", alone=True, distance_m="4 m")
    assert "Ask: Key, distance: two answers, pick one" in lines(day, phone_door)["electric"]


def test_dressing_comes_goes_and_serves_another_way(phone_door: Door) -> None:
    day = two_shots()
    for piece, title in (("chart", "Chart"), ("cards", "Cards"), ("log", "Log")):
        day.act(ART_DIRECTOR, "dressing", piece, title=title, scene="12", flame_retardant="yes")
    for piece, shot, use in (("chart", WIDE, "bounce"), ("chart", CLOSE, "seen"), ("cards", WIDE, "seen"), ("log", CLOSE, "eyeline")):  # fmt: skip
        day.act(ART_DIRECTOR, "serves", f"{piece}~{shot}", dressing=piece, shot=shot, use=use)
    assert sorted(lines(day, phone_door)["art"]) == [
        "Add: Log, eyeline",
        "Dress: Chart, in the picture, was bounce",
        "Drop: Cards, was in the picture",
    ]


def test_glasses_go_back_to_their_line_and_nobody_drinks_before_the_round(phone_door: Door) -> None:
    day = two_shots()
    day.act(PROPS_BUYER, "drink", "rum", title="Dark rum", scene="12", glasses=2, fill_l="60 ml", line_height_m="24 mm")  # fmt: skip
    found = next(one for one in told(day, phone_door)["departments"] if one["department"] == "props")
    (line,) = found["lines"]
    assert line["sentence"].replace("\u00a0", " ") == "Reset: Dark rum, 2 glasses, to 60 ml, line at 24 mm"
    assert line["caution"]["code"] == "not_cleared"
    day.tick(PROPS_BUYER, "drink", "rum", "round_done")
    found = next(one for one in told(day, phone_door)["departments"] if one["department"] == "props")
    assert found["lines"][0]["caution"]["code"] == "food"


def test_marks_are_lifted_and_laid(phone_door: Door) -> None:
    day = two_shots()
    day.act(CAMERA_ASSISTANT, "mark", "old", title="the Purser", shot=WIDE, colour="red")
    day.act(CAMERA_ASSISTANT, "mark", "new", title="the Gambler", shot=CLOSE, colour="blue")
    assert lines(day, phone_door)["camera"][-2:] == [
        "Add: mark, the Gambler, blue",
        "Drop: mark, the Purser, red",
    ]


def test_the_first_shot_is_set_up_from_nothing(phone_door: Door) -> None:
    found = lines(two_shots(), phone_door, then="")
    assert found["electric"] == [
        "Add: Key as key on the Gambler's face, distance 2 m, light let through 1.0 stop down (50 %)"
    ]
    assert found["camera"][0] == "Move: camera to Over"
    assert found["camera"][1].startswith("Set: lens 50 mm; stop T2.8")


def test_another_scene_moves_everyone(phone_door: Door) -> None:
    day = two_shots()
    day.act(CAMERA_ASSISTANT, "scene", "12", number="12", title="Saloon")
    day.act(CAMERA_ASSISTANT, "scene", "13", number="13", title="Deck")
    day.act(CAMERA_ASSISTANT, "shot", CLOSE, scene="13")
    assert lines(day, phone_door)["assistant_directors"] == ["Move: everyone, from 12 Saloon to 13 Deck"]


def test_what_nobody_wrote_is_said_not_to_be_in_the_list(phone_door: Door) -> None:
    assert told(two_shots(), phone_door)["sentence"].endswith("What nobody wrote down is not in this list")


# Lines are ticked like any row.


def line(day: ADay, door: Door, sentence: str, then: str = WIDE) -> dict[str, Any]:
    """The line that begins so."""
    found = [one for part in told(day, door, then)["departments"] for one in part["lines"]]
    return next(one for one in found if one["sentence"].startswith(sentence))


def tick_line(day: ADay, one: dict[str, Any]) -> None:
    """Tick what a phone would: the value and the record that its row names."""
    row = one["row"]
    kind, record = row["record"].split("/")
    day.act(GAFFER, kind, record, **{row["field"]: row["value_if_ticked"]})


def test_every_line_but_a_question_is_ticked_once_and_stays_in_its_place(phone_door: Door) -> None:
    day = two_shots()
    day.act(GAFFER, "level", f"key~{CLOSE}", output_ratio=None)
    before = told(day, phone_door)
    rows = [one["row"] for part in before["departments"] for one in part["lines"] if one["act"] != "ask"]
    assert before["count"] == len(rows) == len({(row["record"], row["field"]) for row in rows}) == 3
    assert line(day, phone_door, "Ask: Key")["row"] is None
    for one in ("Move: Key", "Set: lens"):
        tick_line(day, line(day, phone_door, one))
    after = told(day, phone_door)
    sentences = [[one["sentence"] for one in part["lines"]] for part in before["departments"]]
    assert [[one["sentence"] for one in part["lines"]] for part in after["departments"]] == sentences
    assert (after["count"], after["done"], after["asked"]) == (1, 2, 1)
    assert line(day, phone_door, "Move: Key")["row"]["state"] == "done"


def test_a_ticked_line_asks_again_when_what_it_tells_moves_and_not_for_5_cm(phone_door: Door) -> None:
    day = two_shots()
    tick_line(day, line(day, phone_door, "Move: Key"))
    day.act(GAFFER, "level", f"key~{CLOSE}", distance_m="2.05 m")
    assert line(day, phone_door, "Move: Key")["row"]["state"] == "done"
    day.act(GAFFER, "level", f"key~{CLOSE}", distance_m="1.5 m")
    row = line(day, phone_door, "Move: Key")["row"]
    assert row["state"] == "again"
    assert "2 m, now 1.5 m" in row["changes"][0].replace("\u00a0", " ")


def test_a_tick_holds_for_these_two_shots_in_this_order(phone_door: Door) -> None:
    day = two_shots()
    tick_line(day, line(day, phone_door, "Set: lens"))
    assert line(day, phone_door, "Set: lens", then="")["row"]["state"] == "open"
    back = day.ask(phone_door, "turn_around", shot=WIDE, shot_then=CLOSE)["turn_around"]
    assert back["done"] == 0


def test_a_correction_of_the_shot_before_opens_nothing(phone_door: Door) -> None:
    day = two_shots()
    tick_line(day, line(day, phone_door, "Set: lens"))
    day.act(CAMERA_ASSISTANT, "shot", WIDE, t_stop="T5.6")
    assert line(day, phone_door, "Set: lens")["row"]["state"] == "done"


def test_a_ticked_line_is_no_task_of_the_shot_itself(phone_door: Door) -> None:
    day = two_shots()
    before = [row["record"] for row in day.rows(phone_door)]
    tick_line(day, line(day, phone_door, "Move: Key"))
    assert [row["record"] for row in day.rows(phone_door)] == before
    assert line(day, phone_door, "Move: Key")["row"]["record"] in day.ask(phone_door)["sheet"]["reads"]


def test_nothing_of_it_asks_again_while_the_shot_rolls(phone_door: Door) -> None:
    day = two_shots()
    tick_line(day, line(day, phone_door, "Move: Key"))
    day.act(CAMERA_ASSISTANT, "shot", CLOSE, phase="rolling")
    day.act(GAFFER, "level", f"key~{CLOSE}", distance_m="1.5 m")
    assert line(day, phone_door, "Move: Key")["row"]["state"] == "done"


def test_laying_a_mark_is_the_mark_s_own_tick(phone_door: Door) -> None:
    day = two_shots()
    day.act(CAMERA_ASSISTANT, "mark", "new", title="the Gambler", shot=CLOSE, colour="blue")
    day.tick(CAMERA_ASSISTANT, "mark", "new", "laid")
    row = line(day, phone_door, "Add: mark")["row"]
    assert (row["record"], row["field"], row["state"]) == ("mark/new", "laid", "done")


# Where light comes from, for a match: plane trigonometry on the floor.


def placed(key_x: str = "2 m", camera_y: str = "-3 m") -> ADay:
    """A face at the origin, 1.2 m up; the key to its right, level with it in depth, 2 m higher at 2 m: 45 degrees."""
    day = two_shots()
    day.act(CAMERA_ASSISTANT, "point", "face", x_m="0 m", y_m="0 m", height_m="1.2 m")
    day.act(GAFFER, "source", "key", x_m=key_x, y_m="0 m", height_m="3.2 m")
    day.act(CAMERA_ASSISTANT, "setup", "over", x_m="0 m", y_m=camera_y)
    return day


def directions(day: ADay, then: ADay, door: Door, of: str = "Key, ") -> tuple[dict[str, Any], dict[str, Any]]:
    """Of the key: around, and up and down."""
    found = day.ask(door, "match", shot=CLOSE, shot_then=CLOSE, records_then=then.records)["match"]["points"]
    around, up = (one for one in found if one["about"].startswith(of) and "direction" in one["about"])
    return around, up


def on_another_day(day: ADay) -> ADay:
    day.act(CAMERA_ASSISTANT, "day", "in-march", title="Pickups")
    return day


def test_the_direction_is_told_in_the_room_and_as_the_camera_sees_it(phone_door: Door) -> None:
    around, up = directions(placed(), placed(), phone_door)
    # the camera looks straight away, so its right hand is the room's
    assert around["now"] == "90\u00b0 right in the room, 90\u00b0 right as the camera sees it"
    assert up["now"] == "45\u00b0 up"
    assert {around["state"], up["state"]} == {"matches"}


def test_a_camera_on_the_other_side_of_the_room_changes_no_light(phone_door: Door) -> None:
    """It sees the same key from the other hand; that cuts, for the room stays lit from one side."""
    around, _up = directions(placed(camera_y="3 m"), placed(), phone_door)
    assert around["now"] == "90\u00b0 right in the room, 90\u00b0 left as the camera sees it"
    assert (around["state"], around["difference"]) == ("matches", "none")


def test_a_key_on_the_other_side_of_the_room_differs_whatever_the_camera_sees(phone_door: Door) -> None:
    around, _up = directions(placed(key_x="-2 m", camera_y="3 m"), placed(), phone_door)
    assert "90\u00b0 right as the camera sees it" in around["now"]
    assert (around["state"], around["difference"].replace("\u00a0", " ")) == (
        "differs",
        "180 deg to the left",
    )


def test_on_another_day_what_the_camera_sees_is_what_cuts(phone_door: Door) -> None:
    """The room was measured anew: turned by half, with all that stands in it, it is the same shot."""
    turned = on_another_day(placed(key_x="-2 m", camera_y="3 m"))
    around, _up = directions(turned, placed(), phone_door)
    assert around["now"] == "90\u00b0 right as the camera sees it, 90\u00b0 left in the room"
    assert around["state"] == "matches"
    around, _up = directions(on_another_day(placed(camera_y="3 m")), placed(), phone_door)
    assert around["state"] == "differs"


def test_the_faces_of_a_pair_may_be_lit_as_mirror_images(phone_door: Door) -> None:
    """Each keyed from its own far side: 180 degrees apart in the room, and the same picture turned over."""
    day = placed(key_x="-2 m")
    day.act(CAMERA_ASSISTANT, "point", "other", title="the Purser's face", scene="12", type="face")
    day.act(CAMERA_ASSISTANT, "point", "other", x_m="0 m", y_m="0 m", height_m="1.2 m")
    day.act(GAFFER, "level", f"key~{CLOSE}", point="other")
    around, _up = directions(day, placed(), phone_door)
    assert around["about"] == "Key, the Purser's face, beside Key, the Gambler's face, direction"
    assert (around["state"], around["difference"]) == ("matches", "none, as a mirror image")
    day.act(
        GAFFER, "source", "key", x_m="0 m", y_m="2 m"
    )  # from straight behind: no image of a key from the side
    around, _up = directions(day, placed(), phone_door)
    assert around["state"] == "differs"


def test_a_lamp_that_nobody_placed_matches_nothing(phone_door: Door) -> None:
    day = placed()
    day.act(GAFFER, "source", "key", x_m=None)
    assert {one["state"] for one in directions(day, placed(), phone_door)} == {"unknown"}


def test_the_faces_of_a_pair_are_laid_beside_each_other(phone_door: Door) -> None:
    """The key on one face and the key on the other are what must cut, though the points have other names."""
    day = two_shots()
    day.act(CAMERA_ASSISTANT, "point", "other", title="the Purser's face", scene="12", type="face")
    day.act(GAFFER, "level", f"key~{CLOSE}", point="other")
    found = day.ask(phone_door, "match", shot=CLOSE, shot_then=WIDE, records_then=day.records)["match"][
        "points"
    ]
    about = [one["about"] for one in found]
    assert "Key, the Purser's face, beside Key, the Gambler's face" in about


@given(st.floats(-179, 179), st.floats(-179, 179))
def test_a_turn_is_never_more_than_half_round(now: float, then: float) -> None:
    low, high = direction.difference_deg((now, now), (then, then))
    assert -180.0001 <= low <= 180.0001
    assert abs((now - then - low) % 360.0) % 360.0 < 1e-6 or abs((now - then - low) % 360.0 - 360.0) < 1e-6
    assert high == low
