"""The level behind a lamp's layers: ranges, stages, what is unknown, what is asked back."""

from __future__ import annotations

import math
from itertools import product
from typing import Any

import pytest

from tailslate.craft.beam import intensity_ratio, lit_patch
from tailslate.craft.chain_facts import missing_facts
from tailslate.craft.diffusion import passage
from tailslate.craft.errors import RuleError
from tailslate.craft.level import level_at, level_through_layers
from tailslate.craft.lit_sheet import lamp_lit_sheet_illuminance_lx
from tailslate.craft.photometry import rectangle_illuminance_lx

END = ("low", "typical", "high")


def plain(value: float) -> dict[str, float]:
    return {"low": value, "typical": value, "high": value}


def span(low: float, typical: float, high: float) -> dict[str, float]:
    return {"low": low, "typical": typical, "high": high}


def a_lamp(**facts: Any) -> Any:
    return {"intensity_cd": plain(20000.0), "beam_deg": 360.0, "gap_to_next_m": 1.5} | facts


def a_sheet(**facts: Any) -> Any:
    return {
        "name": "the sheet",
        "kind": "sheet",
        "transmittance_ratio": plain(0.5),
        "reflectance_ratio": plain(0.4),
        "direct_ratio": plain(0.0),
        "width_m": 1.2192,
        "height_m": 1.2192,
        "gap_to_next_m": 0.4,
        "shift_mired": plain(0.0),
    } | facts


def a_gel(**facts: Any) -> Any:
    return {
        "name": "the gel",
        "transmittance_ratio": plain(0.5),
        "direct_ratio": plain(1.0),
        "gap_to_next_m": 0.4,
        "shift_mired": plain(-65.0),
    } | facts


def a_louvre(**facts: Any) -> Any:
    return {"name": "the louvre", "kind": "louvre", "cell_depth_ratio": 1.0, "gap_to_next_m": 0.0} | facts


def level(lamp: Any, layers: list[Any], **subject: Any) -> Any:
    return level_through_layers(lamp, layers=layers, subject={"distance_m": 2.0} | subject)  # type: ignore[typeddict-item]


def typical(found: Any) -> float:
    assert not found["unknown"], found["unknown"]
    return float(found["level_lx"]["typical"])


def test_a_bare_lamp_is_the_inverse_square_law() -> None:
    found = level(a_lamp(intensity_cd=span(18000.0, 20000.0, 22000.0)), [], distance_m=4.0)
    assert found["level_lx"] == pytest.approx(span(1125.0, 1250.0, 1375.0))
    assert found["bare_lx"] == found["level_lx"]
    assert found["stages"] == []
    assert found["source"] is None
    assert found["lamp_share_ratio"] == 1.0


def test_a_lamp_may_be_known_by_a_reading_at_a_distance() -> None:
    lamp = {"illuminance_lx": plain(2000.0), "at_distance_m": 3.0, "beam_deg": 360.0}
    assert typical(level(lamp, [], distance_m=6.0)) == pytest.approx(500.0)


def test_one_even_sheet_is_within_a_hundredth_of_the_exact_integral() -> None:
    exact = lamp_lit_sheet_illuminance_lx(
        20000.0, lamp_distance_m=1.5, width_m=1.2192, height_m=1.2192, transmittance_ratio=0.5, distance_m=2.0
    )
    assert typical(level(a_lamp(), [a_sheet()])) == pytest.approx(exact, rel=0.01)


def test_the_losses_of_the_stages_add_up_to_the_whole_loss() -> None:
    layers = [a_gel(), a_sheet(direct_ratio=plain(0.3)), a_sheet(), a_louvre()]
    found = level(a_lamp(), layers, right_m=0.3)
    whole = sum(stage["loss_stops"]["typical"] for stage in found["stages"])
    assert whole == pytest.approx(found["loss_stops"]["typical"], abs=1e-9)
    assert found["loss_stops"]["typical"] == pytest.approx(
        math.log2(found["bare_lx"]["typical"] / found["level_lx"]["typical"])
    )
    assert [stage["number"] for stage in found["stages"]] == [1, 2, 3, 4]


