"""Drinks and food of a shot on its sheet, on both Pythons. Figures are published or worked by hand, with their source."""

from __future__ import annotations

from typing import Any

import pytest

from a_day import ADay, Door
from people import ASSISTANT_DIRECTOR, MORNING_MS, PROPS_BUYER
from things_of_a_shot import SAFE, Figure, a_shot_in, asked_for, by_label, part, plain, thing

HOUR_MS = 3_600_000
JUICE = {"title": "Apple juice", "sugar_g_per_hundred_g": "9.62", "density_kg_per_l": "1.048235752"}
TEA = {"title": "Black tea", "caffeine_mg_per_hundred_g": "20", "density_kg_per_l": "1"}
NOTHING_ELSE = {"sugar_g_per_hundred_g": "0", "caffeine_mg_per_hundred_g": "0", "sulphites_mg_per_kg": "0"}


def a_drink(*ingredients: dict[str, Any], **changes: Any) -> ADay:
    day = a_shot_in()
    day.act(PROPS_BUYER, "drink", "rum", title="Rum", scene="12", **changes)
    for place, one in enumerate(ingredients):
        day.act(PROPS_BUYER, "ingredient", f"i-{place}", drink="rum", order=place, **{**NOTHING_ELSE, **one})
    return day


def of(day: ADay, door: Door, record: str = "drink/rum", **asked: Any) -> dict[str, Figure]:
    return by_label(thing(part(day, door, "drinks", **asked), record))


def test_how_much_to_mix_when_every_take_empties_every_glass(phone_door: Door) -> None:
    """18 takes x 2 glasses x 120 ml, 15 % waste, 2 spare sets: 5448 ml, by hand."""
    day = a_drink(glasses=2, fill_l="120 ml", takes_planned=18, waste_ratio="0.15", spares=2)
    found = of(day, phone_door)["To mix"]
    assert found["value"] == pytest.approx(5.448, rel=1e-9)
    assert (found["state"], found["shown"]) == ("plain", "5.45 l")
    assert found["line"].startswith("at worst: every take empties every glass, 15 % waste, 2 spare sets")
    assert asked_for(found) == [
        ("drink/rum", "resets"),
        ("drink/rum", "swallowed_l"),
        ("drink/rum", "performers"),
    ]


def test_how_much_to_mix_when_glasses_are_topped_up(phone_door: Door) -> None:
    """(3 resets x 2 x 120 ml + 18 takes x 2 x 15 ml) x 1.1 + 1 spare set x 240 ml = 1626 ml, by hand."""
    day = a_drink(glasses=2, fill_l="120 ml", resets=3, takes_planned=18, performers=2, swallowed_l="15 ml")
    day.act(PROPS_BUYER, "drink", "rum", waste_ratio="0.1", spares=1)
    found = of(day, phone_door)["To mix"]
    assert found["value"] == pytest.approx(1.626, rel=1e-9)
    assert found["missing"] == []


def test_without_the_takes_an_amount_is_told_as_at_least(phone_door: Door) -> None:
    """6 resets x 60 ml x 1.15 = 414 ml, by hand; 15 % waste where nobody said (common practice)."""
    found = of(a_drink(glasses=1, fill_l="60 ml", resets=6), phone_door)["To mix"]
    assert (found["state"], found["shown"]) == ("unknown", "at least 414 ml")
    assert "15 % waste assumed" in found["line"]
    assert of(a_drink(), phone_door)["To mix"]["state"] == "unknown"


def test_parts_give_the_amount_of_each_ingredient(phone_door: Door) -> None:
    """1 part in 9, not 1 part to 9: 900 ml are 100 ml of tea and 800 ml of water, by hand."""
    tea, water = {**TEA, "parts": "1", "figures_from": "measured"}, {"title": "Water", "parts": "8"}
    day = a_drink(tea, water, glasses=1, fill_l="90 ml", takes_planned=10, waste_ratio="0")
    mix = thing(part(day, phone_door, "drinks"), "drink/rum")["mix"]
    assert [(one["title"], plain(one["share"]), plain(one["amount"])) for one in mix] == [
        ("Black tea", "11 %", "100 ml"),
        ("Water", "89 %", "800 ml"),
    ]
    assert [one["from"] for one in mix] == ["measured", ""]


def test_a_look_gives_the_shares(phone_door: Door) -> None:
    """A = a l f: 1.2 through 6 cm of a stock of 1.8 a centimetre is 1 in 9, Beer-Lambert law."""
    stock, water = {**TEA, "green_per_cm": "1.8"}, {"title": "Water", "green_per_cm": "0"}
    day = a_drink(stock, water, green_absorbance="1.2", path_m="6 cm", glasses=1, fill_l="150 ml")
    day.act(PROPS_BUYER, "drink", "rum", takes_planned=1, waste_ratio="0")
    found = thing(part(day, phone_door, "drinks"), "drink/rum")
    assert by_label(found)["Look"]["shown"] == "Black tea 11 %, Water 89 %"
    assert [plain(one["amount"]) for one in found["mix"]] == [
        "17 ml",
        "134 ml",
    ]  # 16.67 and 133.33, rounded up
    day.act(PROPS_BUYER, "drink", "rum", path_m="9 cm")
    assert by_label(thing(part(day, phone_door, "drinks"), "drink/rum"))["Look"]["shown"].startswith(
        "Black tea 7.4 %"
    )
    day.act(PROPS_BUYER, "drink", "rum", path_m="5 mm")
    assert of(day, phone_door)["Look"]["state"] == "over"  # it would take 1.33 of the glass


