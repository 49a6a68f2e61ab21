"""The list in the hand: one tap a tick, ten seconds to take it back, rows that never move under a thumb."""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from people import CAMERA_ASSISTANT, GRIP, KEY_GRIP
from phone_screen import Screen
from server_process import ServerProcess

BAGS = "Stand 3: bag it"
LAST = "Deck boom: safety on"
FLAG = "Flag off the near shoulder"
FRAME = "Frame 2 square to the Purser"


@pytest.fixture
def key_grip(phone: Page, demonstration: ServerProcess) -> Screen:
    """The key grip's phone on the demonstration day, at the grips' list."""
    screen = Screen(phone, demonstration, KEY_GRIP, demonstration.join_code("key grip"))
    screen.go("list")
    expect(screen.row(BAGS)).to_be_visible()
    expect(screen.row(LAST)).to_be_visible()
    screen.settle()
    return screen


@pytest.fixture
def grip(second_phone: Page, demonstration: ServerProcess) -> Screen:
    """Another grip's phone."""
    return Screen(second_phone, demonstration, GRIP, demonstration.join_code("key grip"))


def tell(one: Screen, other: Screen) -> None:
    """Carry what one phone has to the other, through the server."""
    one.hear()
    other.hear()


def test_a_tick_is_one_tap_anywhere_on_the_row_and_the_word_says_that_it_is_unsent(key_grip: Screen) -> None:
    key_grip.page.context.set_offline(True)
    row = key_grip.row(BAGS)
    expect(row).not_to_be_checked()
    box = row.bounding_box()
    assert box is not None
    row.tap(position={"x": box["width"] - 30, "y": 12})
    expect(row).to_be_checked()
    expect(row).to_contain_text("unsent")
    expect(key_grip.facts).to_contain_text("1 unsent")


def test_within_ten_seconds_a_tick_is_one_tap_back_and_both_stay_in_the_history(key_grip: Screen) -> None:
    row = key_grip.row(BAGS)
    row.tap()
    expect(row).to_be_checked()
    undo = key_grip.page.get_by_role("button", name=re.compile("^Undo"))
    expect(undo).to_be_visible()
    undo.click(delay=500)
    expect(row).not_to_be_checked()
    record = key_grip.page.evaluate(
        """title => Object.values(tailslate.shots.value).flatMap(({ sheet }) => sheet.rows.tasks)
          .find((row) => row.title === title).record""",
        BAGS,
    )
    key_grip.go(f"history/{record}")
    lines = key_grip.page.locator("main li").filter(has_text="done")
    expect(lines).to_have_count(2)


def test_a_glove_that_bounces_ticks_once(key_grip: Screen) -> None:
    row = key_grip.row(BAGS)
    row.dblclick()
    expect(row).to_be_checked()


def test_ticks_that_ask_again_say_why_and_one_button_confirms_them_all(key_grip: Screen) -> None:
    for title in (FLAG, FRAME):
        expect(key_grip.row(title)).to_have_attribute("aria-checked", "mixed")
        expect(key_grip.row(title)).to_contain_text("Tick again.")
        expect(key_grip.row(title)).to_contain_text("now 2.7")
    key_grip.dock.get_by_role("button", name="Tick both again").click(delay=500)
    for title in (FLAG, FRAME):
        expect(key_grip.row(title)).to_be_checked()


def test_a_row_keeps_its_place_when_it_is_ticked(key_grip: Screen) -> None:
    titles = key_grip.rows.all_inner_texts()
    key_grip.row(BAGS).tap()
    expect(key_grip.row(BAGS)).to_be_checked()
    after = key_grip.rows.all_inner_texts()
    assert [text.split("\n")[0] for text in after] == [text.split("\n")[0] for text in titles]


def test_news_from_others_waits_and_moves_no_row_under_the_thumb(key_grip: Screen, grip: Screen) -> None:
    row = key_grip.row(BAGS)
    before = row.bounding_box()
    grip.engine.saved(
        "task",
        "first",
        {"title": "A new first", "department": "grip", "shot": "12c", "must": "must", "order": 0},
    )
    tell(grip, key_grip)
    news = key_grip.page.get_by_role("button", name="1 new, show")
    expect(news).to_be_visible()
    expect(key_grip.row("A new first")).to_have_count(0)
    news_box = news.bounding_box()
    after = row.bounding_box()
    assert before is not None
    assert after is not None
    assert news_box is not None
    assert after["y"] == pytest.approx(before["y"], abs=1)
    news.click()
    expect(key_grip.row("A new first")).to_be_visible()


def test_a_finger_that_went_down_on_a_row_ticks_that_row_whatever_comes_in(
    key_grip: Screen, grip: Screen
) -> None:
    row = key_grip.row(BAGS)
    box = row.bounding_box()
    assert box is not None
    mouse = key_grip.page.mouse
    mouse.move(box["x"] + 100, box["y"] + 20)
    mouse.down()
    grip.engine.saved(
        "task",
        "first",
        {"title": "A new first", "department": "grip", "shot": "12c", "must": "must", "order": 0},
    )
    tell(grip, key_grip)
    mouse.up()
    expect(row).to_be_checked()


def test_focus_stays_on_its_row_while_a_hundred_changes_come_in(key_grip: Screen, grip: Screen) -> None:
    key_grip.row(BAGS).focus()
    key_grip.page.evaluate(
        """() => {
          globalThis.spoken = [];
          const live = document.querySelector("[aria-live=polite][aria-atomic]");
          const heard = () => spoken.push([performance.now(), live.textContent]);
          new MutationObserver(heard).observe(live, { childList: true, characterData: true, subtree: true });
        }"""
    )
    for part in range(10):
        grip.engine.ask(
            """part => tailslate.actAll(Array.from({ length: 10 }, (_, place) =>
              ({ kind: "note", record: `n-${part}-${place}`, set: { text: "note" } })))""",
            part,
        )
        tell(grip, key_grip)
    expect(key_grip.row(BAGS)).to_be_focused()
    live = key_grip.page.locator("[aria-live=polite][aria-atomic]")
    expect(live).to_contain_text(re.compile(r"\d+ changes? from others"), timeout=15_000)
    times = [at_ms for at_ms, _text in key_grip.page.evaluate("spoken")]
    assert all(later - earlier >= 9_900 for earlier, later in itertools.pairwise(times))


