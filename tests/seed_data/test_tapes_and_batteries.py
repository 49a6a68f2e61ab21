"""Tapes by the yard and by the roll's diameter; batteries by volts and ampere-hours."""

from __future__ import annotations

import math

import pytest

from seed_data.tables import ENDS, Row, at, row, rows
from tailslate.craft.battery import battery_energy_wh

every_tape = pytest.mark.parametrize("tape", rows("tapes"), ids=lambda tape: tape["id"])
every_battery = pytest.mark.parametrize("battery", rows("batteries"), ids=lambda battery: battery["id"])


@pytest.mark.parametrize(
    ("tape_id", "length_m", "width_m"),
    [
        ("cloth_50_55yd", 50.292, 0.0508),
        ("cloth_50_60yd", 54.864, 0.0508),
        ("paper_25_60yd", 54.864, 0.0254),
        ("electrical_19", 20.1168, 0.01905),
    ],
)
def test_rolls_in_yards_are_metres_by_definition(tape_id: str, length_m: float, width_m: float) -> None:
    # The international yard and inch, 0.9144 m and 0.0254 m (NIST SP 811).
    tape = row("tapes", tape_id)
    assert tape["length_m"]["value"] == pytest.approx(length_m, abs=1e-4)
    assert tape["width_m"]["value"] == pytest.approx(width_m, abs=1e-5)


@every_tape
def test_the_diameter_of_a_full_roll_is_its_tape_and_its_core(tape: Row) -> None:
    # The side of the roll is the tape seen on edge: pi / 4 (outside^2 - core^2) = thickness x length.
    edge_m2 = tape["thickness_m"]["typical"] * at(tape["length_m"], "typical")
    outside_m = math.sqrt(tape["core_diameter_m"]["value"] ** 2 + 4 * edge_m2 / math.pi)
    assert tape["full_diameter_m"]["value"] == pytest.approx(outside_m, rel=0.006)


@every_tape
def test_a_tape_says_how_it_lifts_and_what_it_leaves(tape: Row) -> None:
    assert tape["lifts"]
    assert tape["residue"]


def test_tape_on_floors_is_no_ramp() -> None:
    for tape in rows("tapes"):
        if "floor" in tape["use"] or "steps" in tape["use"]:
            assert "ramp" in tape["caution"], tape["id"]


@every_battery
def test_energy_is_voltage_times_charge(battery: Row) -> None:
    for end in ENDS:
        energy_wh = battery_energy_wh(
            float(battery["voltage_v"]["value"]), charge_ah=float(battery["charge_ah"][end])
        )
        assert battery["energy_wh"][end] == pytest.approx(energy_wh, rel=0.0006)


def test_a_26_v_block_of_9_ah_holds_234_wh() -> None:
    assert row("batteries", "camera_block_26v")["energy_wh"]["typical"] == 234


@every_battery
def test_what_may_fly_follows_from_the_largest_of_its_class(battery: Row) -> None:
    # IATA, passengers travelling with lithium batteries, 2018: 100 Wh as carried, 160 Wh with approval.
    if not battery["chemistry"].startswith("lithium"):
        assert battery["air_travel"]["value"] == "ask the airline"
        return
    largest_wh = battery["energy_wh"]["high"]
    expected = "as carried" if largest_wh <= 100 else "ask the airline" if largest_wh <= 160 else "cargo only"
    assert battery["air_travel"]["value"] == expected


@every_battery
def test_the_cold_takes_some(battery: Row) -> None:
    assert battery["cold_ratio"]["high"] < 1
