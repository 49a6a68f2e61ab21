"""Every table has the same shape, every figure a unit and a source, and what is not known says so."""

from __future__ import annotations

import math
import re

import pytest

from seed_data.tables import ENDS, TABLES, at, figures, table

KINDS = {"seen", "from memory", "common practice, no source", "definition", "computed", "not known"}
UNITS = {
    "_w": "W", "_v": "V", "_a": "A", "_ah": "Ah", "_wh": "Wh", "_k": "K", "_cd": "cd", "_sr": "sr", "_deg": "deg",
    "_degc": "degC", "_lm_w": "lm/W", "_ratio": "ratio", "_percent": "percent", "_m": "m", "_kg": "kg", "_g": "g",
    "_ml": "mL", "_h": "h", "_min": "min", "_mm2": "mm2", "_kg_l": "kg/L", "_kg_m": "kg/m", "_kg_m3": "kg/m3",
    "sugars_g_100g": "g/100 g", "caffeine_mg_100g": "mg/100 g", "ohm_per_m": "ohm/m", "ohm_per_km": "ohm/km",
    "ohm_per_1000_ft": "ohm/1000 ft", "leg_count": "legs", "phase_count": "phases", "air_travel": "rule",
}  # fmt: skip

every_table = pytest.mark.parametrize("name", TABLES)


@every_table
def test_a_table_has_a_text_sources_and_rows(name: str) -> None:
    assert list(table(name)) == ["about", "sources", "rows"]
    assert len(table(name)["about"]) > 100
    assert table(name)["rows"]


@every_table
def test_a_source_says_what_kind_of_knowledge_it_is(name: str) -> None:
    for key, source in table(name)["sources"].items():
        assert source["kind"] in KINDS, key
        assert source["title"], key
        assert source["part"], key
        if source["kind"] == "seen":
            assert re.fullmatch(r"20\d\d-\d\d-\d\d", source["read"]), key
        else:
            assert set(source) == {"title", "part", "kind"}, key


@every_table
def test_every_source_named_exists_and_every_source_is_used(name: str) -> None:
    named = {figure["source"] for _, figure in figures(table(name)["rows"])}
    assert named == set(table(name)["sources"])


@every_table
def test_a_figure_is_one_value_or_rises_from_low_over_typical_to_high(name: str) -> None:
    for field, figure in figures(table(name)["rows"]):
        if "value" in figure:
            assert set(figure) == {"value", "unit", "source"}, (field, figure)
        else:
            assert set(figure) == {*ENDS, "unit", "source"}, (field, figure)
            assert all(math.isfinite(figure[end]) for end in ENDS), (field, figure)
            assert 0 <= figure["low"] <= figure["typical"] <= figure["high"], (field, figure)
            assert figure["low"] < figure["high"], f"{field} has no spread: write one value"


@every_table
def test_nothing_is_filled_in_for_what_is_not_known(name: str) -> None:
    sources = table(name)["sources"]
    for field, figure in figures(table(name)["rows"]):
        is_unknown = sources[figure["source"]]["kind"] == "not known"
        assert ("value" in figure and figure["value"] is None) == is_unknown, (field, figure)


@every_table
def test_a_field_ends_in_its_unit(name: str) -> None:
    for field, figure in figures(table(name)["rows"]):
        ending = max((end for end in UNITS if field.endswith(end)), key=len)
        assert UNITS[ending] == figure["unit"], field


@every_table
def test_a_share_lies_between_none_and_all(name: str) -> None:
    for field, figure in figures(table(name)["rows"]):
        if field.endswith("_ratio") and figure.get("value", 0) is not None:
            assert all(0 <= at(figure, end) <= 1 for end in ENDS), field


@every_table
def test_ids_and_names_are_unique(name: str) -> None:
    ids = [row["id"] for row in table(name)["rows"]]
    assert all(re.fullmatch(r"[a-z][a-z0-9_]*", row_id) for row_id in ids)
    assert len(set(ids)) == len(ids)
    names = [row["name"] for row in table(name)["rows"]]
    assert all(names)
    assert len(set(names)) == len(names)


@every_table
def test_every_row_has_a_caution_that_says_who_decides(name: str) -> None:
    for row in table(name)["rows"]:
        assert re.search(r"\bdecides?\b", row["caution"]), row["id"]


@every_table
def test_nothing_is_called_safe(name: str) -> None:
    words = " ".join(
        str(text) for row in table(name)["rows"] for text in row.values() if isinstance(text, str)
    )
    assert not re.search(r"\b(?:is|are|be) (?:\w+ )?safe\b|\bsafely\b|\bharmless\b", words)
