"""The power of a shot on its sheet, on both Pythons. Figures are published or worked by hand, with their source."""

from __future__ import annotations

from typing import Any

import pytest

from a_day import SHOT, ADay, Door
from people import ASSISTANT_DIRECTOR, GAFFER
from things_of_a_shot import SAFE, Figure, a_shot_in, asked_for, by_label, part, thing

WALL = {
    "voltage_v": "120 V", "breaker_a": "20 A", "mapped": "yes", "residual_current_protected": "yes",
    "other_w": "0 W",
}  # fmt: skip
LAMP = {"input_w": "1200 W", "power_factor_ratio": "0.92", "circuit": "wall"}


def a_wall(circuit: dict[str, Any] | None = None, lamp: dict[str, Any] | None = None) -> ADay:
    day = a_shot_in()
    day.act(GAFFER, "circuit", "wall", title="Wall", **{**WALL, **(circuit or {})})
    day.act(GAFFER, "source", "key", **{**LAMP, **(lamp or {})})
    return day


def of(day: ADay, door: Door, circuit: str = "wall") -> dict[str, Figure]:
    return by_label(thing(part(day, door, "power")["circuits"], "circuit/" + circuit))


def test_the_current_counts_the_power_factor(phone_door: Door) -> None:
    """1200 W / (120 V x 0.92) = 10.8696 A, circuit theory textbooks; 80 % of 20 A is 16 A, NEC 210.19 and 210.20."""
    load = of(a_wall(), phone_door)["Load"]
    assert load["value"] == pytest.approx(10.86956522, rel=1e-9)
    assert (load["state"], load["shown"]) == (SAFE, "10.9 A")  # a load is rounded up
    assert load["line"].startswith("16 A may flow: 80 % of the 20 A breaker")


def test_the_breakers_rating_is_not_the_continuous_limit(phone_door: Door) -> None:
    """1728 W at 0.9 on 120 V is 16 A, the largest continuous load of a 20 A breaker (NEC 210.19 and 210.20)."""
    lamp = {"input_w": "1728 W", "power_factor_ratio": "0.9"}
    assert of(a_wall(lamp=lamp), phone_door)["Load"]["state"] == SAFE
    more = {**lamp, "input_w": "1740 W"}
    assert of(a_wall(lamp=more), phone_door)["Load"]["state"] == "over"
    assert of(a_wall({"continuous": "yes"}, more), phone_door)["Load"]["state"] == "over"
    assert of(a_wall({"continuous": "no"}, more), phone_door)["Load"]["state"] == SAFE


def test_what_trips_when_one_more_is_plugged_in(phone_door: Door) -> None:
    """16 A - 10 A = 6 A, 720 W of plain heat at 120 V, by hand; 1500 W more make it 22.5 A, and up to
    35 A while nobody said that they are plain heat."""
    day = a_wall(lamp={"power_factor_ratio": "1"})
    found = of(day, phone_door)["One more"]
    assert (found["state"], found["shown"]) == ("plain", "trips over 6 A")
    assert found["line"].startswith("720 W of plain heat, such as a kettle")
    day.act(GAFFER, "circuit", "wall", other_w="1500 W")
    kettle = of(day, phone_door)
    assert (kettle["Load"]["state"], kettle["Load"]["shown"]) == ("over", "22.5 to 35 A")
    assert (kettle["One more"]["state"], kettle["One more"]["shown"]) == ("over", "nothing")


def test_what_is_plugged_in_counts_burning_or_not(phone_door: Door) -> None:
    day = a_wall(lamp={"power_factor_ratio": "1"})
    day.act(GAFFER, "level", f"key~{SHOT}", output_ratio="0.1")
    spare = {"title": "Spare", "input_w": "1200 W", "power_factor_ratio": "1", "figures_from": "its plate"}
    day.act(GAFFER, "source", "spare", **spare, circuit="wall")
    circuit = thing(part(day, phone_door, "power")["circuits"], "circuit/wall")
    assert by_label(circuit)["Load"]["value"] == pytest.approx(20.0, rel=1e-9)
    loads = [(one["title"], one["burning"], one["from"]) for one in circuit["loads"]]
    assert loads == [("Key", True, ""), ("Spare", False, "its plate")]


