"""A phone finds the ticks of derived tasks by their ids, as the rules' steps say."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from people import KEY_GRIP
from phone_screen import Screen
from server_process import ServerProcess

pytestmark = pytest.mark.slow

# Rows of one shot that are derived and must be done; an empty list until the shot has been worked out.
ROWS = """Object.values(tailslate.shots.value).filter(({ sheet }) => sheet.shot.record === "shot/SHOT")
  .flatMap(({ sheet }) => sheet.rows.tasks).filter((row) => row.derived && row.must)"""


def rows_of(shot: str) -> str:
    return "(" + ROWS.replace("SHOT", shot) + ")"


def test_a_phone_reads_the_ticks_of_derived_tasks_and_keeps_one_that_is_ticked(
    phone: Page, demonstration: ServerProcess
) -> None:
    screen = Screen(phone, demonstration, KEY_GRIP, demonstration.join_code("key grip"))
    screen.go("list")
    row = screen.row("Boom over the table: rig it, bag it")
    expect(row).to_be_visible()
    rows = rows_of("12b")
    screen.engine.until(f"{rows}.some((row) => row.record === 'task/rig_stand~rig:stand-1~1')")
    screen.engine.until(f"{rows}.every((row) => row.state === 'done')")
    row.tap()
    expect(row).to_be_checked()
    ticked = "row.record === 'task/rig_stand~rig:table-boom~1' && row.state === 'done'"
    screen.engine.until(f"{rows_of('12e')}.some((row) => {ticked})")
    screen.page.reload()
    screen.go("list")
    expect(
        screen.page.get_by_role("checkbox", name=re.compile("Boom over the table: safety on"))
    ).to_be_visible()
    screen.engine.until(f"{rows_of('12e')}.some((row) => {ticked})")
