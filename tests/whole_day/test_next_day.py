"""`tailslate new-day --like`: another day's structure on a new day, from its file or from the same database."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from a_server import Here
from people import DAY, GAFFER, KEY_GRIP
from tailslate.cli import main
from tailslate.day import edit
from tailslate.pack.whole_day import records_of


def tailslate(*arguments: str) -> Result:
    return CliRunner().invoke(main, list(arguments))


def records(database: str, day: str, folder: Path) -> dict[str, Any]:
    """Return a day's records as its export holds them."""
    file = folder / f"{day}.json"
    made = tailslate("export", "--database", database, "--day", day, str(file))
    assert made.exit_code == 0, made.output
    texts = json.loads(file.read_text(encoding="utf-8"))["sets"]["floor"]
    return records_of([edit.read(text, day=day) for text in texts])


@pytest.fixture
def yesterday(tmp_path: Path) -> str:
    """A database with a day on which something was made, done, read and held."""
    database = str(tmp_path / "day.sqlite3")
    here = Here(database)
    grip = here.phone_of(KEY_GRIP)
    gaffer = here.phone_of(GAFFER)
    grip.act("shot", "12c", {"number": "12C", "title": "Over the Gambler", "phase": "done"})
    grip.act("rig", "stand-1", {"title": "Stand 1", "bags": 2, "safety_on": ["done", []]})
    grip.act("hold", "h-1", {"why": "wind", "shot": "12c"})
    gaffer.act("reading", "r-1", {"shot": "12c", "illuminance_lx": ["59", "59 lx"]})
    for phone in (grip, gaffer):
        phone.exchange()
    here.close()
    return database


@pytest.mark.parametrize("way", ["file", "id"])
def test_a_new_day_like_another_has_its_structure_and_none_of_its_states(
    yesterday: str, tmp_path: Path, way: str
) -> None:
    before = records(yesterday, DAY, tmp_path)
    assert "reading/r-1" in before
    like = str(tmp_path / f"{DAY}.json") if way == "file" else DAY
    made = tailslate("new-day", "--database", yesterday, "--like", like, "Night Crossing, day 5")
    assert made.exit_code == 0, made.output
    after = records(yesterday, made.output.strip().splitlines()[-1], tmp_path)
    told = {key: sorted(fields) for key, fields in after.items() if not key.startswith("day/")}
    crew = {key: told.pop(key) for key in list(told) if key.startswith("person/")}
    assert told == {"shot/12c": ["number", "title"], "rig/stand-1": ["bags", "title"]}
    assert list(crew.values()) == [["departments", "head", "name", "role"]] * 2


def test_a_day_that_is_not_there_is_named(yesterday: str) -> None:
    made = tailslate("new-day", "--database", yesterday, "--like", "nosuchday0", "x")
    assert made.exit_code == 1
    assert "there is no day nosuchday0" in made.output
