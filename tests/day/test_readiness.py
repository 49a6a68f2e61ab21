"""Each state of a shot with its reason, on both Pythons: what makes it ready, and each thing that does not let it be."""

from __future__ import annotations

import json
import re

import pytest

from a_day import SHOT, ADay, Door, a_ready_day, with_dressing
from people import ART_DIRECTOR, ASSISTANT_DIRECTOR, CAMERA_ASSISTANT, GAFFER, GRIP, KEY_GRIP, PROPS_BUYER


@pytest.fixture
def day() -> ADay:
    return a_ready_day()


def codes(found: dict[str, object]) -> list[str]:
    return [reason["code"] for reason in found["reasons"]]  # type: ignore[attr-defined]


def test_a_shot_that_lacks_nothing_is_ready_and_says_what_is_confirmed_by_whom(
    day: ADay, phone_door: Door
) -> None:
    found = day.readiness(phone_door)
    assert (found["state"], found["word"], found["reasons"]) == ("ready", "READY", [])
    assert re.fullmatch(
        r"Listed work is done, key read \d\d:\d\d, Electric\. People decide", found["sentence"]
    )
    assert found["departments"]["grip"] == {"state": "done", "count": 1, "word": "done"}
    assert found["departments"]["art"] == {"state": "none", "count": 0, "word": "no word"}


# not ready


def test_a_hold_holds_and_stands_first(day: ADay, phone_door: Door) -> None:
    day.a_task("bag", title="Bag stand 3")
    day.act(KEY_GRIP, "hold", "h", why="wind on the boom", type="stop", shot=SHOT, department="grip")
    found = day.readiness(phone_door)
    assert found["state"] == "not_ready"
    assert codes(found) == ["hold", "left"]
    assert re.match(r"HOLD Grip \d\d:\d\d: wind on the boom", found["sentence"])
    assert found["departments"]["grip"]["state"] == "hold"


def test_a_hold_cleared_for_its_reason_and_place_holds_no_more(day: ADay, phone_door: Door) -> None:
    day.act(KEY_GRIP, "hold", "h", why="wind on the boom", shot=SHOT)
    day.tick(KEY_GRIP, "hold", "h", "cleared")
    assert day.readiness(phone_door)["state"] == "ready"


def test_a_hold_cleared_for_another_reason_holds_again_and_says_what_changed(
    day: ADay, phone_door: Door
) -> None:
    day.act(KEY_GRIP, "hold", "h", why="wind on the boom", shot=SHOT)
    day.tick(KEY_GRIP, "hold", "h", "cleared")
    day.act(GAFFER, "hold", "h", why="wet joint under the boom")
    found = day.readiness(phone_door)
    assert codes(found) == ["hold"]
    assert "wind on the boom, now wet joint under the boom. Electric" in found["reasons"][0]["sentence"]


def test_an_edit_of_the_reason_while_rolling_holds_again_too(day: ADay, phone_door: Door) -> None:
    day.act(KEY_GRIP, "hold", "h", why="wind on the boom", shot=SHOT)
    day.tick(KEY_GRIP, "hold", "h", "cleared")
    day.act(ASSISTANT_DIRECTOR, "shot", SHOT, phase="rolling")
    day.act(GAFFER, "hold", "h", why="wet joint under the boom")
    assert codes(day.readiness(phone_door)) == ["hold"]


def test_a_clearing_that_does_not_count_yet_leaves_the_hold(day: ADay, phone_door: Door) -> None:
    day.act(KEY_GRIP, "hold", "h", why="wind on the boom", shot=SHOT)
    day.records["hold/h"]["cleared"] = [0, [], [], [], ["pen0000002.9.0123456789abcdef"]]
    assert codes(day.readiness(phone_door)) == ["hold"]
    held = day.ask(phone_door)["sheet"]["holds"][0]
    assert held["waiting"]
    assert not held["cleared"]


def test_a_hold_whose_target_was_taken_away_holds_every_shot(day: ADay, phone_door: Door) -> None:
    day.a_shot("12d")
    day.act(KEY_GRIP, "rig", "boom", title="Boom", overhead="yes")
    day.act(KEY_GRIP, "hold", "h", why="knuckle slips", on="rig/boom")
    assert "hold" not in codes(day.readiness(phone_door, shot="12d"))
    day.remove(KEY_GRIP, "rig/boom")
    for shot in (SHOT, "12d"):
        found = day.readiness(phone_door, shot=shot)
        assert codes(found)[0] == "hold"
        assert "What it was on is gone" in found["reasons"][0]["sentence"]


def test_taking_the_record_of_a_hold_away_clears_nothing(day: ADay, phone_door: Door) -> None:
    day.act(KEY_GRIP, "hold", "h", why="wind on the boom", shot=SHOT)
    day.remove(GRIP, "hold/h")
    assert codes(day.readiness(phone_door)) == ["hold"]


