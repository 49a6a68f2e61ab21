"""Finding things again, what others changed for mine until I have looked, and undoing it: on a phone, without signal."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from devices import accessibility_faults
from people import ART_DIRECTOR, GAFFER, KEY_GRIP
from phone_screen import Screen
from server_process import ServerProcess

UNSEEN = "changed, not looked at"


@pytest.fixture
def key_grip(phone: Page, demonstration: ServerProcess) -> Screen:
    """The key grip's phone on the demonstration day."""
    return Screen(phone, demonstration, KEY_GRIP, demonstration.join_code("key grip"))


@pytest.fixture
def gaffer(second_phone: Page, demonstration: ServerProcess) -> Screen:
    """The gaffer's phone on the same day."""
    return Screen(second_phone, demonstration, GAFFER, demonstration.join_code("gaffer"))


def test_words_are_found_in_any_record_whatever_their_case_and_accents_and_narrowed(key_grip: Screen) -> None:
    key_grip.page.context.set_offline(True)
    key_grip.engine.saved("dressing", "sign", {"title": "Café Étoile sign", "place": "bar"})
    key_grip.engine.saved("dressing", "chair", {"title": "Chair", "note": "under the ETOILE"})
    key_grip.go("search")
    page = key_grip.page
    box = page.get_by_label("Words in anything on the day")
    box.fill("etoile")
    rows = page.locator("search a.row")
    expect(rows).to_have_count(2)
    expect(rows.first).to_contain_text("Café Étoile sign")
    expect(rows.nth(1)).to_contain_text("note: under the ETOILE")
    box.fill("cafe ETOILE")
    expect(page.get_by_role("status").filter(has_text="1 found")).to_be_visible()
    box.fill("")
    page.get_by_role("button", name="Narrow it").click()
    page.get_by_label("Place").select_option("bar")
    expect(rows.filter(has_text="Café Étoile sign")).to_have_count(1)
    expect(rows.filter(has_text="Chair")).to_have_count(0)
    assert key_grip.overflow_px() == 0
    assert key_grip.small_targets() == []
    assert accessibility_faults(page) == []


def test_filters_by_shot_department_and_state_say_what_the_sheets_say(key_grip: Screen) -> None:
    key_grip.go("search")
    page = key_grip.page
    page.get_by_role("button", name="Narrow it").click()
    page.get_by_label("Shot").select_option(label="12C")
    page.get_by_label("Department").select_option(label="Grip")
    page.get_by_label("State").select_option(label="tick again")
    rows = page.locator("search a.row")
    expect(rows.first).to_be_visible()
    found = {one.get_attribute("href") for one in rows.all()}
    again = page.evaluate(
        """() => Object.values(tailslate.shots.value).filter(({ shot }) => shot === "12c")
          .flatMap(({ sheet }) => sheet.rows.tasks)
          .filter(({ state, department }) => state === "again" && department === "grip")
          .map(({ record }) => record)"""
    )
    recorded = {record for record in again if key_grip.engine.fields(record)}
    assert recorded
    assert {f"#/record/{record}" for record in recorded if "~" not in record} <= found


def test_the_list_is_reached_by_keyboard_alone(key_grip: Screen) -> None:
    key_grip.go("search")
    page = key_grip.page
    page.get_by_label("Words in anything on the day").focus()
    page.keyboard.type("sconce 1")
    expect(page.locator("search a.row").first).to_be_visible()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    expect(page.locator("main")).to_have_attribute("data-screen", re.compile("^record/"))


