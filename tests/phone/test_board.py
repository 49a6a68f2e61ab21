"""The producer's board and a department's own word: what the floor does arrives, what it could not send is said to be old."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from people import KEY_GRIP, PRODUCER
from phone_screen import Screen
from server_process import ServerProcess


@pytest.fixture
def key_grip(phone: Page, demonstration: ServerProcess) -> Screen:
    """The key grip's phone on the demonstration day."""
    return Screen(phone, demonstration, KEY_GRIP, demonstration.join_code("key grip"))


@pytest.fixture
def producer(laptop: Page, demonstration: ServerProcess) -> Screen:
    """The producer's laptop, at the board."""
    screen = Screen(laptop, demonstration, PRODUCER, demonstration.join_code("producer"))
    screen.page.get_by_role("link", name="Board", exact=True).click()
    expect(of_shot(screen, "12C")).to_contain_text("Grip 2 again")
    return screen


def of_shot(screen: Screen, number: str) -> Locator:
    """What the board says of a shot."""
    has = screen.page.get_by_role("heading", name=re.compile(f"^{number} "))
    return screen.page.locator(".board-shot").filter(has=has)


def of_department(screen: Screen, label: str) -> Locator:
    """How old a department's knowledge is, as the board has it."""
    return screen.page.locator(".knowledge li").filter(has_text=label)


def tick_both(key_grip: Screen) -> None:
    key_grip.go("list")
    key_grip.dock.get_by_role("button", name="Tick both again").click(delay=500)


def test_a_tick_made_on_the_floor_arrives_on_the_board_while_both_are_online(
    key_grip: Screen, producer: Screen
) -> None:
    expect(producer.page.get_by_text("Live. This phone heard the day at")).to_be_visible()
    tick_both(key_grip)
    expect(of_shot(producer, "12C")).to_contain_text("Grip 1 left")
    expect(of_department(producer, "Grip")).to_contain_text("0\u00a0m")
    expect(producer.page.locator(".frame")).not_to_contain_text(KEY_GRIP.name)


def test_while_the_floor_is_offline_the_board_says_how_old_its_knowledge_is(
    key_grip: Screen, producer: Screen
) -> None:
    [day] = producer.engine.ask("() => tailslate.recordsOf('day').value")
    producer.engine.saved("day", day.split("/")[1], {"old_after_min": 5})
    grip = of_department(producer, "Grip")
    expect(grip).to_contain_text("old: ask by voice")
    expect(grip).to_contain_text(re.compile("\\d+\u00a0m"))
    key_grip.page.context.set_offline(True)
    tick_both(key_grip)
    expect(key_grip.facts).to_contain_text("2 unsent")
    producer.hear()
    expect(of_shot(producer, "12C")).to_contain_text("Grip 2 again")
    expect(grip).to_contain_text("old: ask by voice")
    key_grip.page.context.set_offline(False)
    key_grip.hear()
    producer.hear()
    expect(of_shot(producer, "12C")).to_contain_text("Grip 1 left")
    expect(grip).not_to_contain_text("old")


def test_a_board_without_signal_says_since_when(producer: Screen) -> None:
    producer.page.context.set_offline(True)
    producer.engine.ask("() => tailslate.exchangeNow()")
    said = producer.page.get_by_text(re.compile(r"Not live\. This phone last heard the day at \d\d:\d\d"))
    expect(said).to_be_visible()
    producer.page.get_by_role("button", name="What these numbers mean").click()
    for meaning in ("Eight times in ten", "Of ten days like this one", "No word: nobody", "gives no leave"):
        expect(producer.page.get_by_text(re.compile(meaning))).to_be_visible()


def test_a_word_is_one_tap_on_the_shot_and_one_tap_back(key_grip: Screen, producer: Screen) -> None:
    key_grip.go("shot/12c")
    more = key_grip.page.get_by_role("button", name="45 more", exact=True)
    more.click()
    expect(more).to_have_attribute("aria-pressed", "true")
    key_grip.dock.get_by_role("button", name="Undo: Grip: 45 more").click(delay=500)
    expect(key_grip.page.get_by_role("button", name="20 more", exact=True)).to_have_attribute(
        "aria-pressed", "true"
    )
    more.click()
    expect(of_shot(producer, "12C")).to_contain_text(re.compile(r"Grip said 45 more at \d\d:\d\d.*(now|ago)"))


def test_a_word_is_one_tap_on_the_list_and_a_second_tap_takes_it_back(key_grip: Screen) -> None:
    key_grip.go("list")
    section = key_grip.page.locator("section").filter(
        has=key_grip.page.get_by_role("heading", name=re.compile("^12E "))
    )
    stuck = section.get_by_role("button", name="Stuck")
    stuck.click()
    expect(section).to_contain_text("Grip is stuck, said at")
    expect(stuck).to_have_attribute("aria-pressed", "true")
    stuck.click()
    expect(section).to_contain_text("Grip has not said how long yet")


def test_what_to_do_first_leads_to_its_row(producer: Screen) -> None:
    links = producer.page.locator("a[href*='row=']")
    title = links.first.locator(".t").inner_text()
    links.filter(has_text=title).first.click()  # by its title: the forecast may put another first meanwhile
    expect(producer.page.locator("[role=checkbox]:focus")).to_contain_text(title)


def test_what_if_says_minutes_and_keeps_nothing(producer: Screen) -> None:
    page = producer.page
    edits = producer.engine.facts["edits"]
    page.get_by_label("Swap this shot").select_option("12c")
    page.get_by_label("with this one").select_option("12d")
    would = page.locator("[aria-live] .row.plain").filter(has_text="12D")
    expect(would).to_contain_text("min sooner")
    page.get_by_label("Drop a shot").select_option("13a")
    expect(page.locator("[aria-live] .row.plain").filter(has_text="13A")).to_have_count(0)
    assert producer.engine.facts["edits"] == edits


def test_what_is_folded_under_a_stand_is_opened_with_one_tap(key_grip: Screen) -> None:
    key_grip.go("list")
    section = key_grip.page.locator("section").filter(
        has=key_grip.page.get_by_role("heading", name=re.compile("^13A "))
    )
    fold = section.get_by_role("button", name=re.compile("^Deck boom"))
    expect(fold).to_be_visible()
    before = section.get_by_role("checkbox").count()
    assert 0 < before <= 7
    fold.click()
    expect(section.get_by_role("checkbox")).to_have_count(
        before + int(fold.locator("span").last.inner_text())
    )