def test_a_hold_on_nothing_holds_the_day_and_one_on_a_part_holds_the_shot(
    day: ADay, phone_door: Door
) -> None:
    day.a_shot("12d")
    day.act(GAFFER, "hold", "all", why="smoke in the stage")
    assert codes(day.readiness(phone_door, shot="12d"))[0] == "hold"
    day.tick(GAFFER, "hold", "all", "cleared")
    day.act(GAFFER, "hold", "lamp", why="glass cracked", on="source/key")
    assert codes(day.readiness(phone_door)) == ["hold"]
    assert "hold" not in codes(day.readiness(phone_door, shot="12d"))


def test_a_watch_holds_nothing_and_is_shown(day: ADay, phone_door: Door) -> None:
    day.act(PROPS_BUYER, "hold", "w", why="open flame", type="watch", shot=SHOT)
    assert day.readiness(phone_door)["state"] == "ready"
    assert day.ask(phone_door)["sheet"]["holds"][0]["type"] == "watch"


def test_a_stop_said_by_one_and_a_watch_by_another_holds(day: ADay, phone_door: Door) -> None:
    day.act(PROPS_BUYER, "hold", "w", why="open flame", shot=SHOT)
    day.act(PROPS_BUYER, "hold", "w", alone=True, type="watch")
    day.act(GAFFER, "hold", "w", alone=True, type="stop")
    assert codes(day.readiness(phone_door))[0] == "hold"


def test_two_answers_in_what_it_reads_are_asked_with_both_values(day: ADay, phone_door: Door) -> None:
    day.act(KEY_GRIP, "source", "key", alone=True, height_m="2.40 m")
    day.act(GAFFER, "source", "key", alone=True, height_m="2.10 m")
    found = day.readiness(phone_door)
    two = next(reason for reason in found["reasons"] if reason["code"] == "two_answers")
    assert found["state"] == "not_ready"
    assert two["sentence"].replace("\u00a0", " ") == "Key, height to the lens has two answers: 2.1 m or 2.4 m"
    assert {found["departments"][name]["state"] for name in ("grip", "electric")} == {"two"}


def test_two_notes_keep_nobody_waiting(day: ADay, phone_door: Door) -> None:
    day.act(KEY_GRIP, "shot", SHOT, alone=True, note="mind the step")
    day.act(GAFFER, "shot", SHOT, alone=True, note="cable at the door")
    assert day.readiness(phone_door)["state"] == "ready"
    assert [two["field"] for two in day.ask(phone_door)["sheet"]["two_answers"]] == ["note"]


def test_done_by_one_and_not_done_by_another_is_two_answers_and_not_done_counts(
    day: ADay, phone_door: Door
) -> None:
    day.a_task("wire", title="Safety wire on, sconce 2", hazard="overhead")
    day.tick(GRIP, "task", "wire", alone=True)
    day.act(GAFFER, "task", "wire", alone=True, done=False)
    found = day.ask(phone_door)
    assert found["readiness"]["state"] == "not_ready"
    assert codes(found["readiness"]) == ["two_answers"]
    assert found["readiness"]["departments"]["grip"] == {"state": "two", "count": 1, "word": "two"}
    two = found["sheet"]["two_answers"][0]
    assert re.fullmatch(
        r"Electric not done \d\d:\d\d\. Grip done \d\d:\d\d\. Not done counts\.", two["sentence"]
    )
    assert two["waiting"] == ["Safety wire on, sconce 2"]


def test_an_open_must_is_left_and_an_open_nice_is_not_asked(day: ADay, phone_door: Door) -> None:
    day.a_task("tidy", title="Tidy the cart", must="nice")
    assert day.readiness(phone_door)["state"] == "ready"
    day.a_task("bag", title="Bag stand 3")
    found = day.readiness(phone_door)
    assert codes(found) == ["left"]
    assert found["departments"]["grip"] == {"state": "left", "count": 1, "word": "1 left"}


def test_a_must_and_a_nice_at_once_is_a_must(day: ADay, phone_door: Door) -> None:
    day.a_task("tidy", title="Tidy the cart", must="nice")
    day.act(GRIP, "task", "tidy", alone=True, must="must")
    assert "left" in codes(day.readiness(phone_door))


def test_a_stale_tick_asks_again(day: ADay, phone_door: Door) -> None:
    day.act(KEY_GRIP, "task", "flag", relies_on=[f"level/key~{SHOT}/distance_m"])
    day.tick(KEY_GRIP, "task", "flag")
    day.act(GAFFER, "level", f"key~{SHOT}", distance_m="1.5 m")
    found = day.readiness(phone_door)
    assert found["state"] == "not_ready"
    assert codes(found)[0] == "again"
    assert found["departments"]["grip"] == {"state": "again", "count": 1, "word": "1 again"}


