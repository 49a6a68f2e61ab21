"""A person's hands on a screen: every tap and every keystroke is made on the page and counted, step by step."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from playwright.sync_api import Locator, Page, expect

from tailslate.day import kinds

TYPED = ("text", "long_text", "count", "quantity", "time")


@dataclass
class Step:
    """One thing that somebody set out to do, and what it took."""

    name: str
    taps: int = 0
    keys: int = 0


class Hands:
    """Taps, typing and choosing. A choice from a list is two taps: it is opened, then one is picked."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.steps: list[Step] = []

    @contextmanager
    def step(self, name: str) -> Iterator[None]:
        """Count what follows under this name; a name that comes again goes on counting."""
        found = [one for one in self.steps if one.name == name]
        if found:
            self.steps.remove(found[0])
        self.steps.append(found[0] if found else Step(name))
        yield

    def tap(self, one: Locator) -> None:
        """Tap it."""
        self.steps[-1].taps += 1
        one.click()

    def press(self, key: str) -> None:
        """Press one key."""
        self.steps[-1].keys += 1
        self.page.keyboard.press(key)

    def write(self, one: Locator, text: str) -> None:
        """Tap a field, unless the cursor is in it already, and type; what stood there is typed over."""
        if not one.evaluate("one => one === document.activeElement"):
            self.tap(one)
        one.evaluate("one => one.select?.()")
        self.steps[-1].keys += len(text)
        self.page.keyboard.type(text)

    def choose(self, one: Locator, word: str) -> None:
        """Choose from a list."""
        self.steps[-1].taps += 2
        one.select_option(label=word)

    def link(self, name: str) -> None:
        """Tap the link of that name."""
        self.tap(self.page.get_by_role("link", name=name, exact=True))

    def button(self, name: str) -> None:
        """Tap the button of that name."""
        self.tap(self.page.get_by_role("button", name=name, exact=True))

    def fold(self, title: str) -> None:
        """Open a fold, unless it stands open."""
        fold = self.page.locator("button.fold", has_text=re.compile(rf"^{re.escape(title)}"))
        if fold.get_attribute("aria-expanded") == "false":
            self.tap(fold)

    def entry(self, kind: str, field: str) -> Locator:
        """The place of a field in a form."""
        known = kinds.field_of(kind, field)
        assert known, f"{kind}.{field}"
        words = re.compile(rf"^{re.escape(known.label)}\s*({re.escape(known.unit)})?$")
        return self.page.locator(".entry", has=self.page.locator(".name, legend", has_text=words))

    def fill(self, kind: str, **values: str | list[str]) -> None:
        """Fill in fields of the form on the screen; those that are folded away are opened first."""
        for field, value in values.items():
            place = self.entry(kind, field)
            if not place.count():
                self.fold("More fields")
            for one in [value] if isinstance(value, str) else value:
                self._fill_one(kind, field, place, one)

    def _fill_one(self, kind: str, field: str, place: Locator, value: str) -> None:
        known = kinds.field_of(kind, field)
        assert known
        if known.type in TYPED:
            self.write(place.locator("input, textarea"), value)
        elif known.type in ("choice", "departments"):
            self.tap(place.locator(".choices label", has_text=re.compile(f"^{re.escape(value)}$")))
        else:
            self.choose(place.locator("select"), value)

    def table(self) -> str:
        """What every step took, one line each, and all of them."""
        lines = [f"{'taps':>6} {'keys':>6}  step"]
        lines += [f"{one.taps:6d} {one.keys:6d}  {one.name}" for one in self.steps]
        taps, keys = sum(one.taps for one in self.steps), sum(one.keys for one in self.steps)
        return "\n".join([*lines, f"{taps:6d} {keys:6d}  in all"])

    def hear(self, title: str) -> None:
        """Wait until the screen's heading says this."""
        expect(self.page.locator("h1").first).to_contain_text(title)
