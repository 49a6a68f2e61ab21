"""The tables that ship to a phone are shorter, and give a record exactly what the whole tables give."""

from __future__ import annotations

import json
from typing import Any

import pytest

import tables_bundle
from tailslate import seed_data_folder
from tailslate.day import tables

ON_THE_PHONE = tables_bundle.tables()


@pytest.mark.parametrize("table", tables_bundle.SHIPPED)
def test_a_short_row_gives_what_the_whole_row_gives(table: str) -> None:
    whole: dict[str, dict[str, Any]] = {
        row["id"]: row
        for row in json.loads((seed_data_folder() / f"{table}.json").read_text(encoding="utf-8"))["rows"]
    }
    assert ON_THE_PHONE[table]
    for row in ON_THE_PHONE[table]:
        for place, fitting in enumerate(row.get("fittings", [None])):
            names = [one["fitting"] for one in whole[row["id"]].get("fittings", [])]
            there = names.index(fitting["fitting"]) if fitting else 0
            assert tables.taken(table, row, fitting=place) == tables.taken(
                table, whole[row["id"]], fitting=there
            )
