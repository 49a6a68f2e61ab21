"""CSV cells: nothing that a spreadsheet runs gets out, nothing is lost, numbers stay numbers.

Outside: RFC 4180 (quotes and line ends), OWASP "CSV Injection" for what begins a formula, both from memory.
"""

from __future__ import annotations

import csv
import io
import re
from decimal import Decimal

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from tailslate.pack import cells

BEGINS_A_FORMULA = "=+-@\t\r＝＋－＠"
TEXTS = st.text(st.characters(exclude_categories=["Cs"])) | st.text(
    "'=+-@＝＠ \t\r\n\";,1a\u200b\ufeff", max_size=6
)
NUMBERS = st.integers() | st.decimals(allow_nan=False, allow_infinity=False, places=3)


@given(st.lists(st.lists(TEXTS, min_size=1, max_size=4), max_size=4))
@example([["'=1"], ["''=1"], [" =1"], ["'"], [""], ["\ufeff=1"], ["a\r\nb"], ["\n\n=;'=\t\t'"]])
def test_texts_come_back_as_they_were(rows: list[list[str]]) -> None:
    assert cells.read(cells.written(rows)) == rows


@given(TEXTS)
@example("\u00a0=1")
@example("\n@SUM(1)")
@example("x;=1+1")
@example("line\n-1+1")
def test_no_text_begins_a_formula_wherever_a_spreadsheet_may_begin_a_cell(text: str) -> None:
    """Where ; divides cells, LibreOffice 7.4 splits inside quotes that do not begin a cell (seen in a trial)."""
    (row,) = csv.reader(io.StringIO(cells.written([[text]])[1:], newline=""))
    for piece in re.split("[;\t\r\n]", row[0]):
        seen = re.sub("^[\\s\u200b-\u200f\u2060\ufeff]+", "", piece)
        assert not (seen and seen[0] in BEGINS_A_FORMULA)
    assert not (row[0] and row[0][0] in BEGINS_A_FORMULA)


@given(st.lists(NUMBERS, min_size=1))
def test_numbers_stay_numbers(row: list[int | Decimal]) -> None:
    line = cells.written([row])[1:].removesuffix("\r\n")
    assert [Decimal(one) for one in line.split(",")] == [Decimal(one) for one in row]


@pytest.mark.parametrize(
    ("cell", "as_written"),
    [
        (-12, "-12"),
        ("-12", '"\'-12"'),
        ("+44 20", '"\'+44 20"'),
        ('say "go"; =1', '"say ""go"";\' =1"'),
        ("12C", '"12C"'),
    ],
)
def test_the_file_as_it_stands(cell: cells.Cell, as_written: str) -> None:
    """Every text is quoted: where `;` divides cells, a text that holds one stays one cell."""
    assert cells.written([[cell]]) == "\ufeff" + as_written + "\r\n"