def test_unknown_watts_have_no_upper_end_and_an_unknown_power_factor_is_a_range(phone_door: Door) -> None:
    """1200 W at 120 V: 10 A at a power factor of 1, 20 A at 0.5, by hand."""
    spread = of(a_wall(lamp={"power_factor_ratio": None}), phone_door)
    assert (spread["Load"]["state"], spread["Load"]["shown"]) == ("unknown", "10 to 20 A")
    assert ("source/key", "power_factor_ratio") in asked_for(spread["Load"])
    silent = of(a_wall(lamp={"input_w": None}), phone_door)
    assert (silent["Load"]["state"], silent["Load"]["shown"]) == ("unknown", "at least 0 A")
    assert ("source/key", "input_w") in asked_for(silent["Load"])
    assert silent["One more"]["state"] == "unknown"


def test_outlets_that_nobody_mapped_count_as_one_breaker_and_never_come_out_within(
    phone_door: Door,
) -> None:
    """10 A and 10 A on two unmapped 20 A breakers count as 20 A on one: over 16 A (common practice, no source)."""
    alone = of(a_wall({"mapped": "unknown"}, {"power_factor_ratio": "1"}), phone_door)["Load"]
    assert (alone["state"], alone["shown"]) == ("unknown", "10 A")
    assert asked_for(alone)[0] == ("circuit/wall", "mapped")
    day = a_wall({"mapped": "no"}, {"power_factor_ratio": "1"})
    day.act(GAFFER, "circuit", "bar", title="Bar", **{**WALL, "mapped": "unknown"})
    lamp = {"title": "Sconce", "scene": "12", "input_w": "1200 W", "power_factor_ratio": "1"}
    day.act(GAFFER, "source", "sconce", **lamp, circuit="bar")
    both = of(day, phone_door)["Load"]
    assert (both["state"], both["shown"]) == ("over", "20 A")
    assert "counts as one breaker with Bar" in both["line"]
    day.act(GAFFER, "circuit", "bar", mapped="yes")
    assert of(day, phone_door)["Load"]["shown"] == "10 A"


def test_what_else_is_plugged_in_is_asked_for(phone_door: Door) -> None:
    """A kettle on the lamp's breaker trips it in the take (common practice, no source)."""
    silent = of(a_wall({"other_w": None}), phone_door)
    for label in ("Load", "One more"):
        assert silent[label]["state"] == "unknown"
        assert ("circuit/wall", "other_w") in asked_for(silent[label])


def drop(door: Door, **circuit: Any) -> Figure:
    watts = {"input_w": "1920 W", "power_factor_ratio": "1"}
    if "voltage_v" in circuit:
        watts["input_w"] = "3680 W"
    return of(a_wall({"breaker_a": "32 A", **circuit}, watts), door)["Voltage drop"]


def test_the_voltage_lost_in_a_cable_is_the_published_one(phone_door: Door) -> None:
    """16 A through 100 ft of 12 AWG at 120 V: 6.336 V, 5.28 % (NEC chapter 9 table 8, 1.98 ohm/kft at 75 degC).
    16 A through 50 m of 2.5 mm2 at 230 V, warm: 15.2769 V, 6.6421 % (IEC 60228 class 5, 7.98 ohm/km at 20 degC)."""
    found = drop(phone_door, cable_size="12 AWG", cable_length_m="100 ft")
    assert found["value"] == pytest.approx(0.0528, rel=1e-3)
    assert (found["state"], found["shown"]) == ("over", "6.4 V, 5.3 %")
    assert found["line"].startswith("over the 5 % recommended in all")
    found = drop(phone_door, cable_size="2.5 mm2", cable_length_m="50 m", voltage_v="230 V")
    assert found["value"] == pytest.approx(0.06642135652, rel=2e-3)