def test_two_sheets_close_together_lose_less_than_twice_one() -> None:
    touching = [a_sheet(gap_to_next_m=0.001), a_sheet()]
    found = level(a_lamp(), touching)
    # Stokes: 0.5 * 0.5 / (1 - 0.4 * 0.4) against 0.5, 0.748 stop for the second.
    assert found["stages"][1]["loss_stops"]["typical"] == pytest.approx(0.748, abs=0.01)


def test_a_wide_gap_lets_the_light_between_two_sheets_leak_out() -> None:
    near = level(a_lamp(), [a_sheet(gap_to_next_m=0.05), a_sheet(width_m=4.0, height_m=4.0)], distance_m=3.0)
    far = level(a_lamp(), [a_sheet(gap_to_next_m=1.5), a_sheet(width_m=4.0, height_m=4.0)], distance_m=3.0)
    assert far["stages"][1]["on_lx"]["typical"] < near["stages"][1]["on_lx"]["typical"]
    assert far["source"]["width_m"] > near["source"]["width_m"]


def test_a_gel_costs_light_and_colour_but_makes_no_new_source() -> None:
    found = level(a_lamp(), [a_gel()])
    assert typical(found) == pytest.approx(20000 / 3.5**2 / 2)  # 1.5 m to the gel, 2 m on
    assert found["source"] is None
    assert found["shift_mired"] == plain(-65.0)


def test_a_gel_behind_a_sheet_keeps_the_sheet_as_the_source() -> None:
    without = level(a_lamp(), [a_sheet()])
    found = level(a_lamp(), [a_sheet(), a_gel()], distance_m=1.6)
    assert found["source"] == without["source"] == {"width_m": 1.2192, "height_m": 1.2192, "distance_m": 2.0}
    assert typical(found) == pytest.approx(typical(without) / 2)


def test_a_louvre_takes_from_a_wide_near_frame_and_hardly_from_a_small_far_one() -> None:
    near = level(a_lamp(), [a_sheet(gap_to_next_m=0.0), a_louvre()], distance_m=0.8)
    far = level(a_lamp(), [a_sheet(width_m=0.3, height_m=0.3, gap_to_next_m=0.0), a_louvre()], distance_m=6.0)
    assert near["stages"][1]["loss_stops"]["typical"] > 0.9
    assert far["stages"][1]["loss_stops"]["typical"] < 0.1
    deep = level(a_lamp(), [a_sheet(gap_to_next_m=0.0), a_louvre(cell_depth_ratio=2.0)], distance_m=0.8)
    assert deep["source"]["width_m"] == pytest.approx(0.8)  # cells look no farther than half their depth says


def test_moving_in_on_a_frame_gains_less_than_two_stops_for_half_the_distance() -> None:
    # 1.595 stops from 2 m to 1 m before an even 4 x 4 ft frame (closed form, form factor catalogue).
    near, far = level(a_lamp(), [a_sheet()], distance_m=1.0), level(a_lamp(), [a_sheet()], distance_m=2.0)
    assert math.log2(typical(near) / typical(far)) == pytest.approx(1.5946, abs=1e-3)


def test_a_sheet_that_scatters_little_keeps_a_hot_middle() -> None:
    light = level(a_lamp(), [a_sheet(direct_ratio=plain(0.6))])
    heavy = level(a_lamp(), [a_sheet()])
    assert light["lamp_share_ratio"] > 0.5
    assert heavy["lamp_share_ratio"] == 0.0


RANGED = [
    a_sheet(
        transmittance_ratio=span(0.6, 0.7, 0.8),
        reflectance_ratio=span(0.1, 0.2, 0.3),
        direct_ratio=span(0.2, 0.4, 0.6),
    ),
    a_sheet(
        transmittance_ratio=span(0.3, 0.4, 0.5),
        reflectance_ratio=span(0.3, 0.4, 0.55),
        direct_ratio=span(0.0, 0.05, 0.1),
    ),
]


