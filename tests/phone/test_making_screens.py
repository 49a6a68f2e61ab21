"""Things made on a phone in a few taps, one tap back; what a value does before it is saved; things moved on the plan."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from hands import Hands
from people import GAFFER, KEY_GRIP, PRODUCER
from phone_screen import Screen
from server_process import ServerProcess


@pytest.fixture
def gaffer(phone: Page, demonstration: ServerProcess) -> Screen:
    """The gaffer's phone on the demonstration day."""
    return Screen(phone, demonstration, GAFFER, demonstration.join_code("gaffer"))


def keys(screen: Screen, kind: str) -> list[str]:
    found: list[str] = screen.engine.ask("kind => tailslate.recordsOf(kind).value", kind)
    return found


def all_keys(screen: Screen) -> dict[str, list[str]]:
    return {
        kind: keys(screen, kind)
        for kind in ("source", "level", "layer", "rig", "point", "shot", "setup", "task")
    }


def undo(screen: Screen) -> None:
    """Take back what the dock offers; it takes no tap in its first 400 ms."""
    button = screen.page.get_by_role("button", name=re.compile("^Undo: "))
    button.wait_for()
    button.click(delay=500)
    expect(button).to_have_count(0)


def is_burning(screen: Screen, shot: str) -> set[Any]:
    return {
        screen.value_of(key, "source")
        for key in keys(screen, "level")
        if screen.value_of(key, "shot") == shot
    }


def test_a_lamp_is_in_the_shot_after_three_taps_and_gone_after_one(gaffer: Screen) -> None:
    before = all_keys(gaffer)
    gaffer.go("shot/12c/light")
    hands = Hands(gaffer.page)
    with hands.step("a lamp now"):
        hands.link("Add a lamp now")
        hands.tap(gaffer.page.locator("label", has_text="practical"))
        hands.tap(gaffer.page.get_by_role("button", name="LED tube, colour-mixing, 1.2 m, 50 W class"))
    assert hands.steps[0].taps == 3
    expect(gaffer.page.locator("main")).to_have_attribute("data-screen", "shot/12c/light")
    [made] = set(keys(gaffer, "source")) - set(before["source"])
    assert gaffer.value_of(made, "lamp") == "LED tube, colour-mixing, 1.2 m, 50 W class"
    assert gaffer.value_of(made, "circuit") is None, "nobody said where it is plugged in"
    assert made.split("/")[1] in is_burning(gaffer, "12c")
    undo(gaffer)
    gaffer.engine.until(f"!tailslate.recordsOf('source').value.includes('{made}')")
    assert all_keys(gaffer) == before


def test_a_starting_point_is_one_tap_and_one_tap_back_and_its_cautions_stand_open(gaffer: Screen) -> None:
    before = all_keys(gaffer)
    gaffer.go("start?shot=12c")
    boom = gaffer.page.get_by_role("button", name="Top light on a boom")
    expect(boom.locator(".caution").first).to_contain_text("A load over people")
    boom.click()
    expect(gaffer.page.locator("main")).to_have_attribute("data-screen", "shot/12c/light")
    after = all_keys(gaffer)
    assert {kind: len(after[kind]) - len(before[kind]) for kind in after if after[kind] != before[kind]} == {
        "source": 1, "level": 1, "rig": 1,
    }  # fmt: skip
    undo(gaffer)
    gaffer.engine.until(f"tailslate.recordsOf('rig').value.length === {len(before['rig'])}")
    assert all_keys(gaffer) == before


def test_a_source_of_the_shot_is_kept_and_started_from_in_another(gaffer: Screen) -> None:
    gaffer.go("start?shot=12c")
    gaffer.page.get_by_role("button", name=re.compile("^Keep one of this shot")).click()
    gaffer.page.get_by_role("button", name="Muslin fill", exact=True).click()
    gaffer.go("start?shot=12e")
    gaffer.page.get_by_role("button", name="Muslin fill").first.click()
    expect(gaffer.page.locator("main")).to_have_attribute("data-screen", "shot/12e/light")
    made = [
        key for key in is_burning(gaffer, "12e") if gaffer.value_of(f"source/{key}", "title") == "Muslin fill"
    ]
    assert [key for key in keys(gaffer, "layer") if gaffer.value_of(key, "source") in made]