@pytest.mark.parametrize(
    ("answer", "must", "code"),
    [
        ("asked", "must", "request"),
        ("asked", "nice", "request"),
        ("heard", "must", "request_not_done"),
        ("doing", "must", "request_not_done"),
        ("declined", "must", "request_not_done"),
        ("heard", "nice", ""),
        ("done", "must", ""),
    ],
)
def test_whoever_owes_an_answer_or_a_must_keeps_it_from_ready(
    day: ADay, phone_door: Door, answer: str, must: str, code: str
) -> None:
    day.act(
        CAMERA_ASSISTANT, "request", "q", ask="flag off the lens", from_department="camera", to_department="grip",
        shot=SHOT, must=must, answer=answer,
    )  # fmt: skip
    found = day.readiness(phone_door)
    assert codes(found) == ([code] if code else [])
    assert found["state"] == ("not_ready" if code else "ready")


# unknown


def test_a_key_that_is_only_worked_out_is_unknown(phone_door: Door) -> None:
    day = a_ready_day()
    day.remove(GAFFER, "reading/r-1")
    found = day.readiness(phone_door)
    assert (found["state"], codes(found)) == ("unknown", ["key_not_read"])


def test_a_reading_is_old_when_something_before_the_point_has_changed(day: ADay, phone_door: Door) -> None:
    day.a_layer("grid")
    day.tick_derived()
    found = day.readiness(phone_door)
    assert (found["state"], codes(found)) == ("unknown", ["key_old"])
    assert "Half grid cloth" in found["sentence"]
    day.read("r-2", "100 lx")
    assert day.readiness(phone_door)["state"] == "ready"


def test_without_a_key_light_it_is_unknown(day: ADay, phone_door: Door) -> None:
    day.act(GAFFER, "level", f"key~{SHOT}", role="fill")
    day.remove(GAFFER, "reading/r-1")
    assert codes(day.readiness(phone_door)) == ["no_key"]


def test_without_a_target_it_is_unknown_and_says_what_to_set(day: ADay, phone_door: Door) -> None:
    day.act(CAMERA_ASSISTANT, "shot", SHOT, t_stop=None, calibration_constant=None)
    found = day.readiness(phone_door)
    assert (found["state"], codes(found)) == ("unknown", ["no_target"])
    assert "stop is not set" in found["sentence"]
    assert "250 is in use for a flat receptor" in found["sentence"]


def test_with_nothing_listed_it_is_unknown_never_ready(day: ADay, phone_door: Door) -> None:
    day.remove(KEY_GRIP, "task/flag")
    day.remove(GAFFER, f"level/key~{SHOT}")  # and nobody said how the shot is made: no list can follow
    found = day.readiness(phone_door)
    assert (found["state"], codes(found)) == ("unknown", ["key_old", "nothing_listed"])


@pytest.mark.parametrize(
    ("overhead", "code"), [("unknown", "overhead"), (None, "overhead"), ("yes", "no_rig")]
)
def test_what_may_hang_over_people_is_asked(
    day: ADay, phone_door: Door, overhead: str | None, code: str
) -> None:
    day.act(GAFFER, "source", "key", overhead=overhead)
    found = day.readiness(phone_door)
    assert (found["state"], codes(found)) == ("unknown", [code])


def test_a_rig_over_people_asks_for_its_safety_and_so_does_one_nobody_spoke_of(
    day: ADay, phone_door: Door
) -> None:
    day.act(GAFFER, "source", "key", overhead="yes")
    day.act(KEY_GRIP, "rig", "boom", title="Boom", source="key", load_kg="4.5 kg")
    day.tick_derived()
    assert codes(day.readiness(phone_door)) == ["left"]
    day.tick(KEY_GRIP, "rig", "boom", "safety_on")
    assert day.readiness(phone_door)["state"] == "ready"
    day.act(KEY_GRIP, "rig", "boom", load_kg="9 kg")
    assert codes(day.readiness(phone_door)) == ["again", "again"]  # the safety, and the stand with its bags


@pytest.mark.parametrize("held", [False, True])
def test_an_incomplete_copy_is_unknown_still_fetching_and_still_names_a_hold(
    day: ADay, phone_door: Door, held: bool
) -> None:
    if held:
        day.act(KEY_GRIP, "hold", "h", why="wind on the boom", shot=SHOT)
    reasons = [{"code": "gap", "sentence": "still fetching: edits of one phone are missing"}]
    found = day.readiness(phone_door, complete=False, incomplete=reasons)
    assert found["state"] == "unknown"
    assert codes(found) == (["hold", "incomplete"] if held else ["incomplete"])
    assert found["sentence"].startswith("HOLD" if held else "still fetching: edits of one phone are missing")


