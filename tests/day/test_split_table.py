"""Tables are split as CPython's csv module splits them: the outside reference for RFC 4180 (Shafranovich 2005)."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tailslate.craft.errors import RuleError
from tailslate.day import split_table

CELL = st.text(st.sampled_from("aB1 ,;|\t\"'é=-\n"), max_size=8)
TABLE = st.lists(st.lists(CELL, min_size=2, max_size=5), min_size=1, max_size=6)


def by_csv(text: str, separator: str) -> list[list[str]]:
    """What csv.reader makes of it; its empty row is our row of one empty cell."""
    return [row or [""] for row in csv.reader(io.StringIO(text, newline=""), delimiter=separator)]


@settings(max_examples=300)
@given(
    rows=TABLE,
    separator=st.sampled_from(split_table.SEPARATORS),
    quoting=st.sampled_from([csv.QUOTE_ALL, csv.QUOTE_MINIMAL]),
    line_end=st.sampled_from(["\r\n", "\n"]),
)
def test_what_a_program_writes_comes_back_cell_by_cell(
    rows: list[list[str]], separator: str, quoting: int, line_end: str
) -> None:
    written = io.StringIO(newline="")
    csv.writer(written, delimiter=separator, quoting=quoting, lineterminator=line_end).writerows(rows)  # type: ignore[call-overload]
    assert split_table.split(written.getvalue(), separator) == rows


@settings(max_examples=500)
@given(text=st.text(st.sampled_from('ab,"\n'), max_size=30))
def test_what_no_program_writes_is_read_as_csv_reads_it(text: str) -> None:
    expected = by_csv(text, ",")
    try:
        found = split_table.split(text, ",")
    except RuleError:
        with pytest.raises(csv.Error):
            list(csv.reader(io.StringIO(text, newline=""), strict=True))
        return
    assert found == expected


@pytest.mark.parametrize(
    ("text", "separator"),
    [
        ("Shot\tLens\n1\t35", "\t"),
        ("Shot;Height\n1;1,8 m\n2;2,1 m", ";"),
        ("Shot,Title\n1,Wide\n2,Close", ","),
        ('Shot,Title\n1,"Wide; slow, then still"\n2,"a; b"', ","),
        ("Wide\nClose", "\t"),
    ],
)
def test_the_separator_is_found(text: str, separator: str) -> None:
    assert split_table.separator_of(text) == separator


def test_both_pythons_split_alike(phone_door: Callable[[str], str]) -> None:
    text = 'Shot,Title,Height\n12A,"the ""deal"",\nwide",6\'\n12B,6" of rope,1 m'
    asked = {"do": "bring_in", "text": text, "kind": "shot", "records": {}}
    answer = json.loads(phone_door(json.dumps(asked, ensure_ascii=False)))
    assert [row["title"] for row in answer["rows"]] == ['12A the "deal",\nwide', '12B 6" of rope']
