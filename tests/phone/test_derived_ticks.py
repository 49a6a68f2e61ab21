"""A phone finds the ticks of derived tasks by their ids, as the rules' steps say; two phones make each task once."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from people import ART_DIRECTOR, KEY_GRIP
from phone_engine import invite
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


# The figures of the hand-worked balance in tests/day/test_checklist.py.
BOOM = (
    ("source", "top", {"title": "Top light", "scene": "12", "overhead": "yes", "circuit": "box", "input_w": ["1200", "1200 W"], "power_factor_ratio": ["0.92", "0.92"]}),
    ("circuit", "box", {"title": "Wall box", "breaker_a": ["20", "20 A"], "voltage_v": ["120", "120 V"], "mapped": "yes", "residual_current_protected": "yes"}),
    ("level", "top~12d", {"source": "top", "shot": "12d", "on": "yes", "role": "back", "point": "card-table"}),
    ("rig", "boom", {"title": "Long boom", "source": "top", "overhead": "yes", "load_kg": ["4.5", "4.5 kg"], "load_arm_m": ["1.6", "1.6 m"], "weight_arm_m": ["0.8", "0.8 m"], "boom_kg": ["3", "3 kg"], "boom_centre_m": ["0.35", "0.35 m"], "x_m": ["1", "1 m"]}),
    ("taping", "run", {"title": "Run to the top light", "scene": "12", "type": "run", "source": "top", "length_m": ["18", "18 m"]}),
)  # fmt: skip
# Of the shot's rows: what the boom asks for, with its quantity.
OF_BOOM = """() => Object.values(tailslate.shots.value).filter(({ sheet }) => sheet.shot.record === "shot/12d")
  .flatMap(({ sheet: { rows } }) => [...rows.tasks, ...rows.rigs.flatMap((rig) => rig.rows)])
  .filter(({ record }) => /rig[:/]boom|source:top|circuit:box/.test(record))
  .map((row) => [`${row.record}/${row.field}`, `${row.amount} ${row.unit}`.trim().replaceAll("\u00a0", " "), row.state])"""


def of_boom(screen: Screen) -> dict[str, list[str]]:
    """Record and field to quantity and state; a row that stands twice would be lost here, so it is counted."""
    found: list[list[str]] = screen.page.evaluate(OF_BOOM)
    assert len(found) == len({key for key, *_more in found})
    return {key: more for key, *more in found}


def test_a_boom_without_signal_asks_for_its_work_at_once_and_a_second_phone_for_the_same_once(
    phone: Page, second_phone: Page, demonstration: ServerProcess
) -> None:
    """And what the other department changes re-opens what relied on it, with why; 5 cm re-open nothing."""
    grip = Screen(phone, demonstration, KEY_GRIP, demonstration.join_code("key grip"))
    art = Screen(second_phone, demonstration, ART_DIRECTOR, invite(demonstration, ART_DIRECTOR))
    grip.page.context.set_offline(True)
    for kind, record, changes in BOOM:
        grip.engine.saved(kind, record, changes)
    grip.engine.until(
        f"({OF_BOOM})().length >= 6 && ({OF_BOOM})().some(([, quantity]) => /of tape/.test(quantity))"
    )
    asked = of_boom(grip)
    assert {key: quantity for key, (quantity, _state) in asked.items()} == {
        "task/rig_stand~rig:boom~1/done": "at least 1 bag",  # of what nobody measured
        "task/counterweight_on~rig:boom~1/done": "10.31 kg",
        "rig/boom/safety_on": "",
        "task/place_source~shot:12d~source:top~1/done": "",
        "task/lay_cable~source:top~1/done": "19.95 m of tape",
        "task/agree_load~circuit:box~1/done": "10.9 A",
    }
    grip.go("list")
    row = grip.row("Long boom: rig it, bag it")
    row.click(delay=50)
    expect(row).to_be_checked()
    frame = grip.row("Frame 2 square to the Purser")
    frame.click(delay=50)
    expect(frame).to_be_checked()
    expect(grip.facts).to_contain_text("7 unsent")

    grip.page.context.set_offline(False)
    grip.hear()
    art.hear()
    stand = "task/rig_stand~rig:boom~1/done"
    art.engine.until(f"({OF_BOOM})().some(([key, , state]) => key === '{stand}' && state === 'done')")
    assert of_boom(art) == {**asked, stand: [asked[stand][0], "done"]}

    # Here a stand is nudged by 5 cm, there the cloth is swapped.
    grip.engine.saved("rig", "boom", {"x_m": ["1.05", "1.05 m"]})
    art.engine.saved("dressing", "chart", {"material": "blue felt"})
    art.hear()
    grip.hear()
    expect(frame).to_contain_text("Nautical chart, material: dark paper, varnished, now blue felt. Art")
    expect(frame).not_to_be_checked()
    grip.engine.until("!facts.computing")
    assert of_boom(grip)[stand][1] == "done"
