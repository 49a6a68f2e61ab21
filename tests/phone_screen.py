"""What a person sees and touches on a phone of the demonstration day: where to go, what is in sight, what may be touched."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Locator, Page, expect

from people import CrewMember
from phone_engine import Engine
from server_process import ServerProcess

# WCAG 2.2 SC 2.5.8 asks for 24 px; gloves and one hand ask for 48 (common practice, no source).
TARGET_PX = 48
TARGETS = "a[href], button, select, textarea, input, [role=checkbox]"

# What a finger can reach: in sight, not covered by its own label's square, not switched off.
SMALL_TARGETS = """([selector, least]) => [...document.querySelectorAll(selector)].flatMap((one) => {
  const box = one.getBoundingClientRect();
  const is_there = box.width > 0 && box.height > 0 && getComputedStyle(one).visibility !== "hidden";
  const is_small = box.width < least - 0.5 || box.height < least - 0.5;
  return is_there && is_small ? [`${one.outerHTML.slice(0, 90)} ${box.width} x ${box.height}`] : [];
})"""


# The rules answer in turn: when they answer this question, they have answered what the screen asked before it. What asks
# for an answer waits until the screen was left alone. Still is a screen that changed neither meanwhile nor in a moment.
STILL = """async (moment_ms) => {
  let changes = 0;
  const look = new MutationObserver(() => { changes += 1; });
  look.observe(document.querySelector("#app"), { childList: true, characterData: true, subtree: true });
  for (let before = -1; before !== changes; ) {
    before = changes;
    await new Promise((resolve) => setTimeout(resolve, Math.max(moment_ms, tailslate.untilQuiet() + 20)));
    await tailslate.ask({ do: "kinds" });
    await new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve)));
  }
  look.disconnect();
}"""


class Screen:
    """One phone, joined, with the whole day on it."""

    def __init__(self, page: Page, server: ServerProcess, member: CrewMember, code: str) -> None:
        self.page = page
        self.engine = Engine(page, server.url)
        self.engine.open()
        self.membership = self.engine.join(code, member)
        self.engine.until("facts.matched_ms && !facts.incomplete.length")
        expect(page.locator(".nav")).to_be_visible()

    def go(self, where: str) -> None:
        """Open a screen by its address, "list" or "shot/12c/light", and wait until it is drawn."""
        self.page.evaluate("where => { location.hash = `#/${where}`; }", where)
        expect(self.page.locator("main")).to_have_attribute("data-screen", where.split("?")[0])
        expect(self.page.locator("h1").first).to_be_visible()

    @property
    def rows(self) -> Locator:
        """Every row that can be ticked on the screen."""
        return self.page.get_by_role("checkbox")

    def row(self, title: str) -> Locator:
        """The row of that title."""
        return self.page.get_by_role("checkbox", name=title, exact=True)

    @property
    def dock(self) -> Locator:
        """What asks for an answer."""
        return self.page.locator(".dock")

    def settle(self) -> None:
        """Wait until every sheet is worked out, what the screen asked is answered, and it stands still."""
        self.engine.until("!facts.computing")
        self.page.evaluate(STILL, 200)

    def hear(self) -> None:
        """Exchange now, and wait until this phone has what the server has."""
        self.engine.until_sent()

    @property
    def facts(self) -> Locator:
        """The line of the three facts."""
        return self.page.locator(".facts")

    def small_targets(self) -> list[str]:
        """Return what can be touched and is smaller than a gloved finger."""
        found: list[str] = self.page.evaluate(SMALL_TARGETS, [TARGETS, TARGET_PX])
        return found

    def overflow_px(self) -> int:
        """Return by how much the page is wider than the screen."""
        return int(
            self.page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        )

    def value_of(self, record: str, field: str) -> Any:
        """Return the value shown for a field."""
        return self.engine.shown(record, field)
