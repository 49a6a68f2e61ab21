"""Reads the tables of seed_data, and walks the figures in them."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import cache
from typing import Any

from rules_bundle import REPOSITORY

FOLDER = REPOSITORY / "seed_data"
TABLES = ("lamps", "beverages", "stands", "cables", "outlets", "tapes", "batteries")
ENDS = ("low", "typical", "high")

Figure = dict[str, Any]
Row = dict[str, Any]


@cache
def table(name: str) -> dict[str, Any]:
    """One table: about, sources, rows."""
    read: dict[str, Any] = json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))
    return read


def rows(name: str, **fields: str) -> list[Row]:
    """The rows of a table whose fields have these values."""
    chosen: list[Row] = table(name)["rows"]
    return [row for row in chosen if all(row.get(field) == value for field, value in fields.items())]


def row(name: str, row_id: str) -> Row:
    """The row of that id."""
    return next(row for row in rows(name) if row["id"] == row_id)


def figures(part: Any, field: str = "") -> Iterator[tuple[str, Figure]]:
    """Every figure in a part of a table, with the name of its field."""
    if isinstance(part, dict):
        if "source" in part:
            yield field, part
        else:
            for name, inner in part.items():
                yield from figures(inner, name)
    elif isinstance(part, list):
        for inner in part:
            yield from figures(inner, field)


def at(figure: Figure, end: str) -> float:
    """The value of a figure at one end; a figure without spread has the same at all three."""
    value: float = figure[end] if end in figure else figure["value"]
    return value
