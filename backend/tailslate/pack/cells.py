"""Cells of a CSV file that no spreadsheet runs: text that could begin a formula gets one leading apostrophe.

C1 text stays text: every text is quoted (RFC 4180) and marked where a spreadsheet might run it. C2 a number stays a
number: it is neither quoted nor marked. C3 reading takes off exactly the mark that writing put on.
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
_COULD_RUN = re.compile(
    "'*[\\s\u200b-\u200f\u2060\ufeff\x00]*[-=+@\t\r\x00\uff1d\uff0b\uff0d\uff20\u2212\ufe62\ufe63\ufe66\ufe6b]"
)


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
    """Return a text with the mark in front when a spreadsheet might run it.

    >>> guarded("=1+1"), guarded("+44 20"), guarded("12C")
    ("'=1+1", "'+44 20", '12C')
    """
    return MARK + text if _COULD_RUN.match(text) else text


def bared(text: str) -> str:
    """Return a text without the mark that `guarded` put on."""
    return text[1:] if text.startswith(MARK) and _COULD_RUN.match(text) else text
