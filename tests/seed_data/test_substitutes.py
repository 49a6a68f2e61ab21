"""Household things in place of kit: none without its caution, none rated, none said to be safe."""

from __future__ import annotations

import pytest

from seed_data.tables import rows, table
from tailslate.day import cautions

ROWS = rows("substitutes")


def test_the_table_says_that_it_has_no_source() -> None:
    assert "no source" in table("substitutes")["about"]
    assert len({row["id"] for row in ROWS}) == len(ROWS)


@pytest.mark.parametrize("row", ROWS, ids=[row["id"] for row in ROWS])
def test_each_has_a_caution_that_names_the_danger_and_who_decides(row: dict[str, str]) -> None:
    assert row["caution"] in cautions.SENTENCES
    assert row["warning"].endswith(("decide.", "decides."))
    assert "safe" not in (row["how"] + row["warning"]).lower().replace("a safety on", "")
    assert len(row["how"] + " " + row["warning"]) < 1000


def test_every_use_is_told_apart() -> None:
    assert {row["does"] for row in ROWS} >= {"bounce", "diffusion", "weight", "flag", "stand", "glass"}
