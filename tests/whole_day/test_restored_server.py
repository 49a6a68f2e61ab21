"""A server comes back from an older backup; the phones, in real browsers, bring back what it lacks."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from server_process import ServerProcess, command
from whole_day.test_two_phones import expect_unsent, join

pytestmark = pytest.mark.slow


def expect_bagged(page: Page) -> None:
    """The tick stands in the list of its shot; what is done is folded away there."""
    shot = page.locator("section", has=page.locator("a[href*='shot/12c']"))
    shot.get_by_role("button", name=re.compile("^Done")).click()
    expect(page.get_by_role("checkbox", name=re.compile("Stand 3: bag it"))).to_be_checked()


def test_a_tick_that_the_backup_lacks_comes_back_from_the_phone_that_made_it(
    demonstration: ServerProcess, open_device: Callable[..., Page], tmp_path: Path
) -> None:
    grip = open_device("phone")
    join(grip, demonstration, "key grip", "Grip")
    backup = str(tmp_path / "before_lunch.sqlite3")
    command("backup", "--database", demonstration.database, backup)

    # After the backup: a tick, confirmed by the server. Then its disk dies, and the backup takes its place.
    grip.get_by_role("link", name="List", exact=True).click()
    row = grip.get_by_role("checkbox", name=re.compile("Stand 3: bag it"))
    row.click()
    expect(row).to_be_checked()
    expect_unsent(grip, 0)
    demonstration.kill()
    for leftover in Path(demonstration.database).parent.glob(Path(demonstration.database).name + "*"):
        leftover.unlink()
    command("restore", "--database", demonstration.database, backup)
    demonstration.start()

    # Nobody touches the phone but to look: it notices, and sends again what this server has never heard.
    grip.reload()
    expect_bagged(grip)
    expect_unsent(grip, 0)

    # Someone who joins only now reads the tick from the server.
    gaffer = open_device("phone")
    join(gaffer, demonstration, "gaffer", "Electric")
    gaffer.get_by_role("link", name=re.compile("unsent")).click()
    gaffer.get_by_label("Grip", exact=True).check()
    gaffer.get_by_role("link", name="List", exact=True).click()
    expect_bagged(gaffer)
