"""Drinks: published composition, both allergen lists, the clock, and no word that clears one for anybody."""

from __future__ import annotations

import pytest

from seed_data.tables import Row, at, row, rows, table

# Regulation (EU) 1169/2011, Annex II, and 21 U.S.C. 321(qq) with the FASTER Act of 2021.
EUROPEAN_FOURTEEN = {
    "gluten", "crustaceans", "eggs", "fish", "peanuts", "soybeans", "milk", "nuts", "celery", "mustard", "sesame",
    "sulphites", "lupin", "molluscs",
}  # fmt: skip
AMERICAN_NINE = {
    "milk", "eggs", "fish", "crustaceans", "nuts", "peanuts", "wheat", "soybeans", "sesame",
}  # fmt: skip
ON_NO_LIST = {"quinine"}
FOOD_CODE_H = 4  # FDA Food Code 3-501.19 (B)

every_drink = pytest.mark.parametrize("drink", rows("beverages"), ids=lambda drink: drink["id"])


# USDA National Nutrient Database for Standard Reference, Legacy: sugars [g/100 g], household measure [g].
@pytest.mark.parametrize(
    ("drink_id", "sugars", "measure_g", "measure_ml"),
    [
        ("apple_juice", 9.62, 248, 236.588),
        ("red_grape_juice", 14.2, 253, 236.588),
        ("whole_milk", 5.05, 244, 236.588),
        ("cola_flat", 9.9, 370, 354.882),
        ("ginger_ale", 8.9, 366, 354.882),
        ("club_soda", 0, 355, 354.882),
        ("coffee", 0, 237, 236.588),
        ("black_tea", 0, 237, 236.588),
    ],
)
def test_composition_is_as_published(
    drink_id: str, sugars: float, measure_g: float, measure_ml: float
) -> None:
    drink = row("beverages", drink_id)
    assert drink["sugars_g_100g"]["value"] == sugars
    assert drink["measure_g"]["value"] == measure_g
    assert drink["measure_ml"]["value"] == measure_ml


@every_drink
def test_the_density_is_the_household_measure_over_its_millilitres(drink: Row) -> None:
    grams, density = drink["measure_g"]["value"], drink["density_kg_l"]["value"]
    if grams is None:
        assert density is None
    else:
        assert density == pytest.approx(grams / drink["measure_ml"]["value"], abs=0.0006)
        assert 0.99 < density < 1.08


def test_sugar_water_of_that_strength_has_about_that_density() -> None:
    # Sucrose in water at 20 degC, ICUMSA tables from memory: 10 g in 100 g is 1.038 kg/L, about 0.004 a gram.
    for drink in rows("beverages"):
        density = drink["density_kg_l"]["value"]
        if density is not None:
            dissolved = 0.998 + 0.004 * at(drink["sugars_g_100g"], "typical")
            assert density == pytest.approx(dissolved, abs=0.025), drink["id"]


# Mayo Clinic, caffeine content for coffee, tea, soda and more: mg in 237 mL.
@pytest.mark.parametrize(
    ("drink_id", "caffeine_mg"),
    [
        ("coffee", 96),
        ("coffee_decaffeinated", 2),
        ("black_tea", 47),
        ("black_tea_decaffeinated", 2),
        ("cola_flat", 22),
    ],
)
def test_a_cup_holds_about_the_caffeine_published_for_it(drink_id: str, caffeine_mg: float) -> None:
    drink = row("beverages", drink_id)
    cup_g = 237 * drink["density_kg_l"]["value"]
    in_cup_mg = drink["caffeine_mg_100g"]["typical"] * cup_g / 100
    assert in_cup_mg == pytest.approx(caffeine_mg, rel=0.05, abs=0.5)
    assert drink["caffeine_mg_100g"]["low"] * cup_g / 100 < caffeine_mg
    assert caffeine_mg < drink["caffeine_mg_100g"]["high"] * cup_g / 100


def test_fourteen_takes_of_apple_juice_pass_a_days_free_sugars() -> None:
    # WHO 2015: under 50 g a day at 2000 kcal. Worked by hand: 840 mL x 1.048 g/mL x 9.62 / 100.
    juice = row("beverages", "apple_juice")
    sugar_g = 14 * 60 * juice["density_kg_l"]["value"] * juice["sugars_g_100g"]["value"] / 100
    assert sugar_g == pytest.approx(84.7, abs=0.1)


@every_drink
def test_allergens_are_words_of_their_lists(drink: Row) -> None:
    assert set(drink["allergens_eu"]) <= EUROPEAN_FOURTEEN
    assert set(drink["allergens_us"]) <= AMERICAN_NINE
    assert set(drink["may_hold"]) <= EUROPEAN_FOURTEEN | AMERICAN_NINE | ON_NO_LIST


@every_drink
def test_an_allergen_of_both_lists_is_named_in_both(drink: Row) -> None:
    shared = EUROPEAN_FOURTEEN & AMERICAN_NINE
    assert set(drink["allergens_eu"]) & shared == set(drink["allergens_us"]) & shared


@every_drink
def test_what_is_in_it_is_said_in_the_caution(drink: Row) -> None:
    words = {
        "gluten": ("gluten", "barley"),
        "soybeans": ("soya",),
        "milk": ("milk",),
        "sulphites": ("sulphites",),
    }
    for allergen in drink["allergens_eu"]:
        assert any(word in drink["caution"].lower() for word in words[allergen]), allergen


@every_drink
def test_the_caution_leaves_it_to_food_rules_and_to_written_answers(drink: Row) -> None:
    assert drink["caution"].endswith(" Local food rules and each performer's written answer decide.")


@every_drink
def test_nothing_stands_out_of_the_cold_for_longer_than_the_food_code_allows(drink: Row) -> None:
    assert 0 < drink["out_of_cold_h"]["value"] <= FOOD_CODE_H


@every_drink
def test_milk_and_what_is_treated_as_milk_is_under_the_food_code(drink: Row) -> None:
    is_milky = bool({"milk", "soybeans"} & set(drink["allergens_eu"])) or drink["id"] == "oat_drink"
    assert (drink["out_of_cold_h"]["source"] == "food_code") == is_milky


@every_drink
def test_what_scatters_is_judged_by_eye(drink: Row) -> None:
    assert drink["absorbance_class"] in {"clear", "by_eye"}
    if drink["out_of_cold_h"]["source"] == "food_code" or drink["id"] == "tomato_juice":
        assert drink["absorbance_class"] == "by_eye"


def test_wine_sold_as_alcohol_free_may_hold_alcohol_and_sulphites() -> None:
    for drink_id in ("red_wine_without_alcohol", "white_wine_without_alcohol", "beer_without_alcohol"):
        drink = row("beverages", drink_id)
        assert drink["alcohol_up_to_percent"]["value"] == 0.5
        assert "alcohol" in drink["caution"]
        if "wine" in drink_id:
            assert "sulphites" in drink["allergens_eu"]


def test_bubbles_have_an_end() -> None:
    for drink_id in ("ginger_ale", "club_soda", "tonic_water", "sparkling_apple_juice"):
        assert row("beverages", drink_id)["bubbles_min"]["high"] <= 15


@pytest.mark.parametrize("passed_for", ["rum", "champagne", "red wine", "whisky", "coffee", "milk"])
def test_each_glass_of_the_trade_has_a_stand_in(passed_for: str) -> None:
    assert [drink["id"] for drink in rows("beverages") if passed_for in drink["passes_for"]]


def test_the_table_says_that_no_answer_is_not_a_yes() -> None:
    assert "No answer is not a yes." in table("beverages")["about"]
