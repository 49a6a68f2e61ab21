"""Every screen in every light: nothing axe-core objects to, nothing too small, nothing wider than the phone."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from devices import accessibility_faults
from people import KEY_GRIP, PRODUCER
from phone_engine import invite
from phone_screen import Screen
from server_process import ServerProcess

SCREENS = (
    "day",
    "board",
    "shot/12c/light",
    "shot/12c/rig",
    "shot/12c/frame",
    "shot/12c/glasses",
    "shot/12c/colour",
    "shot/12c/dressing",
    "shot/12c/marks",
    "shot/12c/what_if",
    "list",
    "set",
    "raise",
    "raise/hold",
    "raise/request",
    "raise/note",
    "meaning/Bags",
    "tour/1",
    "tour/2",
    "tour/3",
    "phone",
    "record/source/table-lamp",
    "history/source/table-lamp",
    "two/source/table-lamp/height_m",
    "add/reading",
    "add/reading?shot=12c&point=purser-face&role=key",
    "add/task",
    "add/booking?shot=12c",
    "bring",
    "bring/day",
    "feed",
    "search",
    "kit/place",
    "hold/deck-wind",
    "request/flag-12e",
    "emergency",
    "paper/12c/grip",
    "reference/12c",
    "print/12c",
    "turn/12b/12c",
    "add/shot",
    "add/source?like=source%2Ftable-lamp",
    "start?shot=12c",
    "now/lamp?shot=12c",
    "now/mark?shot=12c",
)
OTHER_MODES = ("night", "day")  # joining, a phone is dark


def in_mode(screen: Screen, mode: str) -> None:
    screen.page.evaluate("mode => { document.documentElement.dataset.mode = mode; }", mode)


@pytest.fixture
def key_grip(phone: Page, demonstration: ServerProcess) -> Screen:
    """The key grip's phone on the demonstration day."""
    return Screen(phone, demonstration, KEY_GRIP, demonstration.join_code("key grip"))


def test_no_screen_of_a_phone_has_a_fault_that_axe_core_knows(onlooker: Screen) -> None:
    faults = {}
    for where in SCREENS:
        onlooker.go(where)
        faults[where] = accessibility_faults(onlooker.page)
    assert {where: found for where, found in faults.items() if found} == {}


@pytest.mark.parametrize("mode", OTHER_MODES)
def test_no_colour_of_a_phone_in_another_light_has_a_fault_that_axe_core_knows(
    onlooker: Screen, mode: str
) -> None:
    in_mode(onlooker, mode)
    faults = {}
    for where in SCREENS:
        onlooker.go(where)
        faults[where] = accessibility_faults(onlooker.page, of_colour_only=True)
    assert {where: found for where, found in faults.items() if found} == {}


def test_no_screen_of_a_laptop_has_a_fault_that_axe_core_knows(
    laptop: Page, demonstration: ServerProcess
) -> None:
    producer = Screen(laptop, demonstration, PRODUCER, demonstration.join_code("producer"))
    faults = {}
    for where in SCREENS:
        producer.go(where)
        expect(laptop.locator(".beside")).to_be_visible()
        faults[where] = accessibility_faults(laptop)
    assert {where: found for where, found in faults.items() if found} == {}
    assert producer.overflow_px() == 0


@pytest.mark.parametrize("width_px", [390, 320])
def test_every_target_is_as_large_as_a_gloved_finger_and_nothing_is_wider_than_the_phone(
    onlooker: Screen, width_px: int
) -> None:
    onlooker.page.set_viewport_size({"width": width_px, "height": 700})
    wrong = {}
    for where in SCREENS:
        onlooker.go(where)
        wrong[where] = onlooker.small_targets()
        if onlooker.overflow_px() > 0:
            wrong[where].append(f"{onlooker.overflow_px()} px wider than the screen")
    assert {where: found for where, found in wrong.items() if found} == {}


@pytest.mark.parametrize("width_px", [320, 390])
def test_an_age_that_nobody_knows_does_not_run_into_its_neighbour(
    phone: Page, server: ServerProcess, width_px: int
) -> None:
    phone.set_viewport_size({"width": width_px, "height": 844})
    grip = Screen(phone, server, KEY_GRIP, invite(server, KEY_GRIP))
    grip.engine.saved("shot", "1", {"number": "1"})
    heads = phone.locator(".bh em")
    expect(heads.filter(has_text="not known").first).to_be_visible()
    wide = "all => all.filter((one) => one.scrollWidth > one.clientWidth).map((one) => one.textContent)"
    assert heads.evaluate_all(wide) == []


def test_with_text_of_twice_the_size_nothing_is_cut_off_at_the_side_and_the_facts_stay(
    onlooker: Screen,
) -> None:
    onlooker.page.evaluate("document.documentElement.style.fontSize = '200%'")
    wide = {}
    for where in SCREENS:
        onlooker.go(where)
        if onlooker.overflow_px() > 0:
            wide[where] = onlooker.overflow_px()
        expect(onlooker.facts).to_be_in_viewport(ratio=1)
    assert wide == {}


def test_with_the_colours_of_the_person_marks_stay_apart_from_the_ground(onlooker: Screen) -> None:
    onlooker.page.emulate_media(forced_colors="active")
    onlooker.go("list")
    mark, ground = onlooker.page.evaluate(
        """() => {
          const style = getComputedStyle(document.documentElement);
          return ["--mark-fill", "--ground"].map((name) => style.getPropertyValue(name).trim());
        }"""
    )
    assert (mark, ground) == ("CanvasText", "Canvas")
    assert accessibility_faults(onlooker.page) == []


def test_with_reduced_motion_nothing_moves(onlooker: Screen) -> None:
    onlooker.page.emulate_media(reduced_motion="reduce")
    durations = onlooker.page.evaluate(
        """() => ["--m-press", "--m-tick", "--m-lay"].map((name) =>
          Number.parseFloat(getComputedStyle(document.documentElement).getPropertyValue(name)))"""
    )
    assert durations == [0, 0, 0]


def test_two_seconds_on_the_facts_change_the_light_of_the_screen_and_open_nothing(key_grip: Screen) -> None:
    key_grip.go("day")
    box = key_grip.facts.bounding_box()
    assert box is not None
    key_grip.page.mouse.move(box["x"] + 20, box["y"] + 20)
    key_grip.page.mouse.down()
    expect(key_grip.page.locator("html")).to_have_attribute("data-mode", "night", timeout=5000)
    key_grip.page.mouse.up()
    assert key_grip.page.evaluate("location.hash") == "#/day"
