"""Rounding, counts, comparisons and sums against exact fractions and decimals, and alike on the phone's Python."""

from __future__ import annotations

import json
import math
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Context, Decimal
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from micropython.interpreter import MicroPython
from tailslate.craft.errors import RuleError
from tailslate.craft.rounding import (
    compare,
    count_up,
    decimal_text,
    nine_digits,
    plain_text,
    round_down,
    round_half_up,
    round_up,
    settled,
    total,
)

NUMBERS = st.floats(min_value=-1e9, max_value=1e9, allow_nan=False).filter(
    lambda value: value == 0 or abs(value) > 1e-12
)
NINE = Context(prec=9, rounding=ROUND_HALF_UP)


def settled_decimal(value: float) -> Decimal:
    return NINE.create_decimal(Decimal(value))


@given(NUMBERS)
def test_nine_digits_are_those_of_decimal_but_for_a_hair_beside_a_half(value: float) -> None:
    mantissa, exponent = nine_digits(value)
    apart = abs(Decimal(mantissa).scaleb(exponent) - Decimal(value))
    # Half a step of the ninth digit, and the hair by which one division of doubles may miss it.
    assert apart <= Decimal(10) ** exponent * Decimal("0.5000001")
    assert mantissa == 0 or 10**8 <= abs(mantissa) < 10**9


@given(NUMBERS, st.integers(0, 6))
def test_a_number_typed_with_few_digits_rounds_as_people_round(value: float, digits: int) -> None:
    typed = Decimal(decimal_text(value, 5))  # at most nine digits, five of them decimals
    if abs(typed) >= 10**4:
        typed = typed.quantize(Decimal(1))
    shown = Decimal(decimal_text(float(typed), digits))
    expected = settled_decimal(float(typed)).quantize(Decimal(1).scaleb(-digits), ROUND_HALF_UP)
    assert shown == expected
    assert Decimal(str(round_half_up(float(typed), digits))) == pytest.approx(expected)


@given(NUMBERS, st.integers(0, 4))
def test_up_is_never_under_and_down_never_over(value: float, digits: int) -> None:
    exact = settled_decimal(value)
    step = Decimal(1).scaleb(-digits)
    assert Decimal(round_up(value, digits)) == pytest.approx(
        exact.quantize(step, ROUND_CEILING), rel=Decimal("1e-15")
    )
    assert Decimal(round_down(value, digits)) == pytest.approx(
        exact.quantize(step, ROUND_FLOOR), rel=Decimal("1e-15")
    )


@given(st.lists(NUMBERS, max_size=30))
def test_a_sum_is_fsums_and_the_same_in_any_order(values: list[float]) -> None:
    expected = math.fsum(values)
    assert total(values) == total(list(reversed(values)))
    assert total(values) == pytest.approx(expected, rel=1e-12, abs=1e-12 * max(map(abs, values), default=0))


@pytest.mark.parametrize(
    ("value", "limit", "order"),
    [
        (0.1 + 0.2, 0.3, 0),
        (15.999999999999998, 16.0, 0),
        (16.0000001, 16.0, 1),
        (-1.0, 0.0, -1),
        (0.0, 0.0, 0),
        (1e-300, 0.0, 1),
        (1e22, 1e22 * (1 + 1e-12), 0),
        (4.99999999, 5.0, -1),
    ],
)
def test_a_threshold_is_met_by_what_is_equal_on_paper(value: float, limit: float, order: int) -> None:
    assert compare(value, limit) == order
    assert compare(limit, value) == -order


@given(st.integers(1, 10**6), st.integers(1, 10**4))
def test_bags_and_rolls_are_counted_as_on_paper(needed: int, each: int) -> None:
    if needed / each < 10**8:
        assert count_up(needed / each) == -(-needed // each)


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_refused(value: float) -> None:
    for call in (nine_digits, settled, plain_text, count_up, lambda v: total([v]), lambda v: compare(v, 1.0)):
        with pytest.raises(RuleError) as refused:
            call(value)
        assert refused.value.code == "not_a_number"


def test_a_count_below_nothing_is_refused() -> None:
    with pytest.raises(RuleError) as refused:
        count_up(-0.5)
    assert refused.value.code == "negative"


def test_text_has_a_sign_only_where_something_is_left() -> None:
    assert decimal_text(-0.0004, 3) == "0.000"
    assert decimal_text(0.0004, 1, signed=True) == "0.0"
    assert decimal_text(-2.5, 0) == "-3"
    assert decimal_text(1234567.891, 2) == "1234567.89"
    assert plain_text(1e-7) == "0.0000001"
    assert plain_text(123456789012.0) == "123456789000"


def test_both_pythons_round_count_compare_and_add_alike(micropython: MicroPython) -> None:
    draw = np.random.default_rng(3)
    values = [float(10 ** draw.uniform(-12, 12) * draw.choice([-1, 1])) for _ in range(400)]
    values += [k / 8 for k in range(-40, 41)] + [k * 0.05 for k in range(100)] + [0.0, 1e-300, 1e300]
    # Each is handed over as the whole number of its bits' fraction: text of floats may itself differ.
    pairs = [list(map(str, Fraction(value).as_integer_ratio())) for value in values]
    program = f"""
import json
from tailslate.craft.rounding import *
from tailslate.craft.rounding import nine_digits, compare, total
def exact(top, bottom):
    top, bottom = int(top), int(bottom)
    sign, top, power = (-1.0 if top < 0 else 1.0), abs(top), 0
    while top % 2 == 0 and top:
        top, power = top // 2, power + 1
    while bottom > 1:
        bottom, power = bottom // 2, power - 1
    value = sign * float(top)
    while power > 0:
        value, power = value * 2.0, power - 1
    while power < 0:
        value, power = value / 2.0, power + 1
    return value
values = [exact(*pair) for pair in json.loads({json.dumps(pairs)!r})]
found = []
for place, value in enumerate(values):
    row = [list(nine_digits(value)), compare(value, values[place - 1])]
    if abs(value) < 1e15:
        row += [decimal_text(value, 0), decimal_text(value, 2), decimal_text(value, 5, signed=True)]
        row += [plain_text(value), list(nine_digits(round_up(value, 1))), list(nine_digits(round_down(value, 1)))]
    found.append(row)
found.append(list(nine_digits(total(values[:400]))))
print(json.dumps(found))
"""
    there = json.loads(micropython.run(program))
    here = []
    for place, value in enumerate(values):
        row: list[object] = [list(nine_digits(value)), compare(value, values[place - 1])]
        if abs(value) < 1e15:
            row += [decimal_text(value, 0), decimal_text(value, 2), decimal_text(value, 5, signed=True)]
            row += [plain_text(value), list(nine_digits(round_up(value, 1)))]
            row += [list(nine_digits(round_down(value, 1)))]
        here.append(row)
    here.append(list(nine_digits(total(values[:400]))))
    assert [row for row, other in zip(here, there, strict=True) if row != other] == []
