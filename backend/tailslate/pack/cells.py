"""Cells of a CSV file that no spreadsheet runs: what could begin a formula gets one apostrophe in front.

C1 text stays text: every text is quoted (RFC 4180) and marked where a spreadsheet might run it: at its start, and after
what some spreadsheets take for the end of a cell whatever the quotes say (a semicolon, TAB, a new line). C2 a number
stays a number: it is neither quoted nor marked. C3 reading takes off exactly the marks that writing put on.
What begins a formula: OWASP, CSV Injection (= + - @ TAB CR and their full-width forms), read from memory.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence
from decimal import Decimal

Cell = str | int | Decimal

MARK = "'"
BYTE_ORDER_MARK = "\ufeff"  # some spreadsheets take a file without it for another encoding
# After white space and letters that show nothing; and after apostrophes, so that a text's own one is never taken off.
_NOT_SEEN = "[^\\S\t\r\n]|[\u200b-\u200f\u2060\ufeff\x00]"
_COULD_RUN = f"(?='*(?:{_NOT_SEEN})*[-=+@\t\r\x00\uff1d\uff0b\uff0d\uff20\u2212\ufe62\ufe63\ufe66\ufe6b])"
_BEGINS = r"(?:\A|(?<=[;\t\r\n]))"
_TO_MARK = re.compile(_BEGINS + _COULD_RUN)
_MARKED = re.compile(_BEGINS + MARK + _COULD_RUN)


def written(rows: Iterable[Sequence[Cell]]) -> str:
    """Return rows as the text of a CSV file, byte order mark and all."""
    target = io.StringIO(newline="")
    target.write(BYTE_ORDER_MARK)
    writer = csv.writer(target, lineterminator="\r\n", quoting=csv.QUOTE_NONNUMERIC)
    writer.writerows([guarded(one) if isinstance(one, str) else one for one in row] for row in rows)
    return target.getvalue()


def read(text: str) -> list[list[str]]:
    """Return the rows of such a file, every cell as the text that it was."""
    source = io.StringIO(text.removeprefix(BYTE_ORDER_MARK), newline="")
    return [[bared(one) for one in row] for row in csv.reader(source, strict=True)]


def guarded(text: str) -> str:
    """Return a text with the mark wherever a spreadsheet might run it.

    >>> guarded("=1+1"), guarded("+44 20"), guarded("12C"), guarded("a;=1")
    ("'=1+1", "'+44 20", '12C', "a;'=1")
    """
    return _TO_MARK.sub(MARK, text)


def bared(text: str) -> str:
    """Return a text without the marks that `guarded` put on."""
    return _MARKED.sub("", text)
