"""Every screen by keyboard and by screen reader: names, order, focus that can be seen, no trap, and a voice that says it.

Sources: W3C, Web Content Accessibility Guidelines 2.2: 4.1.2 name, role, value; 2.1.2 no keyboard trap; 2.4.3 focus
order; 2.4.7 focus visible; 2.4.11 focus not obscured; 4.1.3 status messages. The tree is what the browser itself gives
to a screen reader, as Playwright's ARIA snapshot writes it.
"""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from people import GAFFER, KEY_GRIP
from phone.test_screens_everywhere import SCREENS
from phone_engine import invite
from phone_screen import Screen
from server_process import ServerProcess

CONTROLS = (
    "button|link|textbox|checkbox|radio|combobox|searchbox|spinbutton|slider|switch|option|menuitem|tab"
)
NAMELESS = re.compile(rf"^\s*- '?(?:{CONTROLS})(?! \")(?:$|[ :\[])", re.MULTILINE)
LONGEST_WAY = 400

# Where the focus is: its place in the page, whether its ring shows, whether something lies over it.
FOCUS = """() => {
  const one = document.activeElement;
  if (!one || one === document.body) return null;
  const all = [...document.querySelectorAll("*")];
  const ring = (element) => {
    if (!element) return false;
    const style = getComputedStyle(element);
    return style.outlineStyle !== "none" && Number.parseFloat(style.outlineWidth) >= 2;
  };
  const box = one.getBoundingClientRect();
  const x = Math.min(innerWidth - 1, Math.max(0, box.left + Math.min(box.width, 200) / 2));
  const seen = [0.2, 0.5, 0.8].some((share) => {
    const over = document.elementFromPoint(x, box.top + box.height * share);
    return over && (one.contains(over) || over.contains(one) || over.closest("label")?.contains(one));
  });
  return {
    place: all.indexOf(one),
    what: `${one.tagName} ${one.getAttribute("aria-label") ?? one.textContent ?? ""}`.slice(0, 60),
    is_ringed: ring(one) || ring(one.nextElementSibling) || ring(one.closest("label")),
    is_seen: seen,
  };
}"""

# Where Tab begins is remembered also of what lost the focus: only something before all the rest makes it the top.
TO_THE_TOP = """() => {
  const top = document.createElement("span");
  top.tabIndex = -1;
  document.body.prepend(top);
  top.focus();
  top.remove();
}"""


@pytest.fixture
def key_grip(phone: Page, demonstration: ServerProcess) -> Screen:
    """The key grip's phone on the demonstration day."""
    return Screen(phone, demonstration, KEY_GRIP, demonstration.join_code("key grip"))


def snapshot(page: Page) -> str:
    """Return the page as a screen reader gets it."""
    return page.locator("body").aria_snapshot()


def test_every_control_of_every_screen_has_a_name(onlooker: Screen) -> None:
    nameless = {}
    for where in SCREENS:
        onlooker.go(where)
        onlooker.settle()
        nameless[where] = NAMELESS.findall(snapshot(onlooker.page))
    assert {where: found for where, found in nameless.items() if found} == {}


def test_a_control_without_a_name_would_be_found(key_grip: Screen) -> None:
    key_grip.go("day")
    key_grip.page.evaluate("document.querySelector('main').append(document.createElement('button'))")
    assert NAMELESS.findall(snapshot(key_grip.page)) != []


def test_every_screen_has_one_heading_of_its_own_a_main_part_and_the_five_words(onlooker: Screen) -> None:
    wrong = []
    for where in SCREENS:
        onlooker.go(where)
        tree = snapshot(onlooker.page)
        counts = [
            len(re.findall(r"- '?heading .*\[level=1\]", tree)),
            len(re.findall(r"^- main", tree, re.MULTILINE)),
            len(re.findall(r'- navigation "Screens"', tree)),
        ]
        if counts != [1, 1, 1]:
            wrong.append(f"{where}: {counts}")
    assert wrong == []


