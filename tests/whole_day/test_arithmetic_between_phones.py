"""What one department does to another's figures, in two real browsers: without signal, then together again."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from people import ART_DIRECTOR, KEY_GRIP
from phone_crew import a_saloon, put, read
from phone_engine import Engine, invite
from phone_screen import Screen
from server_process import ServerProcess
from things_of_a_shot import plain

pytestmark = pytest.mark.slow

TASKS = "tailslate.shots.value['12c'].sheet.rows.tasks"
RIGS = "tailslate.shots.value['12c'].sheet.rows.rigs"
RIG_IT = "Boom over the table: rig it, bag it"
ROW = f"{TASKS}.find((row) => row.title === '{RIG_IT}')"


def without_signal(*phones: Screen) -> None:
    for one in phones:
        one.page.context.set_offline(True)


def together(*phones: Screen) -> None:
    """Give signal again, and wait until each has what the other made."""
    for one in phones:
        one.page.context.set_offline(False)
    for one in (*phones, *phones):
        one.hear()


def type_into(page: Page, label: str, typed: str) -> None:
    field = page.get_by_role("textbox", name=re.compile(label))
    field.fill(typed)
    field.press("Enter")
    expect(field).not_to_be_focused()


def states(engine: Engine) -> dict[str, list[Any]]:
    """Every row of the shot's tasks and rigs: its record, state and quantity, by title."""
    rows = f"[...{TASKS}, ...{RIGS}.flatMap((one) => one.rows)]"
    found = engine.ask(f"() => {rows}.map((row) => [row.title, row.record, row.state, row.amount, row.unit])")
    assert len({title for title, *_ in found}) == len(found)  # no row stands twice
    return {title: [plain(one) for one in rest] for title, *rest in found}


@pytest.fixture
def grip(server: ServerProcess, open_device: Callable[..., Page]) -> Screen:
    """The key grip's phone; it has made the day."""
    found = Screen(open_device("phone"), server, KEY_GRIP, invite(server, KEY_GRIP))
    a_saloon(found.engine)
    found.hear()
    return found


@pytest.fixture
def art(grip: Screen, server: ServerProcess, open_device: Callable[..., Page]) -> Screen:
    """The art director's phone, with the same day on it."""
    return Screen(open_device("phone"), server, ART_DIRECTOR, invite(server, ART_DIRECTOR))


def test_another_cloth_on_arts_phone_says_the_fill_lost_on_the_grips_and_asks_for_its_ticks_again(
    grip: Screen, art: Screen
) -> None:
    engine = grip.engine
    read(engine, "f", "59.2 lx", shot="12c", point="face", role="fill")
    keep = {"title": "Keep the white cloth", "department": "grip", "shot": "12c", "must": "must"}
    put(engine, "task", "keep", **keep, relies_on=["dressing/cloth/reflectance_ratio"])
    put(engine, "rig", "stand", title="Stand 1", source="key", load_kg="4 kg", offset_m="0.4 m", overhead="no",
        x_m="1 m", y_m="2 m")  # fmt: skip
    engine.until(f"{TASKS}.some((row) => row.title === 'Stand 1: rig it, bag it')")
    grip.go("list")
    for title in ("Keep the white cloth", re.compile("^Stand 1: rig it")):
        row = grip.page.get_by_role("checkbox", name=title)
        row.click()
        expect(row).to_be_checked()
    together(grip, art)

    # Art lays a dark cloth, on a phone that has no signal.
    without_signal(art, grip)
    art.go("record/dressing/cloth?shot=12c")
    type_into(art.page, "^material", "dark velvet")
    type_into(art.page, "^reflectance, typical", "0.2")
    art.engine.until("facts.unsent === 2")
    # The grip, without signal too, moves the stand by 5 cm: what was ticked for it stands.
    put(engine, "rig", "stand", x_m="1.05 m")
    engine.until(f"{TASKS}.find((row) => row.title === 'Stand 1: rig it, bag it')?.state === 'done'")
    grip.go("shot/12c/light")
    contrast = grip.page.locator(".lv", has_text="Key to fill")
    expect(contrast).to_contain_text("7.8 : 1")
    assert "was" not in contrast.inner_text()
    before = states(engine)

    together(art, grip)
    # By hand: 0.8 to 0.2 is two stops of fill; (400 + 14.8) / 14.8 = 28 : 1.
    told = grip.page.locator(".row.need", has_text="Fill, the Gambler's face")
    expect(told).to_contain_text("down 2.0 stops")
    expect(told).to_contain_text("Key to fill was 7.8 : 1, now 28 : 1")
    expect(told).to_contain_text(re.compile(r"White cloth, .*20.* Art"))
    expect(contrast).to_contain_text("was 7.8 : 1")
    expect(contrast).to_contain_text("28 : 1")
    after = states(engine)
    changed = [title for title in before if before[title][1] != after[title][1]]
    assert changed == ["Keep the white cloth"]
    assert after["Keep the white cloth"][1] == "again"
    grip.go("list")
    row = grip.page.get_by_role("checkbox", name=re.compile("^Keep the white cloth"))
    expect(row).not_to_be_checked()
    expect(row).to_contain_text(re.compile(r"White cloth, .*80.*now.*20.*Art"))
    grip.page.get_by_role("button", name=re.compile("^Done")).click()
    expect(grip.page.get_by_role("checkbox", name=re.compile("^Stand 1: rig it"))).to_be_checked()


