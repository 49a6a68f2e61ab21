"""Values in the words that people read, in both units, and what they type back, on both Pythons."""

from __future__ import annotations

import json
from typing import Any

import pytest

from a_day import Door
from tailslate.day import shown

# Definitions of NIST SP 811: 1 ft = 0.3048 m, 1 lb = 0.45359237 kg, 1 fc = 1 lm/ft^2 = 10.76391042 lx.
SHOWN = [
    ("setup", "camera_height_m", ["1.93", "193 cm"], "1.93 m", "6 ft 4 in"),
    ("level", "distance_m", ["2.7", "2.7 m"], "2.7 m", "8 ft 10 in"),
    ("drink", "line_height_m", ["0.024", "24 mm"], "24 mm", "1 in"),
    ("drink", "fill_l", ["0.06", "60 ml"], "60 ml", "60 ml"),
    ("rig", "bag_kg", ["12.5", "12.5 kg"], "12.5 kg", "27.6 lb"),
    ("reading", "illuminance_lx", ["1076.391", "100 fc"], "1080 lx", "100 fc"),
    ("setup", "lens_mm", ["35", "35 mm"], "35 mm", "35 mm"),
    ("shot", "t_stop", ["2.8", "T2.8"], "T2.8", "T2.8"),
    ("shot", "shutter_angle_deg", ["172.8", "172.8"], "172.8\u00b0", "172.8\u00b0"),
    ("shot", "frame_rate_per_s", ["23.976", "23.976"], "23.976 fps", "23.976 fps"),
    ("source", "intensity_cd", ["20000", "20000 cd"], "20 000 cd", "20 000 cd"),
    ("layer", "transmittance_ratio", ["0.5", "0.5"], "1.0 stop down (50 %)", "1.0 stop down (50 %)"),
    ("level", "output_ratio", ["0.413", "0.413"], "1.3 stops down (41.3 %)", "1.3 stops down (41.3 %)"),
    ("level", "output_ratio", ["1", "100 %"], "100 %", "100 %"),
    ("dressing", "reflectance_ratio", ["0.68", "0.68"], "68 %", "68 %"),
    ("source", "power_factor_ratio", ["0.95", "0.95"], "0.95", "0.95"),
    ("layer", "depth_to_width_ratio", ["2", "2"], "2", "2"),
    ("level", "dimmer_percent", ["60", "60 %"], "60 %", "60 %"),
    ("shot", "phase", "last_looks", "last looks", "last looks"),
    (
        "person",
        "departments",
        ["grip", "assistant_directors"],
        "Grip, Assistant directors",
        "Grip, Assistant directors",
    ),
    ("task", "done", False, "not done", "not done"),
    ("task", "done", ["done", []], "done", "done"),
    ("level", "distance_m", None, "not known", "not known"),
    ("level", "distance_m", "a newer shape", "not known", "not known"),
]
TYPED = [
    ("setup", "camera_height_m", "6 ft 4 in", "metric", "1.9304"),
    ("setup", "camera_height_m", "6", "imperial", "1.8288"),
    ("setup", "camera_height_m", "2", "metric", "2"),
    ("setup", "lens_mm", "35 mm", "metric", "35"),
    ("shot", "t_stop", "T2.8", "metric", "2.8"),
    ("shot", "frame_rate_per_s", "24 fps", "metric", "24"),
    ("shot", "calibration_constant", "C 250", "metric", "250"),
    ("level", "dimmer_percent", "60 %", "metric", "60"),
    ("layer", "transmittance_ratio", "45 %", "metric", "0.45"),
    ("reading", "illuminance_lx", "1,5", "metric", "1.5"),
    ("drink", "fill_l", "60 ml", "metric", "0.06"),
]  # fmt: skip


def ask(door: Door, do: str, **asked: Any) -> dict[str, Any]:
    answer: dict[str, Any] = json.loads(door(json.dumps({"do": do, **asked})))
    return answer


@pytest.mark.parametrize(("kind", "field", "value", "metric", "imperial"), SHOWN)
def test_a_value_reads_as_people_say_it(
    phone_door: Door, kind: str, field: str, value: Any, metric: str, imperial: str
) -> None:
    for units, expected in (("metric", metric), ("imperial", imperial)):
        found = ask(phone_door, "show", kind=kind, field=field, value=value, units=units)
        assert found["shown"].replace("\u00a0", " ") == expected
        assert found["both"][units] == found["shown"]


def test_a_figure_never_parts_from_its_unit(phone_door: Door) -> None:
    assert (
        ask(phone_door, "show", kind="level", field="distance_m", value=["2.7", ""])["shown"] == "2.7\u00a0m"
    )


@pytest.mark.parametrize(("kind", "field", "typed", "units", "expected"), TYPED)
def test_what_is_typed_is_kept_beside_its_decimal(
    phone_door: Door, kind: str, field: str, typed: str, units: str, expected: str
) -> None:
    found = ask(phone_door, "read_typed", kind=kind, field=field, typed=typed, units=units)
    assert found["value"] == [expected, typed]


@pytest.mark.parametrize(
    ("typed", "code"), [("", "blank"), ("1,234 m", "thousands_or_decimals"), ("60 kg", "unit_not_for_field")]
)
def test_what_could_mean_two_things_is_asked_back(phone_door: Door, typed: str, code: str) -> None:
    found = ask(phone_door, "read_typed", kind="level", field="distance_m", typed=typed)
    assert (found["ok"], found["code"]) == (False, code)


def test_a_field_without_a_figure_takes_none(phone_door: Door) -> None:
    assert ask(phone_door, "read_typed", kind="task", field="title", typed="2 m")["code"] == "not_a_quantity"


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (-1.0, -1.0, "1.0 stop under"),
        (-3.0, -3.0, "3.0 stops under"),
        (0.5, 0.5, "0.5 stops over"),
        (0.04, -0.0, "on the target"),
        (-4.2, -3.8, "3.8 to 4.2 under"),
        (1.1, 1.5, "1.1 to 1.5 over"),
        (-0.3, 0.5, "0.3 under to 0.5 over"),
        (-0.3, 0.0, "0.0 to 0.3 under"),
    ],
)
def test_under_and_over_are_words_and_a_range_is_written_with_to(low: float, high: float, words: str) -> None:
    assert shown.stops(low, high) == words


def test_a_layer_takes_stops_and_one_that_brings_light_says_so() -> None:
    assert shown.loss(1.3, 2.0) == "takes 1.3 to 2.0"
    assert shown.loss(-0.4, -0.2) == "adds 0.2 to 0.4"
    assert shown.loss(-0.1, 0.2) == "takes -0.1 to 0.2"


@pytest.mark.parametrize(
    ("minutes", "words"),
    [(0, "0 min"), (2, "2 min"), (119, "119 min"), (120, "2 h"), (2880, "2 d"), (-10, "not known")],
)
def test_an_age_is_in_whole_units_and_one_from_the_future_is_not_known(minutes: int, words: str) -> None:
    now_ms = 1_764_054_000_000
    assert shown.age(now_ms - minutes * 60_000, now_ms).replace("\u00a0", " ") == words


def test_a_time_of_day_is_on_the_clock_of_the_place() -> None:
    at_ms = 1_764_079_140_000  # 25 November 2025, 13:59 UTC
    assert [shown.clock(at_ms, offset) for offset in (0, 60, -300, 660)] == [
        "13:59",
        "14:59",
        "08:59",
        "00:59",
    ]
