"""A whole day made through the screens of one phone, without signal, by someone who knows the trade and not the tool."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from hands import Hands
from phone_engine import Engine
from server_process import ServerProcess, command
from tailslate.day import exchange

pytestmark = pytest.mark.slow
TITLE = "Harbour House, day 2"
CREW = (
    ("Ida", "Gaffer", ["Electric"]),
    ("Tove", "Key grip", ["Grip"]),
    ("Milo", "Grip", ["Grip", "Electric"]),
    ("Noor", "Camera assistant", ["Camera"]),
    ("Sanne", "Art director", ["Art", "Props"]),
    ("Bram", "Props buyer", ["Props"]),
    ("Ravi", "Assistant director", ["Assistant directors"]),
    ("Esme", "Script", ["Script", "Sound"]),
)
SETUPS = (
    ("Kitchen wide", "21 Kitchen", "25", "4"),
    ("Kitchen close", "21 Kitchen", "50", "2"),
    ("Quay wide", "22 Quay", "32", "6"),
    ("Quay close", "22 Quay", "65", "2.5"),
)
# What is typed to find it, the row that is tapped, what the drink is called then, and what else is in it.
DRINKS = (
    ("rum", "rum Black tea, brewed", "Rum", "lime"),
    ("gin", "gin Water, still", "Gin", "lemon"),
    ("beer", "beer Ginger ale", "Beer", "soda"),
    ("coffee", "coffee Coffee, brewed", "Coffee", "milk"),
)


def joined(page: Page, database: str, server: ServerProcess, name: str) -> Engine:
    """Join by the link that production sent."""
    code = command("invite", "--database", database, "--department", "production", "--head")
    page.goto(f"{server.url}/join#{code}")
    page.get_by_label("Your name").fill(name)
    page.get_by_label("What you do").fill("Producer")
    page.get_by_label("Production", exact=True).check()
    page.get_by_role("button", name="Join the day").click()
    expect(page.locator(".nav")).to_be_visible()
    engine = Engine(page, server.url)
    engine.until("facts.matched_ms && !facts.incomplete.length")
    return engine


def keys_of(engine: Engine, *kinds: str) -> dict[str, int]:
    """Return how many records of each kind the phone has."""
    script = (
        "kinds => Object.fromEntries(kinds.map((kind) => [kind, tailslate.recordsOf(kind).value.length]))"
    )
    return dict(engine.ask(script, list(kinds)))


class Walk(Hands):
    """Someone who makes a day."""

    def begin(self, kind_label: str) -> None:
        """Open the form that adds one of a kind."""
        self.link("Set")
        fold = self.page.locator("button.fold", has_text=kind_label)
        add = self.page.get_by_role("link", name=f"Add: {kind_label}")
        if fold.count() and not add.count():
            self.tap(fold.first)
        self.tap(add)
        self.hear(f"Add: {kind_label}")

    def go_on(self, title: str) -> None:
        """Add this one and begin another."""
        self.button("Add, then another")
        expect(self.page.get_by_role("status").filter(has_text=f"Added: {title}")).to_be_visible()

    def several(self, label: str, kind: str, rows: list[dict[str, str | list[str]]]) -> None:
        """Add one after the other, the form staying open."""
        self.begin(label)
        for row in rows:
            self.fill(kind, **row)
            self.go_on(str(row.get("title") or row.get("name")))

    def start_from(self, shot: str, *names: str) -> None:
        """Put starting points into a shot."""
        for name in names:
            self.link("Start from")
            self.tap(self.page.get_by_role("button", name=name))
            self.hear(shot)

    def copy(self, shot: str, title: str, *, button: str = "Copy this shot") -> None:
        """Copy the shot that was looked at last, and say what the copy is called."""
        self.button(button)
        self.hear("Shot")
        self.fill("shot", title=title)
        self.press("Enter")
        self.link("Shot")
        self.hear(shot)


def test_a_day_is_built_through_the_screens_alone(
    phone: Page, second_phone: Page, tmp_path: Path, start_server: Callable[..., ServerProcess]
) -> None:
    database = str(tmp_path / "day.sqlite3")
    command("new-day", "--database", database, TITLE)
    server = start_server(database)
    engine = joined(phone, database, server, "Lena")
    server.stop()
    hands = Walk(phone)
    try:
        walk(hands)
    finally:
        sys.stdout.write("\n" + hands.table() + "\n")
    server.start()
    # After so many tries in vain the phone tries again at its own time, at the latest after LONGEST_WAIT_MS.
    expect(phone.locator(".facts")).to_contain_text("0 unsent", timeout=exchange.LONGEST_WAIT_MS + 30_000)
    engine.until_sent()
    assert keys_of(
        engine, "scene", "shot", "setup", "source", "level", "layer", "rig", "drink", "ingredient", "person"
    ) == {
        "scene": 2, "shot": 8, "setup": 4, "source": 6, "level": 24, "layer": 5, "rig": 5, "drink": 4,
        "ingredient": 8, "person": 9,
    }  # fmt: skip
    # What production wrote of the crew counts, now that the server said so.
    assert engine.shown(engine.ask("() => tailslate.recordsOf('person').value[0]"), "name")
    other = joined(second_phone, database, server, "Lena")
    engine.until_sent()
    other.until_sent()
    assert engine.day() == other.day()


def walk(h: Walk) -> None:
    """Make a two-scene day with 8 shots, 6 sources, 4 drinks and a crew of 9, up to its first sheet."""
    with h.step("the day's facts"):
        h.link("Set")
        h.tap(h.page.get_by_role("link", name="Say where and when"))
        h.fill("day", date_label="26 November", place="Harbour House", call_time="07:00", wrap_time="19:00")
        h.press("Enter")
    with h.step("8 people"):
        h.link("Set")
        h.tap(h.page.get_by_role("link", name="Say who is on the crew"))
        for name, role, departments in CREW:
            h.fill("person", name=name, role=role, departments=departments)
            h.go_on(name)
    with h.step("2 scenes"):
        h.link("Set")
        h.tap(h.page.get_by_role("link", name="Add the first scene"))
        h.fill("scene", number="21", title="Kitchen", inside="interior", time_of_day="night")
        h.go_on("Kitchen")
        h.fill("scene", title="Quay", inside="exterior", time_of_day="dusk")
        h.button("Add")
        h.hear("22 Quay")
    with h.step("4 points"):
        h.several(
            "Point that matters",
            "point",
            [
                {"title": "the Widow's face", "scene": "21 Kitchen", "type": "face", "height_m": "1.2"},
                {"title": "the table", "type": "table", "height_m": "0.7"},
                {"title": "the Pilot's face", "scene": "22 Quay", "type": "face", "height_m": "1.7"},
                {"title": "the harbour wall", "type": "background", "height_m": "1.2"},
            ],
        )
    with h.step("4 set-ups"):
        rows: list[dict[str, str | list[str]]] = []
        for title, scene, lens, distance in SETUPS:
            rows.append({"title": title, "lens_mm": lens, "camera_distance_m": distance})
            if "wide" in title:
                rows[-1] = {"title": title, "scene": scene, **rows[-1], "camera_height_m": "1.4"}
        h.several("Set-up", "setup", rows)
    with h.step("8 shots"):
        h.begin("Shot")
        h.fill(
            "shot", scene="21 Kitchen", title="Wide", setup="Kitchen wide", t_stop="2.8", exposure_index="800"
        )
        h.button("Add")
        h.hear("21A")
    with h.step("6 sources"):
        h.start_from("21A", "Soft side key", "Edge from behind", "Practical on battery")
    with h.step("8 shots"):
        for title in ("Over the Pilot", "Over the Widow", "Insert of the deal"):
            h.copy("21A", title)
        h.begin("Shot")
        h.fill("shot", scene="22 Quay", title="Wide", setup="Quay wide")
        h.button("Add")
        h.hear("22A")
    with h.step("6 sources"):
        h.start_from("22A", "Exterior, big frame in wind", "Edge from behind", "Practical on battery")
    with h.step("8 shots"):
        for title in ("Over the Pilot", "Over the Widow", "Single"):
            h.copy("22A", title)
    with h.step("2 circuits"):
        h.several(
            "Circuit",
            "circuit",
            [
                {"title": "Wall left", "place": "kitchen", "breaker_a": "16", "voltage_v": "230"},
                {"title": "Generator", "place": "quay", "breaker_a": "32", "voltage_v": "230"},
            ],
        )
    with h.step("3 dressing"):
        h.several(
            "Dressing",
            "dressing",
            [
                {
                    "title": "Table cloth",
                    "scene": "21 Kitchen",
                    "place": "centre",
                    "material": "white cotton",
                },
                {"title": "Crates", "scene": "22 Quay", "place": "wall", "material": "oak"},
                {"title": "Net", "place": "wall", "material": "hemp"},
            ],
        )
    with h.step("4 drinks"):
        h.link("Day")
        h.tap(h.page.locator("a", has_text="21A").first)
        h.hear("21A")
        h.link("Glasses")
        for title, passes_for, *_ in DRINKS:
            h.link("Add a glass now")
            h.write(h.page.get_by_label("Find"), title)
            h.tap(h.page.get_by_role("button", name=passes_for))
            h.hear("21A")
            if title == "rum":
                h.tap(h.page.get_by_role("link", name="Rum").first)
                h.fill("drink", glass="tumbler", fill_l="0.1", glasses="4", resets="5")
                h.press("Enter")
                h.link("Shot")
                h.link("Glasses")
    with h.step("8 ingredients"):
        h.link("Set")
        h.fold("Drink")
        h.tap(h.page.get_by_role("link", name="Rum", exact=True))
        h.link("Add: Ingredient of a drink")
        for title, _passes_for, drink, ingredient in DRINKS:
            h.fill("ingredient", title=ingredient)
            if title == "rum":
                h.fill("ingredient", parts="1")
            else:
                h.fill("ingredient", drink=drink)
            h.go_on(ingredient)
    with h.step("1 food"):
        h.begin("Food")
        h.fill("food", title="Bread", made_from="flour, salt", portions="12", allergens="gluten")
        h.button("Add")
        h.hear("Bread")
    with h.step("4 marks"):
        h.begin("Mark")
        for shot, colour in (
            ("21A Wide", "red"),
            ("21B Over the Pilot", ""),
            ("22A Wide", "blue"),
            ("22B Over the Pilot", ""),
        ):
            h.fill("mark", title="the Widow", shot=shot, **({"colour": colour} if colour else {}))
            h.go_on("the Widow")
    with h.step("3 kit"):
        h.several(
            "Kit",
            "kit",
            [
                {"title": "Bags, 10 kg", "owner": "hired", "count": "20"},
                {"title": "Grip stands", "count": "12"},
                {"title": "Half grid, 1.2 m", "count": "4"},
            ],
        )
    with h.step("the first sheet"):
        h.link("Day")
        h.tap(h.page.locator("a", has_text="21A").first)
        h.hear("21A")
        expect(h.page.get_by_role("link", name=re.compile("^Key .* under.*the Widow's face"))).to_be_visible()
