"""Illuminance, form factors and the chain of layers against quadrature (scipy) and fixed-seed ray counting (numpy).

Neither route shares code or formulas with craft: they integrate the inverse-square law with two cosines.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from scipy.integrate import dblquad, quad

from tailslate.craft.bounce import tabletop_ratio
from tailslate.craft.form_factors import parallel_rectangles_ratio, rectangle_solid_angle_sr
from tailslate.craft.level import level_through_layers
from tailslate.craft.lit_sheet import lamp_lit_sheet_illuminance_lx
from tailslate.craft.louvre import louvred_rectangle_illuminance_lx
from tailslate.craft.photometry import (
    disk_illuminance_lx,
    facing,
    rectangle_illuminance_lx,
    regular_polygon_illuminance_lx,
)
from tailslate.craft.softness import wrap_ratio

GEOMETRIES = 200


def random_place(seed: int) -> dict[str, float]:
    """A frame and a receiver as on a floor, some of them tilted until the frame sinks below the horizon."""
    draw = np.random.default_rng(seed).uniform
    return {
        "width_m": draw(0.2, 3.7),
        "height_m": draw(0.2, 3.7),
        "distance_m": draw(0.3, 6.0),
        "right_m": draw(-3.0, 3.0),
        "up_m": draw(-2.0, 2.0),
        "pan_deg": draw(-100.0, 100.0),
        "tilt_deg": draw(-90.0, 90.0),
    }


def sampled_lx(place: dict[str, float], count: int) -> float:
    """Light per cd/m2 from the midpoints of a fine grid on the rectangle; parts below the horizon give none."""
    across = ((np.arange(count) + 0.5) / count - 0.5) * place["width_m"]
    along = ((np.arange(count) + 0.5) / count - 0.5) * place["height_m"]
    right, up = np.meshgrid(across - place["right_m"], along - place["up_m"])
    away = -place["distance_m"]
    normal = facing(place["pan_deg"], place["tilt_deg"])
    square = right**2 + up**2 + away**2
    received = np.maximum(0.0, right * normal[0] + up * normal[1] + away * normal[2])
    cell_m2 = place["width_m"] * place["height_m"] / count**2
    return float((received * -away / square**2).sum() * cell_m2)


@pytest.mark.parametrize("seed", range(GEOMETRIES))
def test_a_rectangle_at_any_place_and_facing_gives_what_sampling_it_gives(seed: int) -> None:
    place = random_place(seed)
    expected = sampled_lx(place, 800)
    level = rectangle_illuminance_lx(1.0, **place)
    # The horizon cuts through cells of the grid: a share of the brightest possible level is allowed for that.
    assert level == pytest.approx(expected, rel=2e-4, abs=2e-5)


def test_enough_of_these_frames_sink_below_the_horizon() -> None:
    cut = 0
    for seed in range(GEOMETRIES):
        place = random_place(seed)
        normal = facing(place["pan_deg"], place["tilt_deg"])
        heights = [
            (x * place["width_m"] / 2 - place["right_m"]) * normal[0]
            + (y * place["height_m"] / 2 - place["up_m"]) * normal[1]
            - place["distance_m"] * normal[2]
            for x in (-1, 1)
            for y in (-1, 1)
        ]
        cut += min(heights) < 0 < max(heights)
    assert cut >= 40


@pytest.mark.parametrize("seed", range(0, GEOMETRIES, 10))
def test_a_rectangle_gives_what_adaptive_quadrature_gives(seed: int) -> None:
    place = random_place(seed)
    place["pan_deg"], place["tilt_deg"] = place["pan_deg"] / 5, place["tilt_deg"] / 5  # mostly uncut: smooth
    normal = facing(place["pan_deg"], place["tilt_deg"])
    away = place["distance_m"]

    def light(up: float, right: float) -> float:
        received = max(0.0, right * normal[0] + up * normal[1] - away * normal[2])
        return received * away / (right * right + up * up + away * away) ** 2

    expected = dblquad(
        light,
        -place["width_m"] / 2 - place["right_m"],
        place["width_m"] / 2 - place["right_m"],
        -place["height_m"] / 2 - place["up_m"],
        place["height_m"] / 2 - place["up_m"],
        epsabs=1e-8,
        epsrel=1e-8,
    )[0]
    assert rectangle_illuminance_lx(1.0, **place) == pytest.approx(expected, rel=1e-5, abs=1e-7)


@pytest.mark.parametrize("seed", range(20))
def test_a_rectangle_gives_what_counting_rays_gives(seed: int) -> None:
    place = random_place(1000 + seed)
    random = np.random.default_rng(seed)
    count = 400_000
    # Rays leave the receiver by the cosine law; the share that meets the frame times pi is its level.
    radius, turn = np.sqrt(random.random(count)), random.random(count) * 2 * math.pi
    local = np.stack([radius * np.cos(turn), radius * np.sin(turn), np.sqrt(1 - radius**2)])
    normal = np.array(facing(place["pan_deg"], place["tilt_deg"]))
    side = np.cross(normal, [0.0, 1.0, 0.0] if abs(normal[1]) < 0.9 else [1.0, 0.0, 0.0])
    side /= np.linalg.norm(side)
    ray = side[:, None] * local[0] + np.cross(normal, side)[:, None] * local[1] + normal[:, None] * local[2]
    towards = ray[2] < 0
    step = np.where(towards, -place["distance_m"] / np.where(towards, ray[2], -1.0), 0.0)
    hits = (
        towards
        & (abs(place["right_m"] + step * ray[0]) <= place["width_m"] / 2)
        & (abs(place["up_m"] + step * ray[1]) <= place["height_m"] / 2)
    )
    share = hits.mean()
    spread = math.sqrt(max(share * (1 - share), 1e-5) / count) * math.pi
    assert abs(rectangle_illuminance_lx(1.0, **place) - share * math.pi) <= 4.5 * spread


def test_a_polygon_of_many_sides_gives_what_a_disk_gives() -> None:
    disk = disk_illuminance_lx(1000.0, radius_m=0.6, distance_m=1.3)
    even = regular_polygon_illuminance_lx(1000.0, side_count=64, corner_radius_m=0.6, distance_m=1.3)
    inside = regular_polygon_illuminance_lx(
        1000.0, side_count=64, corner_radius_m=0.6 / math.cos(math.pi / 64), distance_m=1.3
    )
    assert even < disk < inside
    assert even == pytest.approx(disk, rel=0.002)


@pytest.mark.parametrize("seed", range(12))
def test_the_exchange_between_two_frames_is_the_integral_of_what_each_place_gets(seed: int) -> None:
    draw = np.random.default_rng(seed).uniform
    sizes = {name: draw(0.3, 3.0) for name in ("from_width_m", "from_height_m", "to_width_m", "to_height_m")}
    gap_m = draw(0.15, 4.0)

    def level(up: float, right: float) -> float:
        place = {
            "width_m": sizes["from_width_m"],
            "height_m": sizes["from_height_m"],
            "distance_m": gap_m,
            "right_m": right,
            "up_m": up,
            "pan_deg": 0.0,
            "tilt_deg": 0.0,
        }
        return rectangle_illuminance_lx(1 / math.pi, **place)

    lumens = dblquad(
        level,
        -sizes["to_width_m"] / 2,
        sizes["to_width_m"] / 2,
        -sizes["to_height_m"] / 2,
        sizes["to_height_m"] / 2,
        epsabs=1e-7,
    )[0]
    share = parallel_rectangles_ratio(gap_m=gap_m, **sizes)
    assert share == pytest.approx(lumens / (sizes["from_width_m"] * sizes["from_height_m"]), rel=1e-5)


def test_exchange_is_mutual_and_whole_at_no_gap() -> None:
    one = {"from_width_m": 1.2, "from_height_m": 0.8, "to_width_m": 2.0, "to_height_m": 3.0}
    other = {"from_width_m": 2.0, "from_height_m": 3.0, "to_width_m": 1.2, "to_height_m": 0.8}
    there = parallel_rectangles_ratio(gap_m=0.7, **one)
    back = parallel_rectangles_ratio(gap_m=0.7, **other)
    assert there * 1.2 * 0.8 == pytest.approx(back * 2.0 * 3.0, rel=1e-12)
    assert parallel_rectangles_ratio(gap_m=0.0, **one) == pytest.approx(1.0, abs=1e-12)


@pytest.mark.parametrize("seed", range(10))
def test_a_solid_angle_is_the_integral_of_one_cosine(seed: int) -> None:
    draw = np.random.default_rng(seed).uniform
    width_m, height_m, distance_m = draw(0.2, 4.0), draw(0.2, 4.0), draw(0.3, 5.0)
    expected = dblquad(
        lambda y, x: distance_m / (x * x + y * y + distance_m**2) ** 1.5,
        -width_m / 2,
        width_m / 2,
        -height_m / 2,
        height_m / 2,
    )[0]
    found = rectangle_solid_angle_sr(width_m=width_m, height_m=height_m, distance_m=distance_m)
    assert found == pytest.approx(expected, rel=1e-7)


@pytest.mark.parametrize("seed", range(30))
def test_a_louvre_hides_what_sampling_says_it_hides(seed: int) -> None:
    place = random_place(2000 + seed)
    place["pan_deg"], place["tilt_deg"] = place["pan_deg"] / 4, place["tilt_deg"] / 4
    place["distance_m"] = max(place["distance_m"], 0.8)
    depth = float(np.random.default_rng(seed).uniform(0.25, 2.5))
    count = 700
    across = ((np.arange(count) + 0.5) / count - 0.5) * place["width_m"] - place["right_m"]
    along = ((np.arange(count) + 0.5) / count - 0.5) * place["height_m"] - place["up_m"]
    right, up = np.meshgrid(across, along)
    away = place["distance_m"]
    normal = facing(place["pan_deg"], place["tilt_deg"])
    passed = np.clip(1 - depth * abs(right) / away, 0, None) * np.clip(1 - depth * abs(up) / away, 0, None)
    received = np.maximum(0.0, right * normal[0] + up * normal[1] - away * normal[2])
    expected = (passed * received * away / (right**2 + up**2 + away**2) ** 2).sum()
    expected *= place["width_m"] * place["height_m"] / count**2
    found = louvred_rectangle_illuminance_lx(1.0, cell_depth_ratio=depth, **place)
    assert found == pytest.approx(expected, rel=2e-3, abs=1e-5)


@pytest.mark.parametrize("seed", range(10))
def test_a_sheet_behind_a_lamp_is_the_integral_over_both_distances(seed: int) -> None:
    draw = np.random.default_rng(seed).uniform
    lamp_m, width_m, height_m, away_m, right_m = (
        draw(0.8, 3),
        draw(0.3, 2),
        draw(0.3, 2),
        draw(1, 4),
        draw(-1, 1),
    )

    def light(y: float, x: float) -> float:
        on_sheet = lamp_m / (x * x + y * y + lamp_m**2) ** 1.5
        return on_sheet * 0.4 / math.pi * away_m**2 / ((x - right_m) ** 2 + y * y + away_m**2) ** 2

    expected = dblquad(light, -width_m / 2, width_m / 2, -height_m / 2, height_m / 2)[0]
    found = lamp_lit_sheet_illuminance_lx(
        1.0,
        lamp_distance_m=lamp_m,
        width_m=width_m,
        height_m=height_m,
        transmittance_ratio=0.4,
        distance_m=away_m,
        right_m=right_m,
    )
    assert found == pytest.approx(expected, rel=1e-3)


@pytest.mark.parametrize("half_deg", [5.0, 20.0, 45.0, 70.0])
@pytest.mark.parametrize("place_deg", [0.0, 30.0, 70.0, 88.0, 95.0, 110.0, 150.0])
def test_wrap_is_the_integral_of_the_visible_cone(half_deg: float, place_deg: float) -> None:
    half, place = math.radians(half_deg), math.radians(place_deg)
    count = 1500
    off, turn = np.meshgrid(
        (np.arange(count) + 0.5) / count * half, (np.arange(count) + 0.5) / count * math.pi
    )
    cosine = np.cos(off) * math.cos(place) + np.sin(off) * math.sin(place) * np.cos(turn)
    light = (np.maximum(0.0, cosine) * np.sin(off)).sum() * half * math.pi / count**2
    expected = 2 * light / (math.pi * math.sin(half) ** 2)
    found = wrap_ratio(half_angle_deg=half_deg, from_source_deg=place_deg)
    assert found == pytest.approx(expected, abs=1e-4)


@pytest.mark.parametrize("seed", range(12))
def test_a_table_top_fills_the_share_of_the_view_that_quadrature_finds(seed: int) -> None:
    draw = np.random.default_rng(seed).uniform
    near_m, depth_m, left_m, right_m, height_m = (
        draw(0.02, 0.6),
        draw(0.3, 2),
        draw(-0.2, 1.5),
        draw(0.3, 1.5),
        draw(0.2, 1),
    )

    def strip(forward: float) -> float:
        return quad(
            lambda side: forward * height_m / (forward**2 + side**2 + height_m**2) ** 2 / math.pi,
            -left_m,
            right_m,
        )[0]

    expected = quad(strip, near_m, near_m + depth_m)[0]
    found = tabletop_ratio(
        near_edge_m=near_m,
        far_edge_m=near_m + depth_m,
        left_m=left_m,
        right_m=right_m,
        height_m=height_m,
    )
    assert found == pytest.approx(expected, rel=1e-7)


def plain(value: float) -> dict[str, float]:
    return {"low": value, "typical": value, "high": value}


def a_sheet(
    *, passed: float, returned: float, direct: float, side_m: float, gap_m: float | None
) -> dict[str, Any]:
    return {
        "kind": "sheet",
        "transmittance_ratio": plain(passed),
        "reflectance_ratio": plain(returned),
        "direct_ratio": plain(direct),
        "width_m": side_m,
        "height_m": side_m,
        "gap_to_next_m": gap_m,
        "shift_mired": plain(0.0),
    }


def traced_lx(
    sheets: list[dict[str, Any]], lamp_gap_m: float, away_m: float, right_m: float, count: int, seed: int
) -> float:
    """Level per candela of an even lamp, by following photons to and fro between the sheets.

    Each time one leaves the last sheet forwards, scattered, the receiver gets its share of that
    (next-event estimation); light that went straight through all of them is added in closed form.
    """
    random = np.random.default_rng(seed)
    planes = [lamp_gap_m]
    for sheet in sheets[:-1]:
        planes.append(planes[-1] + sheet["gap_to_next_m"])
    receiver_z = planes[-1] + away_m
    # Photons over the part of the lamp's sphere that the first frame fills, weighted by its solid angle.
    half = sheets[0]["width_m"] / 2
    x, y = (random.random(count) * 2 - 1) * half, (random.random(count) * 2 - 1) * half
    weight = lamp_gap_m / (x**2 + y**2 + lamp_gap_m**2) ** 1.5 * (2 * half) ** 2 / count
    steps = np.stack([x / lamp_gap_m, y / lamp_gap_m])  # sideways per metre forwards
    at = np.zeros(count, dtype=int)
    forwards = np.ones(count, dtype=bool)
    # A photon straight from the lamp is the closed form's; it becomes the tracer's once it is scattered.
    is_beam = np.ones(count, dtype=bool)
    scored = 0.0
    while len(x):
        passed = np.array([sheet["transmittance_ratio"]["typical"] for sheet in sheets])[at]
        returned = np.array([sheet["reflectance_ratio"]["typical"] for sheet in sheets])[at]
        direct = np.array([sheet["direct_ratio"]["typical"] for sheet in sheets])[at]
        dice = random.random(len(x))
        goes_on = dice < passed
        is_straight = goes_on & (dice < passed * direct)
        is_back = ~goes_on & (dice < passed + returned)
        alive = goes_on | is_back
        scatters = alive & ~is_straight
        radius, turn = np.sqrt(random.random(len(x))), random.random(len(x)) * 2 * math.pi
        slant = radius / np.sqrt(np.maximum(1e-12, 1 - radius**2))
        steps = np.where(scatters, np.stack([slant * np.cos(turn), slant * np.sin(turn)]), steps)
        forwards = np.where(is_back, ~forwards, forwards)
        is_beam = is_beam & ~scatters
        # Scattered forwards at any sheet, then straight through all that follow, to the receiver.
        for place, z in enumerate(planes):
            score = scatters & forwards & (at == place)
            if score.any():
                away = receiver_z - z
                square = (x[score] - right_m) ** 2 + y[score] ** 2 + away**2
                through = np.ones(int(score.sum()))
                for later in sheets[place + 1 :]:
                    through *= later["transmittance_ratio"]["typical"] * later["direct_ratio"]["typical"]
                scored += float((weight[score] * through * away**2 / (math.pi * square**2)).sum())
        at = at + np.where(forwards, 1, -1)
        keep = alive & (at >= 0) & (at < len(sheets))
        x, y, weight, at, forwards, is_beam = (
            x[keep],
            y[keep],
            weight[keep],
            at[keep],
            forwards[keep],
            is_beam[keep],
        )
        steps = steps[:, keep]
        if len(x):
            gaps = np.array(
                [planes[place] - planes[place - 1] if place else 0.0 for place in range(len(planes))]
            )
            travel = np.where(forwards, gaps[at], gaps[np.minimum(at + 1, len(planes) - 1)])
            x, y = x + steps[0] * travel, y + steps[1] * travel
            sides = np.array([sheet["width_m"] for sheet in sheets])[at] / 2
            inside = (abs(x) <= sides) & (abs(y) <= sides)
            x, y, weight, at, forwards, is_beam = (
                x[inside],
                y[inside],
                weight[inside],
                at[inside],
                forwards[inside],
                is_beam[inside],
            )
            steps = steps[:, inside]
    beam = 1.0
    for sheet in sheets:
        beam *= sheet["transmittance_ratio"]["typical"] * sheet["direct_ratio"]["typical"]
    return scored + beam * receiver_z / (right_m**2 + receiver_z**2) ** 1.5


CHAINS = [
    # one sheet; two close together; two with an open gap; a light one then a heavy one; small then large
    ([(0.5, 0.4, 0.0, 1.2)], [], 1.5, 2.0, 0.0),
    ([(0.6, 0.3, 0.4, 1.2)], [], 1.5, 2.0, 0.6),
    ([(0.5, 0.45, 0.0, 1.2), (0.5, 0.45, 0.0, 1.2)], [0.02], 1.8, 2.0, 0.0),
    ([(0.5, 0.45, 0.0, 1.2), (0.4, 0.5, 0.0, 1.2)], [0.6], 1.8, 2.0, 0.5),
    ([(0.7, 0.2, 0.5, 1.2), (0.4, 0.5, 0.1, 1.8)], [0.8], 1.6, 2.4, 0.0),
    ([(0.45, 0.5, 0.05, 1.0), (0.45, 0.5, 0.05, 2.4)], [1.0], 1.2, 3.0, 0.4),
    ([(0.7, 0.25, 0.3, 1.2), (0.6, 0.3, 0.2, 1.2), (0.5, 0.4, 0.0, 1.2)], [0.3, 0.3], 1.6, 2.0, 0.3),
]


@pytest.mark.parametrize(("rows", "gaps", "lamp_gap_m", "away_m", "right_m"), CHAINS)
def test_the_chain_gives_what_following_photons_gives(
    rows: list[tuple[float, float, float, float]],
    gaps: list[float],
    lamp_gap_m: float,
    away_m: float,
    right_m: float,
) -> None:
    sheets = [
        a_sheet(passed=row[0], returned=row[1], direct=row[2], side_m=row[3], gap_m=gap_m)
        for row, gap_m in zip(rows, [*gaps, None], strict=True)
    ]
    expected = traced_lx(sheets, lamp_gap_m, away_m, right_m, count=600_000, seed=7)
    lamp: Any = {"intensity_cd": plain(1.0), "beam_deg": 360.0, "gap_to_next_m": lamp_gap_m}
    found = level_through_layers(lamp, layers=sheets, subject={"distance_m": away_m, "right_m": right_m})  # type: ignore[arg-type]
    difference = math.log2(found["level_lx"]["typical"] / expected)
    # A tenth of a stop: what a meter shows. The even patch is an approximation, the photons are not.
    assert abs(difference) <= 0.1, f"{difference:+.3f} stop"
