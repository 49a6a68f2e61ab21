"""What can stand on paper: a printed document is a list of blocks, plain dicts with ready words. paper.typ lays them out.

Knows no day. A word that is too long for any line gets places to break, so that nothing is ever cut.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Any

Block = dict[str, Any]

LONGEST_WORD = 18  # letters: what the narrowest column takes
ZERO_WIDTH_SPACE = "\u200b"
_LONG = re.compile(rf"[^\s\u200b]{{{LONGEST_WORD + 1},}}")
_PIECE = re.compile(rf"(.{{{LONGEST_WORD}}})(?=.)")
_NOT_SHOWN = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")

OPEN, DONE, AGAIN, TWO = "open", "done", "again", "two"  # forms of a box
ASK = "ask"  # a question stands there instead: nothing to tick yet


def words(text: str) -> str:
    """Return a text that breaks anywhere it must, without letters that turn or hide others."""
    return _LONG.sub(lambda long: _PIECE.sub(r"\1" + ZERO_WIDTH_SPACE, long[0]), _NOT_SHOWN.sub("", text))


def part(title: str, *, on_a_new_page: bool = True) -> Block:
    """A part of the document, on a page of its own unless it is short."""
    return {"block": "part", "title": words(title), "break": on_a_new_page}


def strip(number: str, title: str, word: str = "", *, is_small: bool = False) -> Block:
    """A strip of tape: number first, then the name; what state it is in stands beside it."""
    return {
        "block": "strip",
        "number": words(number),
        "title": words(title),
        "word": words(word),
        "small": is_small,
    }


def head(title: str) -> Block:
    """A heading inside a part."""
    return {"block": "head", "title": words(title)}


def line(text: str) -> Block:
    """A sentence."""
    return {"block": "line", "text": words(text)}


def name(text: str) -> Block:
    """What a thing is called, above its figures."""
    return {"block": "name", "text": words(text)}


def against(text: str) -> Block:
    """A sentence that speaks against the shot, or says what is not known."""
    return {"block": "against", "text": words(text)}


def caution(text: str) -> Block:
    """A caution: double rule, in the place that it is about."""
    return {"block": "caution", "text": words(text)}


def hold(text: str, word: str = "HOLD") -> Block:
    """A stop: hatched rail. Outranks what stands below it."""
    return {"block": "hold", "word": word, "text": words(text)}


def facts(rows: Iterable[Sequence[str]]) -> list[Block]:
    """Label and value, line by line; nothing for none."""
    found = [[words(one) for one in row] for row in rows]
    return [{"block": "facts", "rows": found}] if found else []


def facts_in_short(rows: Iterable[Sequence[str]]) -> list[Block]:
    """Label and value, three beside each other; nothing for none."""
    found = [[words(one) for one in row] for row in rows]
    return [{"block": "short", "rows": found}] if found else []


def big(rows: Iterable[Sequence[str]]) -> list[Block]:
    """Label and value, large: what must be read in a hurry."""
    return [{"block": "big", "rows": [[words(one) for one in row] for row in rows]}]


def figures(rows: Iterable[dict[str, str]]) -> list[Block]:
    """Figures: dict, keys label, shown, kind ("", reading, range), word (over, not known), line, ask."""
    found = [{name: words(one.get(name, "")) for name in FIGURE} for one in rows]
    return [{"block": "figures", "rows": found}] if found else []


FIGURE = ("label", "shown", "kind", "word", "line", "ask")


def ticks(rows: Iterable[dict[str, Any]]) -> list[Block]:
    """Rows with a box: dict, keys box, number, title, second, amount, must, word, lines, caution."""
    found = [
        {
            "box": one["box"],
            "number": one.get("number", ""),
            "title": words(one["title"]),
            "second": words(one.get("second", "")),
            "amount": words(one.get("amount", "")),
            "must": bool(one.get("must", True)),
            "word": words(one.get("word", "")),
            "lines": [words(each) for each in one.get("lines", [])],
            "caution": words(one.get("caution", "")),
        }
        for one in rows
    ]
    return [{"block": "ticks", "rows": found}] if found else []


def table(columns: Sequence[str], rows: Iterable[Sequence[str]], *, widths: Sequence[float]) -> list[Block]:
    """A table; widths are shares of the page's. Nothing for no rows."""
    found = [[words(one) for one in row] for row in rows]
    if not found:
        return []
    return [
        {"block": "table", "columns": [words(one) for one in columns], "widths": list(widths), "rows": found}
    ]


def together(found: Iterable[Block]) -> Block:
    """Blocks that stay on one page: for what is surely shorter than one."""
    return {"block": "together", "blocks": list(found)}


def code(drawing: str, *, beside: str) -> Block:
    """A QR code as SVG, with what it is for beside it."""
    return {"block": "code", "drawing": drawing, "text": words(beside)}


def drawing(svg: str) -> Block:
    """A drawing as wide as the page's text; the words in it are set by its own SVG."""
    return {"block": "drawing", "drawing": svg}


def all_words(blocks: Iterable[Any]) -> set[str]:
    """Return every letter that the blocks print."""
    letters: set[str] = set()
    for one in blocks:
        if isinstance(one, str):
            letters.update(one)
        elif isinstance(one, dict):
            letters |= all_words(value for name, value in one.items() if name not in ("drawing", "block"))
        elif isinstance(one, list):
            letters |= all_words(one)
    return letters
