"""The shipped materials: every figure has a source and can be; what is derived is derived again."""

from __future__ import annotations

import json
import math
import warnings
from typing import Any

import pytest

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # it says that it cannot draw; no drawing is asked of it
    import colour as outside

from tailslate import seed_data_folder
from tailslate.craft.layers import check_layer
from tailslate.craft.level import level_through_layers
from tailslate.craft.ranges import range_of

MATERIALS: dict[str, Any] = json.loads((seed_data_folder() / "materials.json").read_text(encoding="utf-8"))
ROWS = MATERIALS["rows"]
SHEETS = [row for row in ROWS if row["kind"] == "sheet"]


def figures(row: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in row.items() if isinstance(value, dict)}


@pytest.mark.parametrize("row", ROWS + MATERIALS["munsell_steps"], ids=lambda row: row["id"])
def test_every_figure_has_a_unit_a_source_and_an_order(row: dict[str, Any]) -> None:
    for name, figure in figures(row).items():
        assert figure["source"] in MATERIALS["sources"], name
        assert figure["unit"]
        if "value" not in figure:
            range_of(figure["low"], figure["typical"], figure["high"], field=name, unit=figure["unit"])
        if name.endswith("_ratio"):
            assert all(0 <= figure[end] <= 1 for end in ("low", "typical", "high", "value") if end in figure)


def test_ids_are_unique_and_every_source_is_used_and_says_what_it_is() -> None:
    ids = [row["id"] for row in ROWS + MATERIALS["munsell_steps"]]
    assert len(ids) == len(set(ids))
    used = {figure["source"] for row in ROWS + MATERIALS["munsell_steps"] for figure in figures(row).values()}
    assert used == set(MATERIALS["sources"])
    kinds = {"definition", "seen", "common practice, no source", "computed", "from memory"}
    for name, source in MATERIALS["sources"].items():
        assert source["kind"] in kinds, name
        assert source["kind"] != "seen" or "read" in source or "date not noted" in source["part"], name


@pytest.mark.parametrize("row", SHEETS, ids=lambda row: row["id"])
def test_a_sheet_gives_back_no_more_than_it_gets_and_says_what_burns(row: dict[str, Any]) -> None:
    for end in ("low", "typical"):
        check_layer(
            transmittance_ratio=row["transmittance_ratio"][end],
            reflectance_ratio=row["reflectance_ratio"][end],
        )
    assert "decide" in row["caution"]


@pytest.mark.parametrize(
    "row", [row for row in SHEETS if "loss_at_subject_stops" in row], ids=lambda row: row["id"]
)
def test_a_transmittance_follows_from_the_quoted_loss_as_its_source_says(row: dict[str, Any]) -> None:
    loss, passed = row["loss_at_subject_stops"], row["transmittance_ratio"]
    assert passed["low"] == pytest.approx(2 ** -loss["high"], abs=5.1e-4)
    assert passed["typical"] == pytest.approx(2 ** (-0.75 * loss["typical"]), abs=5.1e-4)
    assert passed["high"] == pytest.approx(2 ** (-0.6 * loss["low"]), abs=5.1e-4)


@pytest.mark.parametrize(
    "row", [row for row in SHEETS if "loss_at_subject_stops" in row], ids=lambda row: row["id"]
)
def test_with_the_frame_held_before_the_meter_the_modelled_loss_meets_what_crews_quote(
    row: dict[str, Any],
) -> None:
    # How such a loss is read on a floor (common practice): lamp well back, frame a step before the meter.
    plain = {"low": 10000.0, "typical": 10000.0, "high": 10000.0}
    lamp: Any = {"intensity_cd": plain, "beam_deg": 50.0, "gap_to_next_m": 5.0}
    found = level_through_layers(
        lamp, layers=[row | {"width_m": 1.2192, "height_m": 1.2192}], subject={"distance_m": 0.6}
    )
    modelled, quoted = found["loss_stops"], row["loss_at_subject_stops"]
    assert modelled["low"] <= quoted["high"]
    assert quoted["low"] <= modelled["high"]
    assert abs(modelled["typical"] - quoted["typical"]) < 0.6


@pytest.mark.parametrize("row", [row for row in ROWS if row["kind"] == "gel"], ids=lambda row: row["id"])
def test_a_gel_is_clear_and_keeps_to_its_definition(row: dict[str, Any]) -> None:
    assert row["direct_ratio"]["low"] == 1
    name = row["id"]
    if name.startswith("neutral"):
        assert row["transmittance_ratio"]["typical"] == pytest.approx(
            10 ** (-int(name[-3:]) / 100), abs=5.1e-4
        )
    else:
        part = {"full": 1, "half": 0.5, "quarter": 0.25, "eighth": 0.125}[name.rsplit("_", 1)[1]]
        sign = 1 if "amber" in name else -1
        full = 1e6 / 3200 - 1e6 / 5500
        assert row["shift_mired"]["typical"] == pytest.approx(sign * part * full, abs=0.006)
        assert math.copysign(1, row["shift_mired"]["low"]) == sign


@pytest.mark.parametrize("step", MATERIALS["munsell_steps"], ids=lambda step: step["id"])
def test_a_grey_step_is_what_astm_d1535_says(step: dict[str, Any]) -> None:
    percent = float(outside.colorimetry.luminance_ASTMD1535(step["munsell_value"]["value"]))
    assert 100 * step["reflectance_ratio"]["value"] == pytest.approx(percent, abs=0.006)
