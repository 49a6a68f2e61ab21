"""The truck's list on a phone: whose, where, how many; what shots need at once; what the household has, with its caution."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from devices import accessibility_faults
from people import KEY_GRIP
from phone_screen import Screen
from server_process import ServerProcess


@pytest.fixture
def key_grip(phone: Page, demonstration: ServerProcess) -> Screen:
    """The key grip's phone at the list, without signal."""
    screen = Screen(phone, demonstration, KEY_GRIP, demonstration.join_code("key grip"))
    screen.page.context.set_offline(True)
    screen.go("kit")
    return screen


def test_what_shots_need_beyond_the_count_is_flagged_in_the_list_and_on_the_shot(key_grip: Screen) -> None:
    page = key_grip.page
    row = page.get_by_role("link", name=re.compile("Bleached muslin, 4 by 4 ft"))
    expect(row).to_contain_text("flame-retardant: not known")
    expect(row).not_to_contain_text("Needed at once")
    page.get_by_role("link", name="Needed for a shot").click()
    page.get_by_label("kit", exact=True).select_option(label="Bleached muslin, 4 by 4 ft")
    page.get_by_label("shot", exact=True).select_option(label="12E Insert, the glass")
    page.get_by_label("how many").fill("3")
    page.get_by_role("button", name="Add", exact=True).click()
    expect(page.locator("main")).to_have_attribute("data-screen", "record/booking/muslin~12e")
    key_grip.go("kit")
    expect(row).to_contain_text("Needed at once: 3 of 2, over. 12E 3")
    key_grip.go("shot/12e/rig")
    expect(page.get_by_text("12E 3")).to_be_visible()
    reasons = page.evaluate(
        "async () => (await tailslate.shotNow('12e')).readiness.reasons.map((one) => one.sentence)"
    )
    assert any("Bleached muslin" in sentence for sentence in reasons)


def test_a_household_thing_goes_on_the_list_not_counted_and_not_proved_and_back(key_grip: Screen) -> None:
    page = key_grip.page
    key_grip.go("kit/place")
    page.get_by_role("button", name=re.compile("From the household")).click()
    thing = page.get_by_role("button", name=re.compile("White bed sheet, doubled"))
    expect(thing).to_contain_text("CAUTION")
    expect(thing).to_contain_text("Not flame-retardant")
    thing.click()
    row = page.get_by_role("link", name=re.compile("White bed sheet, doubled"))
    expect(row).to_contain_text("not counted")
    expect(row).to_contain_text("flame-retardant: not known")
    assert key_grip.overflow_px() == 0
    assert key_grip.small_targets() == []
    assert accessibility_faults(page) == []
    page.get_by_role("button", name=re.compile("^Undo")).click(delay=500)
    expect(row).to_have_count(0)


def test_the_list_on_paper_has_a_box_for_each_thing_and_nothing_of_the_screen(key_grip: Screen) -> None:
    page = key_grip.page
    expect(page.get_by_role("link", name=re.compile("Sandbags"))).to_be_visible()
    page.emulate_media(media="print")
    expect(page.locator(".on-paper td b").filter(has_text="Sandbags, 12.5 kg")).to_be_visible()
    expect(page.locator(".foot")).to_be_hidden()
    assert page.locator(".on-paper tr").count() == page.locator(".on-paper tr .mk").count() > 0