def test_a_measured_cable_outranks_the_table_and_three_percent_is_the_branch(phone_door: Door) -> None:
    """2 x 30.48 m x 4 ohm/km x 16 A = 3.90144 V, 3.2512 % of 120 V, by hand; half the length is within 3 %."""
    table = {"cable_size": "12 AWG", "cable_length_m": "30.48 m"}
    found = drop(phone_door, **table, cable_ohm_per_km="4 ohm/km", figures_from="measured, new drum")
    assert found["value"] == pytest.approx(0.032512, rel=1e-9)
    assert found["line"].startswith("over the 3 % recommended on a branch")
    assert found["line"].endswith("measured; unroll it; figures from: measured, new drum")
    half = drop(phone_door, cable_length_m="15.24 m", cable_ohm_per_km="4 ohm/km")
    assert half["state"] == SAFE
    assert asked_for(drop(phone_door)) == [("circuit/wall", "cable_length_m"), ("circuit/wall", "cable_size")]


def test_leakage_adds_up_on_one_protective_device(phone_door: Door) -> None:
    """Three tenths of a 30 mA device is 9 mA (IEC 60364-5-53): 3 x 3 mA is at it, a fourth lamp is over."""
    day = a_wall({"device_ma": "30 mA"}, {"leakage_ma": "3 mA"})
    for place in range(2):
        day.act(GAFFER, "source", f"s-{place}", title="Sconce", circuit="wall", leakage_ma="3 mA")
    assert of(day, phone_door)["Leakage"]["state"] == SAFE
    day.act(GAFFER, "source", "s-9", title="Lantern", circuit="wall")
    silent = of(day, phone_door)["Leakage"]
    assert (silent["state"], silent["shown"]) == ("unknown", "at least 9 mA")
    assert asked_for(silent) == [("source/s-9", "leakage_ma")]
    day.act(GAFFER, "source", "s-9", leakage_ma="3 mA")
    assert of(day, phone_door)["Leakage"]["state"] == "over"


def test_protection_that_nobody_confirmed_is_not_known(phone_door: Door) -> None:
    day = a_wall({"residual_current_protected": "unknown"})
    assert of(day, phone_door)["Protection"]["state"] == "unknown"
    assert thing(part(day, phone_door, "power")["circuits"], "circuit/wall")["caution"]["code"] == "wet"
    assert "Protection" not in of(a_wall(), phone_door)


def three_legs(watts: tuple[str, str, str], factor: str = "1", **more: Any) -> ADay:
    day = a_wall(
        {"phase_count": 3, "breaker_a": "63 A", "voltage_v": "100 V", **more}, {"input_w": watts[0], "leg": 1}
    )
    day.act(GAFFER, "source", "key", power_factor_ratio=factor)
    for leg in (2, 3):
        lamp = {
            "title": f"Lamp {leg}",
            "circuit": "wall",
            "input_w": watts[leg - 1],
            "power_factor_ratio": factor,
        }
        day.act(GAFFER, "source", f"lamp-{leg}", leg=leg, **lamp)
    return day


def test_the_neutral_of_three_legs_is_the_phasor_sum(phone_door: Door) -> None:
    """48, 36 and 20 A of plain heat: 24.331 A in the neutral (circuit theory); the largest deviation from the
    mean, 34.667 A, is that of 20 A: 42 % (NEMA MG 1)."""
    found = of(three_legs(("4800 W", "3600 W", "2000 W")), phone_door)
    assert [found[f"Leg {leg}"]["shown"] for leg in (1, 2, 3)] == ["48 A", "36 A", "20 A"]
    assert found["Leg 1"]["state"] == SAFE  # 80 % of 63 A is 50.4 A
    assert found["Neutral"]["value"] == pytest.approx(24.33105012, rel=1e-9)
    assert "differ by 42 %" in found["Neutral"]["line"]


def test_electronic_supplies_leave_the_neutral_unknown(phone_door: Door) -> None:
    found = of(three_legs(("2400 W", "2400 W", "2400 W"), factor="0.6"), phone_door)["Neutral"]
    assert (found["state"], found["shown"]) == ("unknown", "at least 0 A")
    assert "clamp it" in found["line"]


def test_a_load_without_a_leg_may_be_on_any(phone_door: Door) -> None:
    day = three_legs(("4800 W", "3600 W", "2000 W"))
    day.act(GAFFER, "source", "lamp-2", leg=None)
    found = of(day, phone_door)
    assert (found["Leg 1"]["state"], found["Leg 3"]["state"]) == ("unknown", "unknown")
    assert ("source/lamp-2", "leg") in asked_for(found["Leg 1"])
    assert found["Neutral"]["state"] == "unknown"


