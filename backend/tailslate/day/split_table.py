"""Pasted or written tables -> rows of cells: RFC 4180, with tabs or semicolons in place of commas too.

Knows no column and no kind. T1 a quotation mark counts only at the start of a cell, so 6" stays six inches.
T2 rows are counted as a spreadsheet does: a line break inside a quoted cell begins no row.
"""

from tailslate.craft.errors import RuleError

SEPARATORS = ("\t", ";", ",", "|")
SAMPLE_LINES = 20


def separator_of(text: str) -> str:
    """Return what parts the cells: the mark by which most rows of a sample get equally many cells."""
    sample = "\n".join(text.split("\n")[:SAMPLE_LINES])
    best, found = (0, 0), "\t"
    for separator in SEPARATORS:
        if separator in sample:
            lengths = [len(row) for row in _rows(sample, separator)[0]]
            for length in set(lengths):
                score = (lengths.count(length), length)
                if length > 1 and score > best:
                    best, found = score, separator
    return found


def split(text: str, separator: str) -> "list[list[str]]":
    """Return the rows of a table; an empty row is [""].

    Args:
        text: with any line ends.
        separator: one of SEPARATORS.
    Raises: RuleError "quote_open".
    Source: RFC 4180, section 2; lenient where it forbids, as CPython's csv module is.

    >>> split('12A,"the deal, wide"', ",")
    [['12A', 'the deal, wide']]
    """
    rows, is_open = _rows(text, separator)
    if is_open:
        sentence = "a quotation mark opens in row {} and is never closed; close it, or take it out"
        raise RuleError("quote_open", sentence.format(len(rows)), row=len(rows))
    return rows


def _rows(text: str, separator: str) -> "tuple[list[list[str]], bool]":
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    if lines and lines[-1] == "":
        lines.pop()
    rows: list[list[str]] = []
    row: list[str] = []
    cell, is_open = "", False
    for line in lines:
        if not is_open and '"' not in line:
            rows.append(line.split(separator))
            continue
        at, is_fresh = 0, not is_open
        while True:
            if is_open:
                end = line.find('"', at)
                if end < 0:
                    cell += line[at:] + "\n"
                    break
                cell += line[at:end]
                is_open = line[end + 1 : end + 2] == '"'  # two of them stand for one
                cell += '"' if is_open else ""
                at = end + (2 if is_open else 1)
            elif is_fresh and line[at : at + 1] == '"':
                is_open, is_fresh, at = True, False, at + 1
            else:
                end = line.find(separator, at)
                row.append(cell + (line[at:] if end < 0 else line[at:end]))
                cell = ""
                if end < 0:
                    rows.append(row)
                    row = []
                    break
                at, is_fresh = end + 1, True
    if is_open:
        rows.append(row + [cell])
    return rows, is_open
