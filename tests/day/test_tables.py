"""What a record takes from a row of a shipped table: figures that may stand, the careful end, and where they are from."""

from __future__ import annotations

import json
from typing import Any

import pytest

from a_day import Door
from seed_data.tables import TABLES, row, rows
from tailslate.day import check, kinds, tables


def taken(door: Door, table: str, row_id: str, **asked: Any) -> dict[str, Any]:
    answer: dict[str, Any] = json.loads(
        door(json.dumps({"do": "table_values", "table": table, "row": row(table, row_id), **asked}))
    )
    return answer


@pytest.mark.parametrize("table", [*TABLES, "materials"])
def test_every_row_gives_values_that_its_record_accepts(table: str) -> None:
    for one in rows(table):
        if one.get("kind") == "tube":
            continue  # a tube is no record
        for fitting in range(max(1, len(one.get("fittings", [])))):
            found = tables.taken(table, one, fitting=fitting)
            assert check.faults(found["kind"], found["set"]) == [], one["id"]
            if kinds.field_of(found["kind"], "figures_from"):
                assert found["set"]["figures_from"].startswith("table, the careful end: ")


def test_of_a_range_the_careful_end_is_copied_and_never_a_rating(phone_door: Door) -> None:
    stand = row("stands", "grip_stand_tall")
    found = taken(phone_door, "stands", "grip_stand_tall")
    assert found["kind"] == "rig"
    assert float(found["set"]["stand_kg"][0]) == stand["mass_kg"]["low"]
    assert float(found["set"]["leg_radius_m"][0]) == stand["leg_radius_m"]["low"]
    assert found["set"]["legs"] == stand["leg_count"]["value"]
    assert "rating_kg" not in found["set"]
    tea = taken(phone_door, "beverages", "black_tea")
    assert (
        float(tea["set"]["caffeine_mg_per_hundred_g"][0])
        == row("beverages", "black_tea")["caffeine_mg_100g"]["high"]
    )
    assert tea["set"]["allergens"] == "none named in the table; read the label"
    block = taken(phone_door, "batteries", "camera_block_14v")
    assert float(block["set"]["cold_ratio"][0]) == row("batteries", "camera_block_14v")["cold_ratio"]["low"]


def test_a_lamp_brings_one_of_its_fittings_and_a_cable_its_size(phone_door: Door) -> None:
    lamp = row("lamps", "open_face_650")
    for place, name in ((0, "flood"), (1, "spot")):
        assert lamp["fittings"][place]["fitting"] == name
        found = taken(phone_door, "lamps", "open_face_650", fitting=place)["set"]
        assert float(found["intensity_high_cd"][0]) == lamp["fittings"][place]["intensity_cd"]["high"]
        assert float(found["power_factor_ratio"][0]) == lamp["power_factor_ratio"]["low"]
    assert taken(phone_door, "cables", "awg_12")["set"]["cable_size"] == "12 AWG"


def test_what_is_in_no_table_is_refused(phone_door: Door) -> None:
    found = json.loads(
        phone_door(json.dumps({"do": "table_values", "table": "kites", "row": {"name": "Kite"}}))
    )
    assert (found["ok"], found["code"]) == (False, "not_in_a_table")