@pytest.mark.parametrize(
    "subject", [{}, {"right_m": 0.9}, {"distance_m": 0.7, "up_m": -0.4, "tilt_deg": 40.0}]
)
def test_every_mix_of_plausible_materials_lies_inside_the_range(subject: dict[str, float]) -> None:
    lamp = a_lamp(intensity_cd=span(15000.0, 20000.0, 24000.0), beam_deg=60.0)
    found = level(lamp, RANGED, **subject)
    assert found["level_lx"]["low"] < found["level_lx"]["typical"] < found["level_lx"]["high"]
    for ends in product(("low", "high"), repeat=3):
        for directs in product(("low", "high"), repeat=2):
            layers = [
                sheet
                | {
                    "transmittance_ratio": plain(sheet["transmittance_ratio"][end]),
                    "reflectance_ratio": plain(
                        min(sheet["reflectance_ratio"][end], 1 - sheet["transmittance_ratio"][end])
                    ),
                    "direct_ratio": plain(sheet["direct_ratio"][direct]),
                }
                for sheet, end, direct in zip(RANGED, ends[1:], directs, strict=True)
            ]
            one = typical(
                level(lamp | {"intensity_cd": plain(lamp["intensity_cd"][ends[0]])}, layers, **subject)
            )
            # The lit part is placed for the typical mix; the other mixes move it by a few hundredths.
            assert found["level_lx"]["low"] * 0.96 <= one <= found["level_lx"]["high"] * 1.04


def test_two_layers_of_ranged_material_can_span_more_than_a_stop() -> None:
    found = level(a_lamp(), RANGED)["level_lx"]
    assert math.log2(found["high"] / found["low"]) > 1


UNKNOWN = [
    ({"intensity_cd": None}, [], "intensity_cd", 0),
    ({"gap_to_next_m": None}, [{}], "gap_to_next_m", 0),
    ({}, [{"transmittance_ratio": None}], "transmittance_ratio", 1),
    ({}, [{"direct_ratio": None}], "direct_ratio", 1),
    ({}, [{"width_m": None}], "width_m", 1),
    ({}, [{"height_m": None}], "height_m", 1),
    ({"beam_deg": None}, [{}], "lit_width_m", 1),
    ({}, [{"gap_to_next_m": None}, {}], "gap_to_next_m", 1),
    ({}, [{"reflectance_ratio": None}, {}], "reflectance_ratio", 1),
    ({}, [{}, {"reflectance_ratio": None}], "reflectance_ratio", 2),
]


@pytest.mark.parametrize(("lamp", "layers", "field", "number"), UNKNOWN)
def test_a_missing_fact_is_named_and_no_figure_is_given(
    lamp: dict[str, Any], layers: list[dict[str, Any]], field: str, number: int
) -> None:
    found = level(a_lamp(**lamp), [a_sheet(**facts) for facts in layers])
    assert found["level_lx"] is None
    assert [(fact["field"], fact["layer"], fact["code"]) for fact in found["unknown"]] == [
        (field, number, "unknown")
    ]
    assert ":" in found["unknown"][0]["sentence"]


def test_every_missing_fact_is_named_at_once() -> None:
    facts = missing_facts({"intensity_cd": None}, layers=[{"name": "the sheet"}])
    assert [fact["field"] for fact in facts] == [
        "intensity_cd",
        "gap_to_next_m",
        "transmittance_ratio",
        "direct_ratio",
        "width_m",
        "height_m",
        "lit_width_m",
    ]


def test_the_distance_to_the_point_may_be_missing_too() -> None:
    found = level(a_lamp(), [a_sheet()], distance_m=None)
    assert found["level_lx"] is None
    assert [fact["field"] for fact in found["unknown"]] == ["distance_m"]


def test_a_louvre_without_cells_or_before_a_sheet_gives_no_figure() -> None:
    assert [f["field"] for f in level(a_lamp(), [a_louvre(cell_depth_ratio=None)])["unknown"]] == [
        "cell_depth_ratio"
    ]
    assert [f["field"] for f in level(a_lamp(), [a_louvre(gap_to_next_m=0.1), a_sheet()])["unknown"]] == [
        "kind"
    ]


def test_off_the_axis_of_a_beam_that_nobody_knows_there_is_no_figure() -> None:
    found = level(a_lamp(beam_deg=None), [], right_m=0.5)
    assert found["level_lx"] is None
    assert [fact["field"] for fact in found["unknown"]] == ["beam_deg"]
    assert typical(level(a_lamp(beam_deg=None), [])) == pytest.approx(5000.0)


def test_a_colour_that_one_sheet_does_not_tell_is_not_known_for_all() -> None:
    found = level(a_lamp(), [a_sheet(), a_sheet(shift_mired=None)])
    assert found["shift_mired"] is None
    assert found["level_lx"] is not None


