"""What people type, read without a float: exact where the unit is, a question where it could mean two things."""

from __future__ import annotations

import json
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from micropython.interpreter import MicroPython
from tailslate.craft.errors import RuleError
from tailslate.craft.quantity import quantity, stored_unit
from tailslate.craft.units import feet_and_inches_text

READ = [
    ("6 ft 4 in", "m", "1.9304"),
    ("6'4\"", "m", "1.9304"),
    ("6'4", "m", "1.9304"),
    ("6 ft 4", "m", "1.9304"),
    ("6\u2032 4\u00bd\u2033", "m", "1.9431"),
    ("12 ft", "m", "3.6576"),
    ("12", "ft", "3.6576"),
    ("12", "m", "12"),
    ("193 cm", "m", "1.93"),
    ("1 m 93 cm", "m", "1.93"),
    ("1,93 m", "m", "1.93"),
    ("0,125 m", "m", "0.125"),
    ("1.234 m", "m", "1.234"),
    ("  2.50 M ", "m", "2.5"),
    ("5 1/2 in", "m", "0.1397"),
    ("1/2 in", "m", "0.0127"),
    ("60 yd", "m", "54.864"),
    ("-6 ft 4 in", "m", "-1.9304"),
    ("\u22124 deg", "deg", "-4"),
    ("35 lb", "kg", "15.87573295"),
    ("3 lb 8 oz", "kg", "1.587573295"),
    ("1 1/3 stops", "stop", "1.333333333333"),
    ("45 %", "ratio", "0.45"),
    ("45", "%", "0.45"),
    ("5600K", "k", "5600"),
    ("41 \u00b0F", "degc", "5"),
    ("-40 degF", "degc", "-40"),
    ("30 km/h", "m/s", "8.333333333333"),
    ("2 h 15 min", "min", "135"),
    ("1.2 kW", "w", "1200"),
    ("750 ml", "l", "0.75"),
]


@pytest.mark.parametrize(("typed", "unit", "value"), READ)
def test_what_is_typed_is_read_as_it_is_said(typed: str, unit: str, value: str) -> None:
    assert quantity(typed, unit=unit) == {"value": value, "unit": stored_unit(unit), "as_typed": typed}


REFUSED = [
    ("", "m", "blank"),
    ("   ", "m", "blank"),
    ("1,234 m", "m", "thousands_or_decimals"),
    ("12,345", "lx", "thousands_or_decimals"),
    ("1.234,5 m", "m", "two_marks"),
    ("6 ft 2 m", "m", "mixed_units"),
    ("6 m 4 in", "m", "mixed_units"),
    ("6 m 4", "m", "mixed_units"),
    ("4 in 6 ft", "m", "mixed_units"),
    ("6 ft -4 in", "m", "mixed_units"),
    ("2 kg", "m", "unit_not_for_field"),
    ("100 lx", "ft", "unit_not_for_field"),
    ("3 parsecs", "m", "unit_unknown"),
    ("1e5", "lx", "unit_unknown"),
    ("abc", "m", "not_a_number"),
    ("nan", "m", "not_a_number"),
    ("1.5.2", "m", "not_a_number"),
    ("--5", "m", "not_a_number"),
    ("12 12", "m", "not_a_number"),
    ("1/0", "in", "not_a_number"),
    ("1 2/3/4", "in", "not_a_number"),
    ("9999999999999999", "m", "not_a_number"),
]


@pytest.mark.parametrize(("typed", "unit", "code"), REFUSED)
def test_what_could_mean_two_things_or_nothing_is_asked_back(typed: str, unit: str, code: str) -> None:
    with pytest.raises(RuleError) as refused:
        quantity(typed, unit=unit)
    assert refused.value.code == code
    assert refused.value.facts == {"typed": typed}


def test_the_question_about_a_comma_names_both_readings() -> None:
    with pytest.raises(RuleError) as refused:
        quantity("1,234 m", unit="m")
    assert "1234" in refused.value.sentence
    assert "1.234" in refused.value.sentence


@given(st.integers(0, 200), st.integers(0, 11), st.sampled_from([0, 1, 2, 3]))
def test_feet_inches_and_quarters_are_exact(feet: int, inches: int, quarters: int) -> None:
    typed = f"{feet} ft {inches} {quarters}/4 in"
    exact = (feet * 12 + inches + Fraction(quarters, 4)) * Fraction(254, 10000)
    assert Fraction(quantity(typed, unit="m")["value"]) == exact


@given(
    st.decimals(min_value=-99999, max_value=99999, places=4),
    st.sampled_from(["m", "cm", "mm", "kg", "g", "%"]),
)
def test_a_decimal_number_keeps_every_digit(number: object, unit: str) -> None:
    factor = {"m": 1, "cm": 100, "mm": 1000, "kg": 1, "g": 1000, "%": 100}[unit]
    found = quantity(f"{number} {unit}", unit=unit)["value"]
    assert Fraction(found) == Fraction(str(number)) / factor


@given(st.integers(0, 4000))
def test_what_is_shown_in_feet_and_inches_reads_back_within_half_an_inch(millimetres: int) -> None:
    shown = feet_and_inches_text(millimetres / 1000)
    assert abs(float(quantity(shown, unit="m")["value"]) - millimetres / 1000) <= 0.0127 + 1e-9


def test_the_phone_reads_and_refuses_alike(micropython: MicroPython) -> None:
    rows = [[typed, unit] for typed, unit, _ in READ + REFUSED]
    program = f"""
import json
from tailslate.craft.errors import RuleError
from tailslate.craft.quantity import quantity
found = []
for typed, unit in json.loads({json.dumps(rows)!r}):
    try:
        found.append(quantity(typed, unit=unit)["value"])
    except RuleError as error:
        found.append([error.code, error.sentence])
print(json.dumps(found))
"""
    here: list[object] = []
    for typed, unit in rows:
        try:
            here.append(quantity(typed, unit=unit)["value"])
        except RuleError as error:
            here.append([error.code, error.sentence])
    assert json.loads(micropython.run(program)) == here
