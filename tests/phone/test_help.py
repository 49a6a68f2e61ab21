"""Help where it is needed: three screens after joining, what a number is in one tap, and empty screens that say what to do."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from people import PRODUCER
from phone_engine import Engine, invite
from phone_screen import Screen
from server_process import ServerProcess


def join_by_hand(page: Page, server: ServerProcess) -> None:
    page.goto(f"{server.url}/join#{server.join_code('key grip')}")
    page.get_by_label("Your name").fill("Tove")
    page.get_by_label("What you do").fill("Key grip")
    page.get_by_role("checkbox", name="Grip", exact=True).check()
    page.get_by_role("button", name="Join the day").click()


def test_who_joins_is_shown_around_once_in_three_screens(phone: Page, demonstration: ServerProcess) -> None:
    join_by_hand(phone, demonstration)
    title = phone.get_by_role("heading", level=1)
    for said in ("No signal needed", "Tick, and tick again", "Raise what stops you"):
        expect(title).to_have_text(said)
        phone.locator("main .btn.solid").click()
    expect(title).to_contain_text("Night Crossing")
    phone.reload()
    expect(title).to_contain_text("Night Crossing")
    phone.goto("about:blank")
    phone.goto(demonstration.url)
    expect(title).to_contain_text("Night Crossing")
    phone.evaluate("() => { location.hash = '#/phone'; }")
    phone.get_by_role("link", name="How it works").click()
    expect(title).to_have_text("No signal needed")
    phone.get_by_role("link", name="Skip").click()
    expect(title).to_contain_text("Night Crossing")


def test_a_phone_that_joins_again_is_not_shown_around_again(
    phone: Page, demonstration: ServerProcess
) -> None:
    join_by_hand(phone, demonstration)
    phone.get_by_role("link", name="Skip").click()
    Engine(phone, demonstration.url).until("facts.matched_ms && facts.unsent === 0")
    phone.evaluate("() => tailslate.forget(0)")
    join_by_hand(phone, demonstration)
    expect(phone.get_by_role("heading", name="Night Crossing")).to_be_visible()


def test_a_figure_says_what_it_is_in_one_tap_with_its_caution(onlooker: Screen) -> None:
    onlooker.go("shot/12c/rig")
    onlooker.page.get_by_role("link", name=re.compile("^Bags")).first.click()
    page = onlooker.page.locator("main")
    expect(page).to_have_attribute("data-screen", "meaning/Bags")
    expect(page).to_contain_text("so that a stand does not tip")
    expect(page).to_contain_text("Worked out:")
    expect(page).to_contain_text("common practice, no source")
    expect(page.locator(".caution")).to_contain_text("A competent grip decides")


@pytest.mark.parametrize(
    ("tab", "label", "source"),
    [
        ("light", "Level", "ISO 2720"),
        ("rig", "Load", "NFPA 70"),
        ("frame", "Depth of field", "Ray"),
        ("glasses", "Sugar", "WHO"),
        ("colour", "Mired", "definition of the mired"),
        ("dressing", "flame-retardant", ""),
        ("marks", "Tape", "unrolled cylinder"),
    ],
)
def test_each_part_of_a_shot_says_at_its_end_what_its_numbers_mean(
    onlooker: Screen, tab: str, label: str, source: str
) -> None:
    onlooker.go(f"shot/12c/{tab}")
    onlooker.settle()
    onlooker.page.get_by_role("button", name="What these numbers mean").click()
    one = onlooker.page.locator("dl > div").filter(has=onlooker.page.get_by_text(label, exact=True))
    expect(one).to_have_count(1)
    expect(one).to_contain_text(source)
    expect(onlooker.page.get_by_text("It never says that something is safe").first).to_be_visible()


def test_an_empty_day_says_on_every_screen_what_to_do(phone: Page, server: ServerProcess) -> None:
    producer = Screen(phone, server, PRODUCER, invite(server, PRODUCER))
    producer.go("day")
    expect(producer.page.locator(".empty")).to_contain_text("Add the first shot")
    for where in ("list", "shot"):
        producer.go(where)
        expect(producer.page.locator(".empty .sub, .empty .btn").first).to_be_visible()
    producer.engine.saved("shot", "1a", {"number": "1A", "title": "Wide"})
    producer.engine.until("tailslate.shots.value['1a']")
    for tab in ("light", "rig", "frame", "glasses", "colour", "dressing", "marks"):
        producer.go(f"shot/1a/{tab}")
        said = producer.page.locator(".empty").first
        expect(said).to_be_visible()
        expect(said).to_contain_text(re.compile("Add|Measure|Fill|fill"))