def test_a_shot_and_its_reverse_are_copied_with_all_that_burns(gaffer: Screen) -> None:
    for button, own_setup in (("Copy this shot", False), ("Copy to its reverse", True)):
        shots, setups = set(keys(gaffer, "shot")), set(keys(gaffer, "setup"))
        gaffer.go("shot/12c/light")
        gaffer.page.get_by_role("button", name=button).click()
        expect(gaffer.page.locator("main")).to_have_attribute("data-screen", re.compile("^record/shot/"))
        [made] = set(keys(gaffer, "shot")) - shots
        assert gaffer.value_of(made, "phase") == "setting"
        assert len(is_burning(gaffer, made.split("/")[1])) == len(is_burning(gaffer, "12c"))
        assert (set(keys(gaffer, "setup")) != setups) == own_setup


def test_what_is_typed_shows_what_it_does_before_it_is_saved(
    gaffer: Screen, open_device: Callable[..., Page], demonstration: ServerProcess
) -> None:
    page = gaffer.page
    trial = page.locator(".trial")
    hands = Hands(page)
    gaffer.go("record/level/key~12c?shot=12c")
    with hands.step("typing"):
        hands.fill("level", distance_m="3.4")
    expect(trial).to_contain_text("Key, the Purser's face")
    expect(trial).to_contain_text("was 1.0 stop under")
    expect(trial).to_be_in_viewport(ratio=1)
    assert gaffer.value_of("level/key~12c", "distance_m")[0] != "3.4"

    laptop = open_device("laptop")
    producer = Screen(laptop, demonstration, PRODUCER, demonstration.join_code("producer"))
    producer.go("record/rig/stand-1?shot=12c")
    before = producer.value_of("rig/stand-1", "load_kg")
    hands = Hands(laptop)
    with hands.step("typing"):
        hands.fill("rig", load_kg="22")
    trial = laptop.locator(".trial")
    expect(trial).to_contain_text("Load on the stand")
    expect(trial).to_be_in_viewport()
    box = trial.bounding_box()
    assert box
    assert box["x"] >= 1280 - 320
    assert producer.value_of("rig/stand-1", "load_kg") == before


def test_how_much_to_mix_stands_beside_the_fill_while_it_is_typed(gaffer: Screen) -> None:
    drink = keys(gaffer, "drink")[0]
    gaffer.go(f"record/{drink}?shot=12c")
    hands = Hands(gaffer.page)
    with hands.step("typing"):
        hands.fill("drink", fill_l="0.2")
    expect(gaffer.page.locator(".trial")).to_contain_text("To mix")


def test_a_thing_is_dragged_or_moved_by_keys_and_put_back(gaffer: Screen) -> None:
    page = gaffer.page
    gaffer.go("set")
    page.get_by_label("As seen by").select_option("12c")
    page.get_by_role("button", name="Move things").click()
    before = [gaffer.value_of("source/key", field) for field in ("x_m", "y_m")]
    stand = gaffer.value_of("rig/stand-1", "x_m")
    grab = page.get_by_role("button", name=re.compile("^Move Saloon key,")).first
    grab.focus()
    page.keyboard.press("ArrowRight")
    gaffer.engine.until(f"tailslate.shown(tailslate.recordNow('source/key').x_m)[0] !== '{before[0][0]}'")
    moved = float(gaffer.value_of("source/key", "x_m")[0])
    assert moved == pytest.approx(float(before[0][0]) + 0.1, abs=0.006)
    undo(gaffer)
    gaffer.engine.until(f"tailslate.shown(tailslate.recordNow('source/key').x_m)[0] === '{before[0][0]}'")

    # A metre on the floor is a metre on the drawing: dragged by one bar's length to the left.
    plan = page.locator("svg.plan")
    bar_px = plan.locator("path.cup").evaluate("one => one.getBBox().width * one.getScreenCTM().a")
    grab = page.get_by_role("button", name=re.compile("^Move Saloon key,")).first
    grab.scroll_into_view_if_needed()
    box = grab.bounding_box()
    assert box
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - bar_px / 2, y)
    page.mouse.move(x - bar_px, y)
    page.mouse.up()
    gaffer.engine.until(f"tailslate.shown(tailslate.recordNow('source/key').x_m)[0] !== '{before[0][0]}'")
    assert float(gaffer.value_of("source/key", "x_m")[0]) == pytest.approx(float(before[0][0]) - 1, abs=0.05)
    # The stand under the lamp went along.
    assert float(gaffer.value_of("rig/stand-1", "x_m")[0]) == pytest.approx(float(stand[0]) - 1, abs=0.05)


