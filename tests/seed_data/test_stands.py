"""Stands, arms, tubes and bags: nothing has a rating, and what can be worked out is."""

from __future__ import annotations

import math

import pytest

from seed_data.tables import Row, row, rows
from tailslate.craft.errors import RuleError
from tailslate.craft.stand import check_rating, tipping_edge_m

every_stand = pytest.mark.parametrize("stand", rows("stands", kind="stand"), ids=lambda stand: stand["id"])


def test_no_rating_is_invented() -> None:
    for part in rows("stands"):
        if part["kind"] != "bag":
            assert part["rating_kg"] == {"value": None, "unit": "kg", "source": "ask_maker"}, part["id"]


@every_stand
def test_a_stand_without_a_rating_is_never_passed(stand: Row) -> None:
    with pytest.raises(RuleError):
        check_rating(1.0, rating=stand["rating_kg"]["value"], unit="kg", what=stand["name"])


@every_stand
def test_a_stand_tips_over_the_line_between_two_feet(stand: Row) -> None:
    # Geometry of a regular polygon; three legs: half the leg radius.
    legs, radius_m = stand["leg_count"]["value"], stand["leg_radius_m"]["typical"]
    edge_m = tipping_edge_m(radius_m, leg_count=legs)
    assert edge_m == pytest.approx(radius_m * math.cos(math.pi / legs), rel=1e-9)
    if legs == 3:
        assert edge_m == pytest.approx(radius_m / 2)


# EN 39, loose steel tubes of 48.3 mm, from memory: walls 3.2 and 4.0 mm [kg/m].
@pytest.mark.parametrize(("tube_id", "mass_kg_m"), [("tube_steel_3_2", 3.56), ("tube_steel_4_0", 4.37)])
def test_scaffold_tubes_weigh_what_their_standard_says(tube_id: str, mass_kg_m: float) -> None:
    assert row("stands", tube_id)["mass_kg_m"]["value"] == pytest.approx(mass_kg_m, abs=0.006)


def test_a_tube_weighs_its_wall() -> None:
    for tube in rows("stands", kind="tube"):
        outside_m, wall_m = tube["outside_diameter_m"]["value"], tube["wall_m"]["value"]
        area_m2 = math.pi / 4 * (outside_m**2 - (outside_m - 2 * wall_m) ** 2)
        mass_kg_m = area_m2 * tube["density_kg_m3"]["value"]
        assert tube["mass_kg_m"]["value"] == pytest.approx(mass_kg_m, rel=0.005)


@pytest.mark.parametrize("pounds", [5, 10, 15, 20, 25, 35, 50])
def test_bags_in_pounds_are_kilograms_by_definition(pounds: int) -> None:
    # The international pound, 0.45359237 kg (NIST SP 811).
    bag = row("stands", f"bag_{pounds}_lb")
    assert bag["nominal_kg"]["value"] == pytest.approx(pounds * 0.45359237, abs=0.0006)


def test_a_bag_is_never_counted_heavier_than_its_name() -> None:
    for bag in rows("stands", kind="bag"):
        assert bag["mass_kg"]["high"] <= bag["nominal_kg"]["value"] * 1.005
        assert bag["mass_kg"]["typical"] < bag["nominal_kg"]["value"]


def test_an_arm_with_a_head_is_balanced_not_looked_up() -> None:
    for arm in rows("stands", kind="arm"):
        assert arm["centre_of_gravity_m"]["value"] is None, arm["id"]
