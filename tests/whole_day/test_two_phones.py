"""The main job in two real browsers at phone size: without signal and without a server, then together again."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from server_process import ServerProcess

pytestmark = pytest.mark.slow


def join(page: Page, server: ServerProcess, whom: str, *departments: str) -> None:
    """Join the demonstration day by its link, as a person would."""
    page.goto(f"{server.url}/join#{server.join_code(whom)}")
    page.get_by_label("Your name").fill(whom)
    page.get_by_label("What you do").fill(whom)
    for department in departments:
        page.get_by_role("checkbox", name=department, exact=True).check()
    page.get_by_role("button", name="Join the day").click()
    page.get_by_role("link", name="Skip").click()
    expect(page.get_by_text("Over the Gambler").first).to_be_visible()


def open_shot(page: Page, title: str) -> None:
    page.get_by_role("link", name="Day", exact=True).click()
    page.get_by_text(title).first.click()
    expect(page.get_by_role("heading", level=1)).to_contain_text(title)


def facts(page: Page) -> str:
    return page.get_by_role("link", name=re.compile("unsent")).inner_text()


def expect_unsent(page: Page, count: int) -> None:
    expect(page.get_by_role("link", name=re.compile(rf"^{count}\s+unsent"))).to_be_visible(timeout=30_000)


def loses_signal(page: Page, server: ServerProcess) -> None:
    page.context.set_offline(True)
    assert server.answers() is False


def type_distance(page: Page, typed: str) -> None:
    field = page.get_by_label(re.compile("last frame or lamp to the subject"))
    field.fill(typed)
    field.press("Enter")


def test_a_key_grip_works_without_signal_and_all_meets_again(
    demonstration: ServerProcess, open_device: Callable[..., Page]
) -> None:
    grip, art = open_device("phone"), open_device("phone")
    join(grip, demonstration, "key grip", "Grip")
    join(art, demonstration, "art department and props", "Art", "Props")
    open_shot(grip, "Insert, the deal")
    expect(grip.get_by_text("Saloon key").first).to_be_visible()
    open_shot(art, "Insert, the deal")

    # No network at all, and no server either; the app is loaded anew.
    for page in (grip, art):
        page.context.set_offline(True)
    demonstration.stop()
    grip.reload()
    expect(grip.get_by_role("heading", level=1)).to_contain_text("Insert, the deal")

    # The level is not known until the distance is; typed in feet it is recomputed at once.
    missing = grip.get_by_role("link", name=re.compile("^Saloon key: the distance to the point is not known"))
    missing.first.click()
    type_distance(grip, "6 ft 4 in")
    expect_unsent(grip, 1)
    grip.get_by_role("link", name="Shot", exact=True).click()
    expect(missing).to_have_count(0)
    key = grip.locator(".lv", has_text="Key").first
    expect(key).to_contain_text("worked out")
    expect(key).to_contain_text(re.compile(r"\d to \d|under|over"))

    # Art, without signal too, has another distance for the same field.
    art.get_by_role(
        "link", name=re.compile("^Saloon key: the distance to the point is not known")
    ).first.click()
    type_distance(art, "2.4 m")
    expect_unsent(art, 1)

    # A tick is one tap on the whole row.
    grip.get_by_role("link", name="List", exact=True).click()
    row = grip.get_by_role("checkbox", name=re.compile("Stand 3: bag it"))
    row.click()
    expect(row).to_be_checked()
    expect_unsent(grip, 2)

    # The server is back.
    demonstration.start()
    for page in (grip, art):
        page.context.set_offline(False)
    expect_unsent(grip, 0)
    expect_unsent(art, 0)

    # Both see two answers with names; picking one settles it in both.
    for page in (grip, art):
        open_shot(page, "Insert, the deal")
    two = art.get_by_role("link", name=re.compile("two answers|Two answers"))
    expect(two.first).to_be_visible(timeout=30_000)
    two.first.click()
    expect(art.get_by_text("key grip").first).to_be_visible()
    expect(art.get_by_text("art department and props").first).to_be_visible()
    art.get_by_role("button", name=re.compile(r"Pick 1\.93")).click()
    for page in (grip, art):
        open_shot(page, "Insert, the deal")
        expect(page.get_by_role("link", name=re.compile("two answers|Two answers"))).to_have_count(0)
    expect_unsent(art, 0)


def test_a_hold_is_not_cleared_by_a_tick_made_without_seeing_it_and_says_who_has_it(
    demonstration: ServerProcess, open_device: Callable[..., Page]
) -> None:
    grip, art = open_device("phone"), open_device("phone")
    join(grip, demonstration, "key grip", "Grip")
    join(art, demonstration, "art department and props", "Art", "Props")
    open_shot(grip, "Insert, the glass")
    art.context.set_offline(True)
    grip.context.set_offline(True)

    # The grip raises a hold in two taps and a few words; art, without signal, ticks its own row of the shot.
    grip.get_by_role("link", name="Raise", exact=True).last.click()
    grip.get_by_role("link", name=re.compile("^Hold")).click()
    grip.get_by_role("textbox").first.fill("Cable hot at the saloon ring")
    grip.get_by_role("button", name=re.compile("Raise")).click()
    open_shot(grip, "Insert, the glass")
    held = grip.get_by_text("Cable hot at the saloon ring").first
    expect(held).to_be_visible()
    expect(grip.get_by_text("No one else has this: radio it").first).to_be_visible()
    expect_unsent(grip, 1)

    art.get_by_role("link", name="List", exact=True).click()
    row = art.get_by_role("checkbox", checked=False).first
    row.click()
    expect_unsent(art, 1)

    for page in (grip, art):
        page.context.set_offline(False)
    expect_unsent(grip, 0)
    expect_unsent(art, 0)
    for page in (grip, art):
        open_shot(page, "Insert, the glass")
        expect(page.get_by_text("Cable hot at the saloon ring").first).to_be_visible(timeout=30_000)
    expect(grip.get_by_text(re.compile("1 other phone has this")).first).to_be_visible(timeout=60_000)