def test_a_day_player_without_a_phone_is_ticked_for_by_a_mode_that_stays_visible(
    key_grip: Screen, grip: Screen
) -> None:
    tell(grip, key_grip)
    page = key_grip.page
    page.get_by_role("button", name="More ways to tick").click()
    page.get_by_role("button", name="For someone else").click()
    page.get_by_role("button", name=re.compile(f"^{GRIP.name}")).click()
    mode = page.locator(".mode-bar")
    expect(mode).to_contain_text(f"Ticking for {GRIP.name}")
    key_grip.row(BAGS).tap()
    expect(key_grip.row(BAGS)).to_contain_text(f"for {GRIP.name}")
    key_grip.go("day")
    expect(mode).to_be_visible()
    mode.get_by_role("button", name="Stop").click()
    expect(mode).to_have_count(0)


def test_a_keyboard_alone_reaches_a_row_and_ticks_it(key_grip: Screen) -> None:
    page = key_grip.page
    for _step in range(40):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement?.getAttribute('role') === 'checkbox'"):
            break
    before = page.evaluate("document.activeElement.getAttribute('aria-checked')")
    page.keyboard.press("Space")
    after = page.locator("[role=checkbox]:focus")
    expect(after).to_have_attribute("aria-checked", "false" if before == "true" else "true")


def test_the_dock_takes_no_tap_in_its_first_moment_and_none_just_after_a_touch(
    open_device: Callable[..., Page], demonstration: ServerProcess
) -> None:
    page = open_device("phone")
    page.clock.install()
    screen = Screen(page, demonstration, KEY_GRIP, demonstration.join_code("key grip"))
    screen.go("day")
    page.clock.run_for(2_000)
    heard = screen.dock.get_by_role("button", name="Heard", exact=True)
    expect(heard).to_be_visible()
    screen.go("list")
    page.clock.run_for(2_000)
    page.mouse.move(5, 200)
    page.mouse.down()  # held down: however slow the machine, the touch is not over
    screen.go("day")
    page.clock.run_for(2_000)
    expect(heard).to_have_count(0)
    page.mouse.up()
    page.clock.run_for(700)
    expect(heard).to_be_visible()
    heard.dispatch_event("click")
    page.clock.run_for(200)
    assert screen.value_of("request/flag-off", "answer") in ("asked", None)


def test_heard_is_an_answer_that_the_asking_department_sees(
    key_grip: Screen, second_phone: Page, demonstration: ServerProcess
) -> None:
    camera = Screen(second_phone, demonstration, CAMERA_ASSISTANT, demonstration.join_code("camera"))
    key_grip.go("day")
    key_grip.dock.get_by_role("button", name="Heard", exact=True).click(delay=500)
    expect(key_grip.dock.get_by_role("button", name="Heard", exact=True)).to_have_count(0)
    tell(key_grip, camera)
    camera.go("day")
    camera.page.get_by_role("button", name="Others wait for an answer").click()
    expect(camera.page.get_by_role("link", name=re.compile("flag off the lens"))).to_contain_text("heard")


def test_what_the_phone_could_not_store_is_never_shown_as_ticked(key_grip: Screen) -> None:
    key_grip.engine.in_worker(
        """() => { IDBDatabase.prototype.transaction = () => {
          throw new DOMException("full", "QuotaExceededError"); }; }"""
    )
    row = key_grip.row(BAGS)
    row.tap()
    expect(row).to_contain_text("NOT saved on this phone")
    expect(row).to_have_attribute("aria-checked", "mixed")
    expect(row.locator("use")).to_have_attribute("href", "#m-unk")
    expect(key_grip.facts).to_contain_text("NOT kept")


def test_without_signal_no_row_moves_and_nothing_is_in_the_way(key_grip: Screen) -> None:
    key_grip.row(BAGS).evaluate("row => row.scrollIntoView()")
    before = key_grip.row(BAGS).bounding_box()
    key_grip.page.context.set_offline(True)
    key_grip.engine.ask("() => tailslate.exchangeNow()")
    key_grip.engine.until("facts.notices.some(({ code }) => code === 'not_reached')")
    key_grip.row(BAGS).tap()
    expect(key_grip.row(BAGS)).to_be_checked()
    after = key_grip.row(BAGS).bounding_box()
    assert before is not None
    assert after is not None
    assert after["y"] == pytest.approx(before["y"], abs=1)


def test_while_a_shot_rolls_the_list_stands_still(key_grip: Screen, grip: Screen) -> None:
    grip.engine.saved("shot", "12c", {"phase": "rolling"})
    tell(grip, key_grip)
    expect(key_grip.page.get_by_text("Rolling. Nothing moves until the cut.")).to_be_visible()
    expect(key_grip.page.locator("html[data-rolling]")).to_have_count(1)
    before = key_grip.row(BAGS).bounding_box()
    grip.engine.saved(
        "task",
        "first",
        {"title": "A new first", "department": "grip", "shot": "12c", "must": "must", "order": 0},
    )
    tell(grip, key_grip)
    expect(key_grip.page.get_by_role("button", name=re.compile("new, show"))).to_have_count(0)
    assert key_grip.row(BAGS).bounding_box() == before
