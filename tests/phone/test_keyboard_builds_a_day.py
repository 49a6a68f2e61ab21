"""A small day made on a laptop with the keyboard alone: Tab, arrows, Enter, Space, Escape and what is typed.

Sources: W3C, Web Content Accessibility Guidelines 2.2: 2.1.1 keyboard; 2.4.3 focus order; 2.4.7 focus visible.
"""

from __future__ import annotations

import re
import subprocess
from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import Page, expect

from people import PRODUCER
from phone.test_keyboard_and_reader import FOCUS, LONGEST_WAY
from phone_screen import Screen
from server_process import TAILSLATE, ServerProcess

NAMED = f"""() => {{
  const found = ({FOCUS})();
  const one = document.activeElement;
  return found && {{ ...found, name: (one.labels?.[0] ?? one).textContent }};
}}"""

STEP_AND_TAKE_BACK = """one => {
  for (const keys of [{ key: "ArrowUp", shiftKey: true }, { key: "z", ctrlKey: true }])
    one.dispatchEvent(new KeyboardEvent("keydown", { ...keys, bubbles: true, cancelable: true }));
}"""


class Keyboard:
    """Hands that never leave it. Wherever they stop, the ring is in sight and nothing lies over it."""

    def __init__(self, screen: Screen) -> None:
        self.screen = screen
        self.page = screen.page

    def at(self) -> str:
        """Return the name of what has the focus; "" while that is the screen itself, or nothing."""
        focus = self.page.evaluate(NAMED)
        if not focus or focus["what"].startswith("MAIN"):
            return ""
        assert focus["is_ringed"], focus
        assert focus["is_seen"], focus
        return str(focus["name"])

    def to(self, name: str) -> None:
        """Press Tab until something of that name has the focus."""
        for _press in range(LONGEST_WAY):
            self.page.keyboard.press("Tab")
            if self.at().startswith(name):
                return
        raise AssertionError(f"Tab never came to {name}")

    def press(self, *keys: str) -> None:
        """Press keys one after the other."""
        for key in keys:
            self.page.keyboard.press(key)

    def write(self, **fields: str) -> None:
        """Type into the fields of the form, in its order."""
        for name, text in fields.items():
            if not self.at().startswith(name):
                self.to(name)
            self.page.keyboard.type(text)

    def follow(self, name: str, heading: str) -> None:
        """Follow a link."""
        self.to(name)
        self.press("Enter")
        expect(self.page.locator("h1").first).to_contain_text(heading)

    def heading(self, words: str) -> None:
        """Wait for a screen."""
        expect(self.page.locator("h1").first).to_contain_text(words)


def test_a_day_is_made_with_the_keyboard_alone(
    laptop: Page, tmp_path: Path, start_server: Callable[..., ServerProcess]
) -> None:
    database = str(tmp_path / "day.sqlite3")
    subprocess.run([TAILSLATE, "new-day", "--database", database, "Harbour House"], check=True)
    server = start_server(database)
    code = [TAILSLATE, "invite", "--database", database, "--department", "production", "--head"]
    code_said = subprocess.run(code, check=True, capture_output=True, text=True).stdout.strip()
    screen = Screen(laptop, server, PRODUCER, code_said)
    k = Keyboard(screen)

    def count(kind: str, number: int) -> None:
        screen.engine.until(f"tailslate.recordsOf('{kind}').value.length === {number}")

    k.follow("Shot", "Shot")
    expect(laptop.get_by_role("link", name="Add a shot")).to_be_visible()
    k.follow("Set", "Set")
    k.follow("Say who is on the crew", "Add: Person")
    for name, role in (("Ida", "Gaffer"), ("Tove", "Key grip")):
        k.write(name=name, role=role)
        k.press("Tab", "Space", "Enter")
        expect(laptop.get_by_role("status").filter(has_text=f"Added: {name}")).to_be_visible()
        expect(laptop.locator("[data-field=name] input")).to_be_focused()
    k.press("Escape", "Escape")
    k.heading("Set")
    k.follow("Add the first scene", "Add: Scene")
    k.write(number="21", title="Kitchen")
    k.press("Enter")
    k.heading("21 Kitchen")
    k.press("Escape")
    k.heading("Set")
    k.follow("Say who or what the light is for", "Add: Point")
    k.write(title="the Widow")
    k.press("Enter")
    k.heading("the Widow")
    k.press("Escape")
    k.heading("Set")
    k.follow("Add the first shot", "Add: Shot")
    k.write(title="Wide", stop="2.8")
    k.press("Enter")
    k.heading("21A")

    # A light with two sheets is put in, taken back by one key, and put in again.
    for is_first in (True, False):
        k.follow("Start from", "Starting points")
        k.to("Soft side key")
        k.press("Enter")
        count("source", 1)
        expect(laptop.locator("main")).to_have_attribute("data-screen", "shot/" + shot_of(screen) + "/light")
        if is_first:
            expect(laptop.get_by_role("button", name="Undo: Soft side key")).to_be_visible()
            k.press("Control+z")
            count("source", 0)
            count("level", 0)
            count("rig", 0)

    # What a stand will ask for stands beside the field while it is typed, before there is such a stand.
    [source] = screen.engine.ask("() => tailslate.recordsOf('source').value")
    laptop.evaluate("id => { location.hash = `#/add/rig?source=${id}`; }", source.removeprefix("source/"))
    expect(laptop.locator("[data-field=title] input")).to_be_focused()
    k.write(title="Stand 4", load="9")
    expect(laptop.locator(".trial")).to_contain_text(re.compile(r"9\s*kg"))
    k.page.keyboard.type("x")
    k.press("Enter")
    expect(laptop.locator("[data-field=load_kg] input")).to_be_focused()
    expect(laptop.get_by_role("alert")).to_contain_text("the unit 'x' is not known")
    k.press("Backspace", "Enter")
    k.heading("Stand 4")
    k.follow("Set", "Set")

    # Something is put on the plan and moved by arrows; the same key takes the last step back.
    k.to("Move things")
    k.press("Enter")
    k.to("the Widow")
    k.press("Enter")
    grab = laptop.locator("[data-grab^='point/']")
    expect(grab).to_be_focused()
    # Pressed before the step is saved, it takes back the step, not the act before it, which put the thing there.
    grab.evaluate(STEP_AND_TAKE_BACK)
    screen.settle()
    expect(grab).to_have_attribute("aria-label", "Move the Widow, 0 m right, 0 m away")
    k.press("Shift+ArrowUp")
    expect(grab).to_have_attribute("aria-label", "Move the Widow, 0 m right, 0.5 m away")
    k.press("Control+z")
    expect(grab).to_have_attribute("aria-label", "Move the Widow, 0 m right, 0 m away")

    k.follow("Day", "Harbour House")
    k.follow("21A", "21A")
    k.to("Copy to its reverse")
    k.press("Enter")
    k.heading("Wide, reverse")
    count("shot", 2)


def shot_of(screen: Screen) -> str:
    """Return the id of the only shot."""
    [key] = screen.engine.ask("() => tailslate.recordsOf('shot').value")
    return str(key).removeprefix("shot/")
