"""Whatever is not filled in, nothing comes out within that did not before: each field taken away, one at a time."""

from __future__ import annotations

from typing import Any

import pytest

from a_day import ADay, Door
from people import ASSISTANT_DIRECTOR, GAFFER, KEY_GRIP, MORNING_MS, PROPS_BUYER
from things_of_a_shot import SAFE, a_shot_in

NOW_MS = MORNING_MS + 3 * 3_600_000
HEAVY = {
    ("rig", "stand"): {"load_kg": "30 kg", "offset_m": "0.9 m", "bags": 1, "gust_m_s": "9 m/s"},
    ("circuit", "wall"): {"breaker_a": "6 A", "device_ma": "10 mA", "cable_length_m": "60 m"},
    ("source", "key"): {"input_w": "2400 W", "leakage_ma": "4 mA"},
    ("source", "lantern"): {"batteries": 1},
    ("drink", "rum"): {"swallowed_l": "250 ml", "left_cold_time": "05:00"},
    ("taping", "run"): {"bump_m": "20 mm"},
}


def everything(*, is_heavy: bool) -> ADay:
    """A day on which every figure is known: all within, or as much as can be over."""
    day = a_shot_in("exterior")
    day.act(ASSISTANT_DIRECTOR, "day", "d", title="Day", call_time="07:00", wrap_time="19:00")
    records: dict[tuple[str, str], dict[str, Any]] = {
        ("layer", "grid"): {"source": "key", "type": "diffusion", "width_m": "1 m", "height_m": "1 m", "centre_height_m": "2 m", "rig": "stand"},
        ("rig", "stand"): {
            "source": "key", "load_kg": "4 kg", "offset_m": "0.3 m", "stand_kg": "8 kg", "leg_radius_m": "0.55 m",
            "legs": 3, "bag_kg": "12.5 kg", "bags": 2, "rating_kg": "20 kg", "holding_rating_nm": "50 Nm",
            "overhead": "no", "gust_limit_m_s": "3 m/s", "gust_m_s": "1 m/s", "strikes": "Milo",
        },
        ("source", "key"): {"input_w": "600 W", "power_factor_ratio": "0.95", "leakage_ma": "3 mA", "circuit": "wall"},
        ("circuit", "wall"): {
            "breaker_a": "16 A", "voltage_v": "120 V", "mapped": "yes", "residual_current_protected": "yes",
            "other_w": "0 W", "device_ma": "30 mA", "cable_size": "12 AWG", "cable_length_m": "5 m", "mains_hz": "60 Hz",
        },
        ("source", "lantern"): {
            "title": "Lantern", "input_w": "10 W", "energy_wh": "98 Wh", "usable_ratio": "0.8", "cold_ratio": "0.7",
            "batteries": 4,
        },
        ("level", "lantern~12c"): {"source": "lantern", "shot": "12c", "on": "yes"},
        ("drink", "rum"): {
            "title": "Rum", "scene": "12", "glasses": 1, "fill_l": "250 ml", "resets": 2, "takes_planned": 10,
            "performers": 1, "swallowed_l": "20 ml", "left_cold_time": "09:00",
        },
        ("ingredient", "juice"): {
            "drink": "rum", "title": "Juice", "parts": "1", "sugar_g_per_hundred_g": "10",
            "caffeine_mg_per_hundred_g": "10", "density_kg_per_l": "1.05", "sulphites_mg_per_kg": "1",
        },
        ("taping", "run"): {"title": "Run", "shot": "12c", "type": "run", "length_m": "9 m", "crosses_walkway": "yes", "bump_m": "5 mm"},
        ("shot", "12c"): {"shutter_angle_deg": "144"},
    }  # fmt: skip
    who = {
        "rig": KEY_GRIP,
        "layer": KEY_GRIP,
        "taping": KEY_GRIP,
        "drink": PROPS_BUYER,
        "ingredient": PROPS_BUYER,
    }
    for (kind, record), fields in records.items():
        day.act(who.get(kind, GAFFER), kind, record, **fields)
    for (kind, record), fields in HEAVY.items() if is_heavy else ():
        day.act(who.get(kind, GAFFER), kind, record, **fields)
    return day


def states(day: ADay, door: Door) -> dict[tuple[str, str], str]:
    """State of every figure: (record, label) -> state."""
    sheet = day.ask(door, now_ms=NOW_MS)["sheet"]
    things = [*sheet["rigging"], *sheet["power"]["circuits"], *sheet["power"]["batteries"], *sheet["drinks"]]
    things += sheet["tape"]["jobs"]
    found = {(thing["record"], one["label"]): one["state"] for thing in things for one in thing["figures"]}
    return found | {("shot/12c", one["label"]): one["state"] for one in sheet["frame"]["figures"]}


def test_with_every_fact_known_the_sums_answer(phone_door: Door) -> None:
    found = states(everything(is_heavy=False), phone_door)
    within = {label for (_record, label), state in found.items() if state == SAFE}
    assert within >= {
        "Bags", "Load on the stand", "Holding moment", "Wind limit", "Gusts", "Load", "Voltage drop", "Leakage",
        "Batteries", "Sugar", "Caffeine", "Out of the cold", "Even light",
    }  # fmt: skip
    assert "over" not in found.values()


def test_with_too_much_of_everything_the_sums_speak_against_it(phone_door: Door) -> None:
    found = states(everything(is_heavy=True), phone_door)
    over = {label for (_record, label), state in found.items() if state == "over"}
    assert over >= {
        "Bags", "Load on the stand", "Holding moment", "Gusts", "Load", "One more", "Voltage drop", "Leakage",
        "Batteries", "Sugar", "Caffeine", "Out of the cold", "Walkway",
    }  # fmt: skip


def fields_of(day: ADay) -> list[tuple[str, str]]:
    kinds = (
        "rig",
        "layer",
        "source",
        "circuit",
        "drink",
        "ingredient",
        "taping",
        "scene",
        "shot",
        "day",
        "level",
    )
    return [
        (key, field)
        for key in sorted(day.records)
        for field in day.records[key]
        if key.split("/")[0] in kinds
    ]


@pytest.mark.parametrize("is_heavy", [False, True], ids=["light", "heavy"])
def test_no_field_taken_away_makes_anything_safer(is_heavy: bool, phone_door: Door) -> None:
    """A thing that is gone altogether has no figure; what is left of it must not read better than before."""
    day = everything(is_heavy=is_heavy)
    before = states(day, phone_door)
    safer = []
    for key, field in fields_of(day):
        kept = day.records[key].pop(field)
        after = states(day, phone_door)
        day.records[key][field] = kept
        safer += [
            (key, field, name)
            for name, state in after.items()
            if state == SAFE and before.get(name) not in (SAFE, None)
        ]
    assert safer == []