def test_a_thing_is_placed_by_distance_and_angle(gaffer: Screen) -> None:
    gaffer.go("record/source/moon")
    gaffer.page.get_by_role("button", name="Place it by distance and angle").click()
    gaffer.page.get_by_label("From", exact=True).select_option(label="the Purser's face")
    gaffer.page.get_by_label("Distance").fill("2 m")
    gaffer.page.get_by_label("Angle, + to the right").fill("90")
    gaffer.page.get_by_role("button", name="Place it", exact=True).click()
    face = next(key for key in keys(gaffer, "point") if gaffer.value_of(key, "title") == "the Purser's face")
    wanted = float(gaffer.value_of(face, "x_m")[0]) + 2
    gaffer.engine.until(
        f"Math.abs(tailslate.shown(tailslate.recordNow('source/moon').x_m)[0] - {wanted}) < 0.01"
    )


def test_a_source_burns_in_one_more_shot_with_one_tap(gaffer: Screen) -> None:
    gaffer.go("record/source/key")
    places = gaffer.page.locator("fieldset", has_text="Burns in").locator("label")
    before = gaffer.page.locator("fieldset", has_text="Burns in").locator("input:checked").count()
    free = next(one for one in places.all() if not one.locator("input").is_checked())
    free.click()
    expect(gaffer.page.locator("fieldset", has_text="Burns in").locator("input:checked")).to_have_count(
        before + 1
    )


def test_one_more_like_it_counts_on_and_takes_no_safety_along(
    phone: Page, demonstration: ServerProcess
) -> None:
    grip = Screen(phone, demonstration, KEY_GRIP, demonstration.join_code("key grip"))
    grip.engine.saved("rig", "spare-1", {"title": "Spare stand 1", "bags": 2, "overhead": "yes"})
    grip.go("record/rig/spare-1")
    grip.page.get_by_role("link", name="Another like it").click()
    expect(grip.page.locator("#add-title")).to_have_value("Spare stand 2")
    expect(grip.page.locator("#add-bags")).to_have_value("2")
    expect(grip.page.locator("fieldset", has_text="over people").locator("input:checked")).to_have_count(0)
    grip.page.get_by_role("button", name="Add", exact=True).click()
    expect(grip.page.locator("h1").first).to_contain_text("Spare stand 2")


def test_whoever_heads_production_lets_someone_join_by_a_code(
    phone: Page, second_phone: Page, demonstration: ServerProcess
) -> None:
    producer = Screen(phone, demonstration, PRODUCER, demonstration.join_code("producer"))
    producer.go("phone")
    phone.get_by_role("button", name="Let someone join").click()
    phone.get_by_role("button", name="Make a code").click()
    expect(phone.get_by_role("alert")).to_have_text("Choose one department or more.")
    group = phone.get_by_role("group", name="Departments of whoever gets the code")
    group.get_by_label("Grip", exact=True).check()
    phone.get_by_role("button", name="Make a code").click()
    link = phone.locator("a[href*='/join#']")
    expect(link).to_be_visible()
    code = str(link.get_attribute("href")).split("#")[1]
    assert producer.small_targets() == []
    came = Screen(second_phone, demonstration, KEY_GRIP, code)
    came.go("list")
    expect(second_phone.locator("h1").first).to_contain_text("Grip")
    demonstration.stop()
    phone.get_by_role("button", name="Make a code").click()
    expect(phone.get_by_role("alert")).to_contain_text("Try again where there is signal.")


def test_whoever_heads_production_makes_the_next_day_and_comes_back_to_this_one(
    phone: Page, demonstration: ServerProcess
) -> None:
    producer = Screen(phone, demonstration, PRODUCER, demonstration.join_code("producer"))
    shots = keys(producer, "shot")
    producer.go("phone")
    phone.get_by_role("button", name="Make the next day").click()
    phone.get_by_role("button", name="Like this one").click()
    expect(phone.get_by_role("alert")).to_have_text("Give the new day a title first.")
    phone.get_by_label("Title of the new day").fill("Night Crossing, day 5")
    phone.get_by_role("button", name="Like this one").click()
    expect(phone.get_by_role("link", name="For everyone else")).to_contain_text("/join#")
    assert producer.small_targets() == []
    phone.get_by_role("button", name="Open it on this phone").click()
    expect(phone.locator("h1").first).to_contain_text("Night Crossing, day 5")
    producer.engine.until("facts.matched_ms && !facts.incomplete.length")
    assert keys(producer, "shot") == shots
    assert keys(producer, "reading") == []
    producer.go("phone")
    phone.get_by_role("button", name="Other days on this phone").click()
    phone.locator("button", has_text=re.compile("^Night CrossingOpen")).click()
    expect(phone.locator("h1").first).to_have_text("Night Crossing")  # the app has started anew
    producer.engine.until("tailslate.recordsOf('reading').value.length > 0")
