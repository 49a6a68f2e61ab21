"""The end of a day as server and phone print it: how it was lit, what was held, what was used up, who ticked safety."""

from __future__ import annotations

from typing import Any

import pytest

from a_day import SHOT, ADay, Door, a_ready_day
from demonstration_day import a_demonstration_day
from people import CAMERA_ASSISTANT, GAFFER, KEY_GRIP, PROPS_BUYER
from tailslate.day import report


def of_shot(day: ADay, door: Door, shot: str = SHOT) -> dict[str, Any]:
    found: dict[str, Any] = day.ask(door, "report_shot", shot=shot)["report"]
    return found


def of_day(day: ADay, door: Door, shots: list[dict[str, Any]], acts: list[Any]) -> dict[str, dict[str, Any]]:
    parts = day.ask(door, "report_day", shots=shots, acts=acts, incomplete=[])["parts"]
    return {one["name"]: one for one in parts}


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


def test_a_shot_says_how_it_was_lit_and_that_no_take_is_written_down(phone_door: Door) -> None:
    day = a_ready_day()
    day.act(CAMERA_ASSISTANT, "note", "n", text="smoke sat low", on=f"shot/{SHOT}")
    found = of_shot(day, phone_door)
    parts = {one["name"]: one for one in found["parts"]}
    assert parts["takes"]["lines"] == ["No take is written down."]
    assert ["stop", "T4"] in parts["settings"]["facts"]
    assert ["note, Camera", "smoke sat low"] in parts["notes"]["facts"]
    assert parts["light"]["rows"][0][0].startswith("Key")
    assert found["line"][2] == "not known"
    day.act(CAMERA_ASSISTANT, "shot", SHOT, takes=4)
    assert of_shot(day, phone_door)["parts"][0]["lines"] == ["takes: 4"]


def test_each_lamp_of_the_demonstration_is_told_with_what_stands_before_it(phone_door: Door) -> None:
    parts = {one["name"]: one for one in of_shot(a_demonstration_day(), phone_door, "12c")["parts"]}
    [key] = [row for row in parts["lit_by"]["rows"] if row[0].startswith("Saloon key")]
    assert plain(key[3]).startswith("2.8 m\n")
    assert "gap" in key[2]
    assert len(parts["readings"]["rows"]) >= 1


def test_a_safety_tick_of_two_shots_is_told_once_with_a_name(phone_door: Door) -> None:
    day = a_ready_day()
    shots = [of_shot(day, phone_door), {**of_shot(day, phone_door)}]
    shots[1]["safety"] = [[key, "13A", *rest] for key, _number, *rest in shots[1]["safety"]]
    safety = of_day(day, phone_door, shots, [])["safety"]
    assert safety["rows"]
    assert {row[0] for row in safety["rows"]} == {"12C, 13A"}
    assert any(row[3].startswith(f"{KEY_GRIP.name}, {KEY_GRIP.role}, ") for row in safety["rows"])
    assert safety["cautions"][0].endswith("competent people decide.")


def test_the_log_of_holds_names_whoever_cleared_and_a_department_for_whoever_raised(phone_door: Door) -> None:
    day = a_ready_day()
    day.act(GAFFER, "hold", "h", why="wet plug", type="stop", on=f"shot/{SHOT}", department="electric")
    [raised] = [cell[1][0] for name, cell in day.records["hold/h"].items() if name == "why"]
    acts = [
        {"id": raised[0], "record": "hold/h", "at_ms": raised[2], "by": raised[3], "for_whom": "", "set": {"why": "wet plug"}},
        {"id": "x", "record": "hold/h", "at_ms": raised[2] + 60_000, "by": KEY_GRIP.person, "for_whom": "", "set": {"cleared": ["done", []]}},
    ]  # fmt: skip
    rows = of_day(day, phone_door, [], acts[::-1])["holds"]["rows"]
    assert [row[2] for row in rows] == ["Electric", f"{KEY_GRIP.name}, {KEY_GRIP.role}"]
    assert [row[3] for row in rows] == ["stands", "replaced since"]


def test_what_was_used_up_is_summed_in_whole_decimals_and_at_least_where_one_does_not_say(
    phone_door: Door,
) -> None:
    """0.1 l and 0.2 l are 0.3 l; three rolls at 12.50 are 37.50, and of five there are two left."""
    day = a_ready_day()
    day.act(PROPS_BUYER, "drink", "rum", title="Dark rum")
    day.act(PROPS_BUYER, "used", "a", on="drink/rum", amount_l="0.1 l")
    day.act(PROPS_BUYER, "used", "b", on="drink/rum", amount_l="0.2 l")
    day.act(KEY_GRIP, "kit", "tape", title="Cloth tape", count=5, cost="12.50 EUR")
    day.act(KEY_GRIP, "used", "c", on="kit/tape", amount=2)
    day.act(KEY_GRIP, "used", "d", on="kit/tape", amount=1)
    found = of_day(day, phone_door, [], [])
    told = {label: plain(said) for label, said in found["used"]["facts"]}
    assert told == {"Dark rum, in all": "300 ml", "Cloth tape, in all": "3 pieces"}
    assert found["kit"]["rows"] == [["Cloth tape", "5", "3", "2", "12.50 EUR", "37.50 EUR"]]
    day.act(KEY_GRIP, "used", "e", on="kit/tape")
    found = of_day(day, phone_door, [], [])
    assert dict(found["used"]["facts"])["Cloth tape, in all"] == "at least 3 pieces"
    assert found["kit"]["rows"][0][2:4] == ["at least 3", "not known"]


def test_nothing_written_down_is_said(phone_door: Door) -> None:
    found = of_day(ADay(), phone_door, [], [])
    assert [found[name]["lines"] for name in ("holds", "incidents", "used", "safety")] == [
        ["No hold was raised."],
        ["No incident was written down."],
        ["Nothing is written down as used up."],
        ["No safety tick was asked for."],
    ]


@pytest.mark.parametrize(
    ("cost", "amount", "said"),
    [
        ("12.50 GBP", 3.0, "37.50 GBP"),
        ("0.1", 3.0, "0.30"),
        ("8", 2.0, "16.00"),
        ("8 EUR", 0.0, "0.00 EUR"),
        ("ask the shop", 3.0, ""),
        ("12.505", 1.0, ""),
        ("12.", 1.0, ""),
        (".5", 1.0, ""),
        ("12.50 gbp", 1.0, ""),
        ("-3 EUR", 1.0, ""),
        ("not known", 1.0, ""),
    ],
)
def test_only_a_plain_figure_is_multiplied(cost: str, amount: float, said: str) -> None:
    """ISO 4217: a currency is three capital letters."""
    assert report._cost(cost, amount) == said