def test_two_stocks_are_mixed_by_channel(phone_door: Door) -> None:
    """Absorbances add: 0.5 and 0.25 a centimetre of stocks of 1 in red and 1 in green are a half and a quarter."""
    red = {"title": "Beet", "red_per_cm": "1", "green_per_cm": "0"}
    green = {"title": "Grape", "red_per_cm": "0", "green_per_cm": "1"}
    day = a_drink(red, green, red_absorbance="1", green_absorbance="0.5", path_m="2 cm")
    assert of(day, phone_door)["Look"]["shown"] == "Beet 50 %, Grape 25 %, water 25 %"
    day.act(PROPS_BUYER, "ingredient", "i-1", green_per_cm=None)
    silent = of(day, phone_door)["Look"]
    assert (silent["state"], asked_for(silent)) == ("unknown", [("ingredient/i-1", "green_per_cm")])


def test_sugar_over_all_takes(phone_door: Door) -> None:
    """60 ml a take, 14 takes, apple juice 9.62 g/100 g and 248 g a cup (USDA SR): 84.706 g; 50 g a day, WHO 2015."""
    day = a_drink({**JUICE, "parts": "1"}, takes_planned=14, swallowed_l="60 ml")
    found = of(day, phone_door)["Sugar"]
    assert found["value"] == pytest.approx(84.70583462, rel=1e-9)
    assert (found["state"], found["shown"], found["caution"]["code"]) == ("over", "85 g", "swallowed")
    day.act(PROPS_BUYER, "drink", "rum", swallowed_l="20 ml")
    assert of(day, phone_door)["Sugar"]["state"] == SAFE


def test_caffeine_over_all_takes(phone_door: Door) -> None:
    """90 ml a take, 12 takes, black tea 20 mg/100 g (USDA SR, from memory): 216 mg; 200 mg at once, EFSA 2015."""
    day = a_drink({**TEA, "parts": "1"}, takes_planned=12, swallowed_l="90 ml")
    found = of(day, phone_door)["Caffeine"]
    assert found["value"] == pytest.approx(216.0, rel=1e-9)
    assert (found["state"], found["line"].startswith("over 400 mg")) == ("over", False)
    day.act(PROPS_BUYER, "drink", "rum", takes_planned=23)
    assert of(day, phone_door)["Caffeine"]["line"].startswith("over 400 mg")


def test_nobody_said_how_much_is_swallowed_then_at_most_a_glass_a_take(phone_door: Door) -> None:
    """14 takes x 60 ml of apple juice is the 84.7 g above; 14 x 30 ml is 42.4 g, under 50 g."""
    day = a_drink({**JUICE, "parts": "1"}, takes_planned=14, fill_l="60 ml")
    found = of(day, phone_door)["Sugar"]
    assert (found["state"], found["shown"]) == ("unknown", "up to 85 g")
    assert asked_for(found) == [("drink/rum", "swallowed_l")]
    day.act(PROPS_BUYER, "drink", "rum", fill_l="30 ml")
    assert of(day, phone_door)["Sugar"]["state"] == SAFE


def test_a_label_that_nobody_read_leaves_it_unknown(phone_door: Door) -> None:
    day = a_drink({**TEA, "parts": "1"}, takes_planned=2, swallowed_l="10 ml")
    day.act(PROPS_BUYER, "ingredient", "i-0", sugar_g_per_hundred_g=None, sulphites_mg_per_kg=None)
    found = of(day, phone_door)
    assert (found["Sugar"]["state"], found["Caffeine"]["state"]) == ("unknown", SAFE)
    assert asked_for(found["Sugar"]) == [("ingredient/i-0", "sugar_g_per_hundred_g")]
    assert (found["Sulphites"]["state"], found["Sulphites"]["shown"]) == ("unknown", "name them")
    labels = thing(part(day, phone_door, "drinks"), "drink/rum")["allergens"]
    assert {one["words"] for one in labels} == {"not known: read the label"}


@pytest.mark.parametrize(("said", "state"), [("8", "plain"), ("10", "over"), ("25", "over")])
def test_sulphites_are_named_from_ten(said: str, state: str, phone_door: Door) -> None:
    """8, 10 and 25 mg/kg: 10 ppm or more (21 CFR 101.100), more than 10 mg/kg (EU 1169/2011): the careful one."""
    day = a_drink({**JUICE, "parts": "1", "sulphites_mg_per_kg": said})
    assert of(day, phone_door)["Sulphites"]["state"] == state