def test_a_single_sheet_needs_no_reflectance() -> None:
    assert typical(level(a_lamp(), [a_sheet(reflectance_ratio=None)])) == typical(
        level(a_lamp(), [a_sheet()])
    )


def test_only_the_lit_patch_of_a_frame_counts() -> None:
    patch = level(a_lamp(beam_deg=None), [a_sheet(lit_width_m=0.6, lit_height_m=0.6)])
    whole = level(a_lamp(), [a_sheet(width_m=0.6, height_m=0.6)])
    assert typical(patch) == pytest.approx(typical(whole))
    assert patch["source"]["width_m"] == 0.6


def test_light_past_the_edge_of_a_frame_is_asked_about_and_not_added() -> None:
    found = level(a_lamp(), [a_sheet(direct_ratio=plain(0.5))], right_m=2.5)
    assert [question["code"] for question in found["questions"]] == ["spill_past_edge"]
    assert found["lamp_share_ratio"] == 0.0
    assert level(a_lamp(), [a_sheet()], right_m=0.5)["questions"] == []


def test_a_table_under_the_frame_gets_light_only_from_the_part_above_it() -> None:
    table = level(a_lamp(), [a_sheet()], up_m=-0.3, tilt_deg=90.0)
    luminance = table["stages"][0]["luminance_cd_m2"]["typical"]
    above = rectangle_illuminance_lx(
        luminance,
        width_m=1.2192,
        height_m=0.6096 + 0.3,
        distance_m=2.0,
        up_m=-0.3 - (0.6096 - 0.3) / 2,
        tilt_deg=90.0,
    )
    assert typical(table) == pytest.approx(above)


@pytest.mark.parametrize("beam_deg", [20.0, 40.0, 80.0])
def test_a_beam_gives_half_its_peak_at_its_edge_and_all_its_light_to_a_wide_frame(beam_deg: float) -> None:
    assert intensity_ratio(off_axis_deg=beam_deg / 2, beam_deg=beam_deg) == pytest.approx(0.5)
    radius_m = math.tan(math.radians(beam_deg / 2))
    patch: Any = lit_patch(beam_deg=beam_deg, distance_m=1.0, width_m=50.0, height_m=50.0)
    # A bell of half width r holds pi r**2 / ln 2 times its peak.
    assert patch["width_m"] * patch["height_m"] == pytest.approx(
        math.pi * radius_m**2 / math.log(2), rel=1e-9
    )
    share = patch["share_ratio"]
    assert share["low"] < 1 < share["high"]


def test_a_beam_that_overfills_a_frame_lights_all_of_it_nearly_evenly() -> None:
    patch: Any = lit_patch(beam_deg=60.0, distance_m=4.0, width_m=0.6, height_m=0.6)
    assert patch["width_m"] > 0.58
    assert patch["share_ratio"]["low"] > 0.95
    assert patch["share_ratio"]["high"] < 1.03


def test_one_passage_serves_every_point_that_matters() -> None:
    made = passage(a_lamp(), layers=[a_sheet()])
    for subject in ({"distance_m": 2.0}, {"distance_m": 1.2, "right_m": 0.5}):
        one: Any = level_at(made, subject=subject)  # type: ignore[arg-type]
        assert one["level_lx"] == level(a_lamp(), [a_sheet()], **subject)["level_lx"]


@pytest.mark.parametrize(
    ("lamp", "layers", "code"),
    [
        ({"intensity_cd": plain(-1.0)}, [], "negative"),
        ({"gap_to_next_m": 0.0}, [{}], "not_positive"),
        ({"beam_deg": 400.0}, [], "outside_range"),
        ({}, [{"transmittance_ratio": plain(0.7)}], "layer_makes_light"),
        ({}, [{"transmittance_ratio": plain(1.2)}], "outside_range"),
        ({}, [{"width_m": 0.0}], "not_positive"),
        ({}, [{"gap_to_next_m": -0.1}, {}], "negative"),
        ({}, [{"direct_ratio": plain(math.nan)}], "not_a_number"),
    ],
)
def test_facts_that_cannot_be_are_refused(lamp: Any, layers: Any, code: str) -> None:
    with pytest.raises(RuleError) as refused:
        level(a_lamp(**lamp), [a_sheet(**facts) for facts in layers])
    assert refused.value.code == code