def test_what_another_department_changed_is_marked_until_it_is_looked_at(
    key_grip: Screen, gaffer: Screen
) -> None:
    gaffer.engine.saved("source", "key", {"height_m": ["2.6", "2.6 m"]})
    gaffer.hear()
    key_grip.hear()
    key_grip.go("day")
    page = key_grip.page
    expect(page.get_by_role("link", name=re.compile("1 changed for you"))).to_be_visible()
    key_grip.engine.reload()
    expect(page.get_by_role("link", name=re.compile("1 changed for you"))).to_be_visible()
    page.get_by_role("link", name=re.compile("1 changed for you")).click()
    row = page.locator(".feed li").filter(has_text=UNSEEN)
    expect(row).to_contain_text("height to the lens: 2.6")
    expect(row).to_contain_text("Electric")
    assert GAFFER.name not in row.inner_text(), "the feed names departments"
    row.get_by_role("link").click()
    expect(page.locator("main")).to_have_attribute("data-screen", "record/source/key")
    key_grip.go("feed")
    expect(page.locator(".feed li").first).to_be_visible()
    expect(page.get_by_text(UNSEEN)).to_have_count(0)
    gaffer.go("day")
    expect(gaffer.page.get_by_text("changed for you")).to_have_count(0)


def test_a_change_is_undone_from_the_feed_as_a_new_edit_that_everyone_gets(
    key_grip: Screen, gaffer: Screen
) -> None:
    before = gaffer.value_of("source/key", "height_m")
    gaffer.engine.saved("source", "key", {"height_m": ["2.6", "2.6 m"]})
    gaffer.hear()
    key_grip.hear()
    edits = key_grip.engine.facts["edits"]
    key_grip.go("feed")
    page = key_grip.page
    page.context.set_offline(True)
    row = page.locator(".feed li").filter(has_text="2.6")
    row.get_by_role("button", name=re.compile("^Undo")).click()
    expect(row.get_by_text("Undone")).to_be_visible()
    assert key_grip.value_of("source/key", "height_m") == before
    assert key_grip.engine.facts["edits"] == edits + 1
    page.context.set_offline(False)
    key_grip.hear()
    gaffer.hear()
    assert gaffer.value_of("source/key", "height_m") == before


def test_an_older_edit_is_undone_from_the_history_too_and_a_tick_never_comes_back_by_it(
    key_grip: Screen,
) -> None:
    before = key_grip.value_of("dressing/chart", "place")
    key_grip.engine.saved("dressing", "chart", {"place": "on the bar"})
    key_grip.go("history/dressing/chart")
    page = key_grip.page
    line = page.locator("main li").filter(has_text="on the bar").first
    line.get_by_role("button", name=re.compile("^Undo")).click()
    key_grip.engine.until(f"tailslate.shown(tailslate.recordNow('dressing/chart').place) === '{before}'")
    key_grip.engine.saved("task", "own", {"title": "Coil it", "department": "grip", "done": ["done", []]})
    key_grip.engine.saved("task", "own", {"done": False})
    key_grip.go("history/task/own")
    expect(page.get_by_text("does not come back by an undo")).to_be_visible()


def test_a_raised_hold_is_not_undone_but_opened_to_be_cleared(
    key_grip: Screen, open_device: Callable[..., Page], demonstration: ServerProcess
) -> None:
    art = Screen(
        open_device("phone"), demonstration, ART_DIRECTOR, demonstration.join_code("art department and props")
    )
    art.engine.saved(
        "hold", "wet", {"why": "deck is wet", "type": "stop", "department": "art", "shot": "12c"}
    )
    art.hear()
    key_grip.hear()
    key_grip.go("feed")
    row = key_grip.page.locator(".feed li").filter(has_text="deck is wet")
    expect(row).to_contain_text("A hold is cleared, never undone")
    expect(row.get_by_role("button")).to_have_count(0)
    row.get_by_role("link").click()
    expect(key_grip.page.locator("main")).to_have_attribute("data-screen", "hold/wet")
    key_grip.go("feed")
    key_grip.page.get_by_label("All of the day").check()
    expect(key_grip.page.locator(".feed li").first).to_be_visible()
    assert key_grip.overflow_px() == 0
    assert key_grip.small_targets() == []
    assert accessibility_faults(key_grip.page) == []