def way_through(screen: Screen) -> list[dict[str, Any]]:
    """Press Tab from the top of the page to its end; fail when the end is never reached."""
    screen.page.evaluate(TO_THE_TOP)
    stops: list[dict[str, Any]] = []
    for _press in range(LONGEST_WAY):
        screen.page.keyboard.press("Tab")
        stop = screen.page.evaluate(FOCUS)
        if stop is None or (stops and stop["place"] == stops[0]["place"]):
            return stops
        stops.append(stop)
    raise AssertionError(f"a trap: {LONGEST_WAY} steps and no end, at {stops[-3:]}")


def faults_of(stops: list[dict[str, Any]]) -> list[str]:
    """Return what is wrong on a way through a screen."""
    places = [stop["place"] for stop in stops]
    found = [f"no ring: {stop['what']}" for stop in stops if not stop["is_ringed"]]
    found += [f"covered: {stop['what']}" for stop in stops if not stop["is_seen"]]
    if places != sorted(places):
        found.append("the focus jumps back on its way")
    return found


@pytest.mark.parametrize("part", range(4))
def test_the_keyboard_goes_through_every_screen_in_order_sees_where_it_is_and_comes_out(
    onlooker: Screen, part: int
) -> None:
    wrong = {}
    for where in SCREENS[part::4]:
        onlooker.go(where)
        onlooker.settle()
        stops = way_through(onlooker)
        assert len(stops) > 5, where
        wrong[where] = faults_of(stops)
    assert {where: found for where, found in wrong.items() if found} == {}


def test_a_laptop_is_worked_without_a_mouse(laptop: Page, demonstration: ServerProcess) -> None:
    gaffer = Screen(laptop, demonstration, GAFFER, invite(demonstration, GAFFER))
    for where in ("day", "shot/12c/light", "raise/note", "phone"):
        gaffer.go(where)
        gaffer.settle()
        assert faults_of(way_through(gaffer)) == [], where


def test_a_tick_and_a_choice_answer_to_the_space_bar_and_a_link_to_enter(key_grip: Screen) -> None:
    key_grip.go("list")
    row = key_grip.rows.first
    before = row.get_attribute("aria-checked")
    row.focus()
    key_grip.page.keyboard.press("Space")
    expect(row).not_to_have_attribute("aria-checked", before or "")
    key_grip.go("phone")
    key_grip.page.get_by_role("radio", name="Night, dim red").focus()
    key_grip.page.keyboard.press("Space")
    expect(key_grip.page.locator("html")).to_have_attribute("data-mode", "night")
    key_grip.page.get_by_role("link", name="How it works").focus()
    key_grip.page.keyboard.press("Enter")
    expect(key_grip.page.get_by_role("heading", level=1)).to_contain_text("No signal needed")


def test_what_was_saved_and_a_new_hold_are_said_aloud(
    key_grip: Screen, second_phone: Page, demonstration: ServerProcess
) -> None:
    voice = key_grip.page.locator("[aria-live=polite][aria-atomic=true]")
    key_grip.page.evaluate("() => { location.hash = '#/raise/note'; }")
    key_grip.page.get_by_label("Note", exact=True).fill("Left glass turned")
    key_grip.page.get_by_role("button", name="Keep the note").press("Enter")
    expect(voice).to_have_text("Saved")
    gaffer = Screen(second_phone, demonstration, GAFFER, invite(demonstration, GAFFER))
    gaffer.engine.saved("hold", "h-voice", {"why": "Cable over the door", "type": "stop"})
    gaffer.hear()
    key_grip.hear()
    expect(voice).to_contain_text("HOLD.")
    expect(voice).to_contain_text("Cable over the door")


def test_a_refusal_is_said_at_once_and_belongs_to_its_field(key_grip: Screen) -> None:
    key_grip.page.evaluate("() => { location.hash = '#/raise/note'; }")
    key_grip.page.get_by_role("button", name="Keep the note").press("Enter")
    expect(key_grip.page.get_by_role("alert")).to_contain_text("Write a few words first")
