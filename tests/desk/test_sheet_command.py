"""`tailslate sheet`: the same words at a desk as on a phone, from any file that holds a day."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from people import GAFFER, KEY_GRIP, Pen
from tailslate import seed_data_folder
from tailslate.cli import main

NOON = "2025-11-25T12:00+00:00"


def texts() -> list[str]:
    """A day with one shot, its lamp on a wall circuit, as edit texts."""
    gaffer, grip = Pen(by=GAFFER.person), Pen(by=KEY_GRIP.person, incarnation="pen0000002")
    lamp = {
        "title": "Key",
        "input_w": ["3000", "3000 W"],
        "power_factor_ratio": ["1", "1"],
        "circuit": "wall",
    }
    wall = {"title": "Wall", "breaker_a": ["16", "16 A"], "voltage_v": ["120", "120 V"], "mapped": "yes"}
    return [
        grip.write("shot", "12c", {"number": "12C", "title": "Over the Gambler"}).text,
        gaffer.write("circuit", "wall", wall).text,
        gaffer.write("source", "key", lamp).text,
        gaffer.write("level", "key~12c", {"source": "key", "shot": "12c", "on": "yes", "role": "key"}).text,
    ]


def printed(tmp_path: Path, held: Any, *options: str) -> Result:
    file = tmp_path / "day.json"
    file.write_text(json.dumps(held), encoding="utf-8")
    return CliRunner().invoke(main, ["sheet", str(file), "--at", NOON, *options])


def test_a_list_of_edits_gives_the_sheet_of_a_shot_by_its_number(tmp_path: Path) -> None:
    """3000 W / 120 V = 25 A on a 16 A breaker, 12.8 A of it for three hours and more (NEC 210.19), by hand."""
    outcome = printed(tmp_path, texts(), "--shot", "12c")
    assert outcome.exit_code == 0, outcome.output
    shown = outcome.stdout.splitlines()
    assert shown[0] == "12C  Over the Gambler"
    assert shown[1].startswith("UNKNOWN: ") or shown[1].startswith("NOT READY: ")
    assert "  ! Load: 25 A; 12.8 A may flow: 80 % of the 16 A breaker, for three hours and more" in shown
    assert "! Wall, load: 25 A; 12.8 A may flow: 80 % of the 16 A breaker, for three hours and more" in shown
    assert [line for line in shown if line.startswith("CAUTION Water and electricity")]
    assert max(len(line) for line in shown) <= 102


def test_json_is_what_a_phone_gets(tmp_path: Path) -> None:
    outcome = printed(tmp_path, texts(), "--shot", "12C", "--json")
    answer = json.loads(outcome.stdout)
    assert set(answer) == {"sheet", "readiness", "work"}
    assert answer["sheet"]["power"]["circuits"][0]["record"] == "circuit/wall"


def test_an_exported_day_and_the_demonstration_day_are_read_too(tmp_path: Path) -> None:
    exported = {
        "file": "tailslate-day-1",
        "day": "night-crossing",
        "title": "Night Crossing",
        "sets": {"floor": texts()},
    }
    assert printed(tmp_path, exported, "--shot", "12C").stdout.startswith("12C  Over the Gambler")
    plan = json.loads((seed_data_folder() / "demonstration_day.json").read_text(encoding="utf-8"))
    outcome = printed(tmp_path, plan, "--shot", "12A", "--units", "imperial")
    assert outcome.exit_code == 0, outcome.output
    assert outcome.stdout.startswith("12A  ")
    for title in ("RIGGING", "POWER", "DRINKS AND FOOD", "TAPE", "FRAME", "TO DO"):
        assert title in outcome.stdout.splitlines()


@pytest.mark.parametrize("shot", ["12A", "12C", "12E", "13A"])
def test_every_caution_of_a_sheet_is_printed_with_it(shot: str, tmp_path: Path) -> None:
    plan = json.loads((seed_data_folder() / "demonstration_day.json").read_text(encoding="utf-8"))
    sheet = json.loads(printed(tmp_path, plan, "--shot", shot, "--json").stdout)["sheet"]
    text = " ".join(printed(tmp_path, plan, "--shot", shot).stdout.split())
    found = set()

    def walk(part: Any) -> None:
        if isinstance(part, dict):
            caution = part.get("caution")
            if caution:
                found.add(caution["sentence"])
            for one in part.values():
                walk(one)
        elif isinstance(part, list):
            for one in part:
                walk(one)

    walk(sheet)
    assert len(found) > 3
    assert [one for one in found if one not in text] == []


def test_a_text_that_is_no_edit_is_told_and_loses_nothing_of_the_others(tmp_path: Path) -> None:
    held = texts()
    outcome = printed(tmp_path, [*held, held[0].replace("Gambler", "Purser ")], "--shot", "12C")
    assert outcome.exit_code == 0
    assert outcome.stdout.startswith("12C  Over the Gambler")
    broken = printed(tmp_path, [*held, "[1,"], "--shot", "12C")
    assert "text 5 is left out" in broken.stderr


@pytest.mark.parametrize(
    ("held", "shot", "said"),
    [
        (["[]"], "12C", "no shot is called 12C; the shots of this day: none"),
        ({"sets": {}}, "12C", "holds no day: give a file that `tailslate export` wrote"),
        (None, "99", "no shot is called 99; the shots of this day: 12C"),
    ],
)
def test_a_file_or_a_shot_that_is_not_there_says_what_to_do(
    held: Any, shot: str, said: str, tmp_path: Path
) -> None:
    outcome = printed(tmp_path, texts() if held is None else held, "--shot", shot)
    assert outcome.exit_code == 1
    assert said in outcome.stderr


def test_a_file_that_is_no_json_and_a_time_that_is_none_are_refused(tmp_path: Path) -> None:
    file = tmp_path / "day.json"
    file.write_text("{", encoding="utf-8")
    outcome = CliRunner().invoke(main, ["sheet", str(file), "--shot", "12C"])
    assert (outcome.exit_code, "not whole JSON" in outcome.stderr) == (1, True)
    assert CliRunner().invoke(main, ["sheet", str(file), "--shot", "12C", "--at", "noon"]).exit_code == 2