def test_with_no_ingredient_listed_nothing_is_known_of_them(phone_door: Door) -> None:
    found = of(a_drink(), phone_door)
    assert "Sugar" not in found
    assert found["Mix, sugar, caffeine, sulphites"]["state"] == "unknown"


def test_a_drink_is_cleared_only_by_a_round_that_is_done_for_what_is_in_it_now(phone_door: Door) -> None:
    day = a_drink({**TEA, "parts": "1"}, allergens="none named")
    first = thing(part(day, phone_door, "drinks"), "drink/rum")
    assert (first["cleared"], first["caution"]["code"]) == (False, "not_cleared")
    assert by_label(first)["Allergy round"]["shown"] == "not cleared"
    day.tick(ASSISTANT_DIRECTOR, "drink", "rum", "round_done")
    assert thing(part(day, phone_door, "drinks"), "drink/rum")["cleared"]
    day.act(
        PROPS_BUYER, "ingredient", "i-1", drink="rum", title="Almond milk", parts="1", allergens="tree nuts"
    )
    after = thing(part(day, phone_door, "drinks"), "drink/rum")
    assert not after["cleared"]
    assert "Almond milk" in by_label(after)["Allergy round"]["line"]
    assert day.row(phone_door, "Rum: allergy round done")["state"] == "again"


def a_batch(left: str = "09:00", **changes: Any) -> ADay:
    """A drink of which someone said in the morning when it left the cold; the clock stands at UTC."""
    return a_drink(left_cold_time=left, **changes)


@pytest.mark.parametrize(
    ("hours_after_seven", "more", "state", "words"),
    [
        (5.9, {}, SAFE, "until 13:00"),
        (6.0, {}, "over", "throw it away"),
        (6.0, {"start_degc": "4", "highest_degc": "20"}, SAFE, "until 15:00"),
        (6.0, {"start_degc": "4", "highest_degc": "22"}, "over", "throw it away"),
        (30.0, {}, "over", "throw it away"),
    ],
)
def test_out_of_the_cold_four_hours_or_six(
    hours_after_seven: float, more: dict[str, Any], state: str, words: str, phone_door: Door
) -> None:
    """Out of control 4 h, 6 h when it began at 5 degC or under and never passed 21 (FDA Food Code 3-501.19)."""
    now_ms = MORNING_MS + int(hours_after_seven * HOUR_MS)
    found = of(a_batch(**more), phone_door, now_ms=now_ms)["Out of the cold"]
    assert (found["state"], found["shown"]) == (state, words)
    assert found["caution"]["code"] == "batch"


def test_a_batch_of_last_night_is_not_taken_for_one_of_today(phone_door: Door) -> None:
    """Said at 07:00 that it left at 23:00: that was eight hours ago, not in sixteen."""
    found = of(a_batch("23:00"), phone_door, now_ms=MORNING_MS + HOUR_MS)["Out of the cold"]
    assert (found["state"], found["shown"]) == ("over", "throw it away")


def test_without_the_time_or_a_word_nothing_comes_out_within(phone_door: Door) -> None:
    assert of(a_batch(), phone_door)["Out of the cold"]["state"] == "unknown"
    silent = of(a_drink(), phone_door, now_ms=MORNING_MS)["Out of the cold"]
    assert (silent["state"], asked_for(silent)) == ("unknown", [("drink/rum", "left_cold_time")])
    split = a_batch()
    split.act(ASSISTANT_DIRECTOR, "drink", "rum", left_cold_time="10:00", alone=True)
    assert of(split, phone_door, now_ms=MORNING_MS + 3 * HOUR_MS)["Out of the cold"]["state"] == "unknown"


def test_what_keeps_has_no_clock_only_when_someone_said_so(phone_door: Door) -> None:
    assert of(a_drink(perishable="no"), phone_door)["Out of the cold"]["state"] == "plain"
    late_ms = MORNING_MS + 12 * HOUR_MS
    assert of(a_batch(perishable="unknown"), phone_door, now_ms=late_ms)["Out of the cold"]["state"] == "over"


def test_food_on_camera_is_counted_and_kept_like_a_drink(phone_door: Door) -> None:
    """12 takes x 2 performers x 1.15 = 27.6, so 28 portions, by hand; 15 % waste is common practice."""
    day = a_shot_in()
    food = {"title": "Biscuits", "scene": "12", "takes_planned": 12, "performers": 2, "portions": 24}
    day.act(PROPS_BUYER, "food", "biscuits", **food)
    found = of(day, phone_door, "food/biscuits", now_ms=MORNING_MS)
    assert (found["Portions"]["state"], found["Portions"]["shown"]) == ("over", "28")
    assert found["Out of the cold"]["state"] == "unknown"
    assert found["Allergy round"]["caution"]["code"] == "not_cleared"


def test_what_is_used_up_is_summed(phone_door: Door) -> None:
    day = a_drink()
    for take in (1, 2):
        day.act(PROPS_BUYER, "used", f"u-{take}", on="drink/rum", amount_l="60 ml", take=take)
    assert of(day, phone_door)["Used so far"]["shown"] == "120 ml"