def test_loads_are_spread_over_three_legs_as_evenly_as_they_go(phone_door: Door) -> None:
    """2000, 1200, 1200, 800, 650, 650, 400, 300 W: no spread is better than 2400 W a leg (exhaustive search)."""
    day = a_wall({"phase_count": 3}, {"input_w": "2000 W"})
    for place, watts in enumerate((1200, 1200, 800, 650, 650, 400, 300)):
        day.act(GAFFER, "source", f"s-{place}", title=f"Lamp {place}", circuit="wall", input_w=f"{watts} W")
    found = day.ask(phone_door, "spread_legs", circuit="wall")
    assert sorted(found["leg_w"]) == [2400.0, 2400.0, 2400.0]
    assert found["is_best"]
    assert sorted({one["leg"] for one in found["legs"]}) == [1, 2, 3]
    assert len(found["legs"]) == 8


def test_what_speaks_against_the_shot_is_told_in_words(phone_door: Door) -> None:
    said = part(a_wall(lamp={"input_w": "3000 W", "power_factor_ratio": "1"}), phone_door, "over")
    assert [one["record"] for one in said] == ["circuit/wall", "circuit/wall"]
    assert said[0]["sentence"].replace("\u00a0", " ").startswith("Wall, load: 25 A; 16 A may flow")
    assert part(a_wall(), phone_door, "over") == []


def test_a_lamp_that_nobody_plugged_in_is_named(phone_door: Door) -> None:
    found = part(a_shot_in(), phone_door, "power")
    assert [(one["record"], one["field"]) for one in found["nowhere"]] == [("source/key", "circuit")]
    assert found["circuits"] == []


BLOCKS = {"input_w": "45 W", "energy_wh": "98 Wh", "usable_ratio": "0.8", "run_h": "6 h"}


def on_batteries(door: Door, **lamp: Any) -> dict[str, Figure]:
    day = a_shot_in()
    day.act(ASSISTANT_DIRECTOR, "day", "d", title="Day", call_time="20:00", wrap_time="06:00")
    day.act(GAFFER, "source", "key", **lamp)
    return by_label(part(day, door, "power")["batteries"][0])


def test_batteries_for_the_hours_in_the_cold(phone_door: Door) -> None:
    """45 W for 6 h off 98 Wh blocks, 80 % usable, 0.7 in the cold: 4.92, so five (arithmetic of energy)."""
    found = on_batteries(phone_door, **BLOCKS, cold_ratio="0.7", batteries=4)["Batteries"]
    assert (found["value"], found["state"], found["shown"]) == (5, "over", "5 for 6 h")
    assert on_batteries(phone_door, **BLOCKS, cold_ratio="0.7", batteries=5)["Batteries"]["state"] == SAFE


def test_run_time_of_one_battery(phone_door: Door) -> None:
    """234 Wh, 85 % usable, 0.8 in the cold, 60 W through a 90 % converter: 2.3868 h (arithmetic of energy)."""
    block = {"input_w": "60 W", "energy_wh": "234 Wh", "usable_ratio": "0.85", "converter_ratio": "0.9"}
    found = on_batteries(phone_door, **block, cold_ratio="0.8")["Runs for"]
    assert found["value"] == pytest.approx(2.3868, rel=1e-9)
    assert found["shown"] == "2.3 h a battery"  # a reserve is rounded down


def test_what_the_cold_leaves_is_never_assumed_and_the_day_gives_the_hours(phone_door: Door) -> None:
    """20:00 to 06:00 is ten hours: 45 W x 10 h / (98 Wh x 0.8 x 0.7) = 8.2, so nine, by hand."""
    silent = on_batteries(phone_door, **BLOCKS, batteries=99)
    assert (silent["Batteries"]["state"], silent["Runs for"]["state"]) == ("unknown", "unknown")
    assert asked_for(silent["Batteries"]) == [("source/key", "cold_ratio")]
    all_day = {name: value for name, value in BLOCKS.items() if name != "run_h"}
    assert (
        on_batteries(phone_door, **all_day, cold_ratio="0.7", batteries=9)["Batteries"]["shown"]
        == "9 for 10 h"
    )