def test_a_lamp_on_a_boom_over_the_table_asks_for_all_that_it_needs_at_once_and_once(
    grip: Screen, art: Screen
) -> None:
    engine = grip.engine
    together(grip, art)
    without_signal(grip, art)
    before = states(engine)
    put(engine, "circuit", "ring", title="Saloon ring", breaker_a="16", voltage_v="230", mapped="unknown",
        residual_current_protected="yes", cable_length_m="18 m", cable_size="2.5 mm2", mains_hz="50 Hz")  # fmt: skip
    put(engine, "source", "table", title="Table lamp", scene="12", intensity_cd="3600 cd", beam_deg="110",
        input_w="460", power_factor_ratio="1", overhead="yes", circuit="ring", order=2)  # fmt: skip
    put(engine, "level", "table~12c", source="table", shot="12c", on="yes", role="back", point="table")
    put(engine, "taping", "run", title="Table lamp to the ring", source="table", shot="12c", type="run",
        length_m="18 m")  # fmt: skip
    put(engine, "rig", "boom", title="Boom over the table", source="table", load_kg="6 kg", load_arm_m="1.4 m",
        weight_arm_m="0.8 m", boom_kg="4 kg", boom_centre_m="0.3 m", overhead="yes", stand_kg="12 kg",
        legs=3, leg_radius_m="0.6 m", bag_kg="10 kg")  # fmt: skip
    rig = "Boom over the table: "
    # By hand: lamp and boom pull 6 * 1.4 + 4 * 0.3 = 9.6 kg m, held by 9.6 / 0.8 = 12 kg. Without the weight they are
    # 10 kg at 0.96 m, and three legs of 0.6 m tip over a line 0.3 m out: (1.5 * 10 * 0.66 - 12 * 0.3) / 0.3 = 21 kg.
    # A safety over people: ten times 6 kg * 9.80665 N/kg = 588 N (EN 17206, from memory). 460 W at 230 V: 2 A.
    # 18 m of cable with a strip of 15 cm each 1.5 m, ends included: 18 + 13 * 0.15 = 19.95 m of tape.
    expected = {
        rig + "rig it, bag it": ["task/rig_stand~rig:boom~1", "open", "3", "bags of 10 kg"],
        rig + "counterweight on before the lamp": ["task/counterweight_on~rig:boom~1", "open", "12 kg", ""],
        rig + "safety on": ["rig/boom", "open", "", ""],
        "Table lamp: cable laid, taped": ["task/lay_cable~source:table~1", "open", "19.95 m", "of tape"],
        "Saloon ring: cable unrolled, off the route": [
            "task/unroll_cable~circuit:ring~1", "open", "18 m", ""
        ],
        "Saloon ring: outlets mapped": ["task/map_outlets~circuit:ring~1", "open", "", ""],
        "Saloon ring: load agreed": ["task/agree_load~circuit:ring~1", "open", "2 A", ""],
        "Strike: lamp off, then weight, then stand, two people": [
            "task/strike~scene:12~1", "open", "1", "stand"
        ],
    }  # fmt: skip
    assert not set(expected) & set(before)
    engine.until(f"{RIGS}.length === 1 && {TASKS}.some((row) => row.amount === '2\\u00a0A')")
    after = states(engine)
    assert {title: after[title] for title in expected} == expected
    [safety] = engine.ask(f"() => {RIGS}[0].rows")
    assert plain(safety["second"]).startswith("breaks at 0.59 kN or more")
    for row in (safety, *(engine.ask(f"() => {TASKS}.filter((row) => row.title.startsWith('Boom over'))"))):
        assert "decide" in row["caution"]["sentence"]
    grip.go("shot/12c/rig")  # only now: what a screen folds when it opens stays folded on it
    for words in ("3 bags of 10 kg", "12 kg", "breaks at 0.59 kN or more"):
        expect(grip.page.locator("main")).to_contain_text(re.compile(words.replace(" ", r"\s*")))
    assert engine.facts["unsent"] > 0

    # A second phone that holds the same set-up derives the same rows, by the same ids; what is ticked there is that row.
    together(grip, art)
    art.engine.until(f"{RIGS}.length === 1 && {TASKS}.some((row) => row.amount === '2\\u00a0A')")
    assert states(art.engine) == after
    without_signal(grip, art)
    for phone in (grip, art):
        row = phone.engine.ask(f"() => {ROW}")
        ticked = {"done": row["value_if_ticked"]}
        phone.engine.saved("task", row["record"].split("/")[1], ticked, painted=row["painted"])
    together(grip, art)
    for phone in (grip, art):
        phone.engine.until(f"{ROW}.state === 'done'")
        assert states(phone.engine) == {
            **after,
            RIG_IT: ["task/rig_stand~rig:boom~1", "done", *after[RIG_IT][2:]],
        }