def test_a_copy_of_which_nothing_is_said_is_incomplete(day: ADay, phone_door: Door) -> None:
    assert day.readiness(phone_door, complete=False)["state"] == "unknown"


# done, rolling


def test_a_done_shot_says_when_and_how_many_takes_and_nothing_opens_again(
    day: ADay, phone_door: Door
) -> None:
    day.act(ASSISTANT_DIRECTOR, "shot", SHOT, phase="done", takes=4)
    day.act(GAFFER, "level", f"key~{SHOT}", distance_m="1.5 m")
    day.act(KEY_GRIP, "task", "flag", title="Flag off both shoulders")
    found = day.readiness(phone_door)
    assert (found["state"], found["reasons"]) == ("done", [])
    assert re.fullmatch(r"\d\d:\d\d, 4 takes", found["sentence"])
    assert found["departments"]["grip"]["state"] == "done"
    assert day.levels(phone_door)["key"]["kind"] == "reading"


def test_while_it_rolls_nothing_asks_again_and_afterwards_it_does(day: ADay, phone_door: Door) -> None:
    day.act(ASSISTANT_DIRECTOR, "shot", SHOT, phase="rolling")
    day.act(KEY_GRIP, "task", "flag", title="Flag off both shoulders")
    day.act(GAFFER, "level", f"key~{SHOT}", distance_m="1.5 m")
    assert day.readiness(phone_door)["state"] == "ready"
    day.act(ASSISTANT_DIRECTOR, "shot", SHOT, phase="setting")
    assert codes(day.readiness(phone_door)) == ["again", "key_old"]


# food and drink


def test_a_drink_without_its_allergy_round_is_not_cleared_and_keeps_the_shot_waiting(
    day: ADay, phone_door: Door
) -> None:
    day.act(
        PROPS_BUYER,
        "drink",
        "rum",
        title="Rum",
        scene="12",
        mixed_from="tea and water",
        allergens="none named",
    )
    day.tick(PROPS_BUYER, "drink", "rum", "mixed")
    day.tick_derived()
    found = day.ask(phone_door)
    assert codes(found["readiness"]) == ["left"]
    assert "Not cleared" in found["sheet"]["rows"]["glasses"][0]["caution"]["sentence"]
    day.tick(ASSISTANT_DIRECTOR, "drink", "rum", "round_done")
    assert day.readiness(phone_door)["state"] == "ready"


def test_a_drink_mixed_from_something_else_needs_its_allergy_round_again(day: ADay, phone_door: Door) -> None:
    day.act(
        PROPS_BUYER,
        "drink",
        "rum",
        title="Rum",
        scene="12",
        mixed_from="tea and water",
        allergens="none named",
    )
    day.tick(ASSISTANT_DIRECTOR, "drink", "rum", "round_done")
    day.tick(PROPS_BUYER, "drink", "rum", "mixed")
    day.tick_derived()
    day.act(PROPS_BUYER, "drink", "rum", mixed_from="tea and almond drink")
    found = day.ask(phone_door)
    assert codes(found["readiness"]) == ["again", "again", "again"]  # round, mix and the jug's label
    assert found["sheet"]["rows"]["glasses"][0]["caution"]["code"] == "not_cleared"


def test_dressing_that_serves_the_shot_is_a_must_of_art(day: ADay, phone_door: Door) -> None:
    with_dressing(day)
    assert day.readiness(phone_door)["departments"]["art"]["word"] == "1 left"
    day.tick(ART_DIRECTOR, "dressing", "chart", "in_place")
    assert day.readiness(phone_door)["state"] == "ready"


def test_nothing_in_a_sheet_says_that_anything_is_safe(day: ADay, phone_door: Door) -> None:
    with_dressing(day)
    answer = json.dumps(day.ask(phone_door))
    assert not re.search(r"\bsafe\b|all good|safe to", answer, re.IGNORECASE)


def test_a_breaker_over_its_limit_speaks_against_a_shot_whose_work_is_all_ticked(
    day: ADay, phone_door: Door
) -> None:
    """5000 W at 230 V is 21.7 A; a 16 A breaker carries no more (Ohm's law, worked by hand)."""
    day.act(GAFFER, "circuit", "ring", title="Saloon ring", breaker_a="16 A", voltage_v="230 V", mapped="yes")
    day.act(GAFFER, "source", "key", circuit="ring", input_w="5000 W", power_factor_ratio="1")
    day.tick_derived()
    found = day.readiness(phone_door)
    assert found["state"] == "not_ready"
    over = [reason for reason in found["reasons"] if reason["code"] == "over"]
    assert over
    assert over[0]["department"] == "electric"
    assert "Saloon ring" in over[0]["sentence"]
