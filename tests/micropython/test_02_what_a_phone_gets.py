"""The rules as a phone gets them: without what its door never reaches, and with the same answers."""

from __future__ import annotations

import ast
import itertools
import json
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import packed
from micropython.interpreter import MicroPython, MicroPythonError
from people import DAY
from reached import reached
from rules_bundle import phone_bundle, rules_bundle
from tailslate import demonstration
from tailslate.day import merge, reads
from tailslate.day.gathered import Gathered
from thinned import thinned

NOW_MS = 1_764_079_920_000  # 25 November 2025, 14:12 UTC
SHOTS = ("12a", "12b", "12c", "12d", "12e", "13a")


@pytest.fixture(scope="module")
def a_phone() -> Iterator[MicroPython]:
    """MicroPython with the files that the build ships."""
    interpreter = MicroPython(phone_bundle())
    yield interpreter
    interpreter.close()


def test_it_is_less_than_all_of_the_rules_and_nothing_else() -> None:
    ships, whole = phone_bundle(), rules_bundle()
    assert set(ships) < set(whole)
    assert sum(map(len, ships.values())) < 0.95 * sum(map(len, whole.values()))


def test_what_is_frozen_into_micropython_stays_behind(micropython: MicroPython) -> None:
    whole, ships = packed.MICROPYTHON.read_bytes(), packed.micropython()
    assert len(ships) == len(whole)
    assert len(packed.packed(ships, packed.IN_WORDS)) < 0.85 * len(packed.packed(whole, packed.IN_WORDS))
    with pytest.raises(MicroPythonError, match="functools"):
        micropython.run("import functools")
    with pytest.raises(ValueError, match="thinned"):
        thinned(ships)


def test_a_name_is_the_same_name_again_without_those_that_were_frozen(micropython: MicroPython) -> None:
    """MicroPython keeps each name once; a pool of them with a hole in it would find some, and others never again."""
    frozen = re.findall(rb"[A-Za-z_]\w*", packed.MICROPYTHON.read_bytes())
    names = sorted(
        {name.decode() for name in frozen if len(name) < 30 and name[:2] != b"__"}
        | {f"name_{n}" for n in range(2000)}
    )
    program = f"""
class Held:
    pass
held, names = Held(), {names!r}
for place in range(len(names)):
    setattr(held, names[place], place)
print(all(getattr(held, names[place]) == place for place in range(len(names))))
"""
    assert micropython.run(program) == "True\n"


def test_no_name_that_is_used_is_missing(tmp_path: Path) -> None:
    """Source: ruff, rule F821 (undefined name), after pyflakes."""
    for place, source in phone_bundle().items():
        file = tmp_path / place
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(source, encoding="utf-8")
    checked = subprocess.run(
        [sys.executable, "-m", "ruff", "check", "--isolated", "--select", "F821", "--no-cache", tmp_path],
        capture_output=True,
        text=True,
    )
    assert checked.returncode == 0, checked.stdout


def test_every_import_finds_what_it_takes() -> None:
    ships = phone_bundle()
    made = {
        place: {name for node in ast.walk(ast.parse(source)) for name in _made(node)}
        for place, source in ships.items()
    }
    absent = []
    for place, source in ships.items():
        for node in ast.walk(ast.parse(source)):
            if not isinstance(node, ast.ImportFrom) or not (
                node.level or (node.module or "")[:9] == "tailslate"
            ):
                continue
            package = place.rpartition("/")[0] + "/" if node.level else ""
            folder = package + (node.module or "").replace(".", "/")
            for one in node.names:
                names = made.get(folder + ".py", made.get(folder + "/__init__.py", set()))
                if one.name not in names and f"{folder}/{one.name}.py" not in ships:
                    absent.append(f"{place}: {node.module}.{one.name}")
    assert absent == []


def _made(node: ast.AST) -> list[str]:
    if isinstance(node, ast.FunctionDef | ast.ClassDef):
        return [node.name]
    if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
        return [node.id]
    return [one.asname or one.name for one in node.names] if isinstance(node, ast.ImportFrom) else []


def test_the_whole_demonstration_day_comes_out_alike(a_phone: MicroPython, micropython: MicroPython) -> None:
    salts = (f"{number:08d}" for number in itertools.count())
    made = demonstration.edits_of(
        demonstration.plan(), day_id=DAY, incarnation="demo000001", salts=salts, now_ms=NOW_MS
    )
    words = merge.verdict_words([one for one in made if one.kind == "verdict"])
    records: dict[str, dict[str, object]] = {}
    for name, cell in merge.fold([one for one in made if one.kind != "verdict"], words).items():
        kind, record, field = name.split("/")
        records.setdefault(f"{kind}/{record}", {})[field] = cell
    for shot in SHOTS:
        keys = reads.follow([f"shot/{shot}"], reads.SHOT_STEPS, Gathered(records))
        asked = {"do": "shot", "shot": shot, "records": {key: records[key] for key in keys}, "complete": True}
        text = json.dumps(asked)
        assert json.loads(a_phone.call(text)) == json.loads(micropython.call(text)), shot


def test_what_is_reached_by_name_stays_and_the_rest_goes() -> None:
    door = "from tailslate.day import other\nUNUSED = 1\ndef call(a):\n    return other.asked(a)\ndef idle():\n    return 2"
    other = "from tailslate.day import third\nTABLE = {'x': 1}\ndef asked(a):\n    return TABLE[a]\ndef alone():\n    return third.f()"
    trees = {"tailslate.day.phone_door": ast.parse(door), "tailslate.day.other": ast.parse(other)}
    trees |= {
        "tailslate.day.third": ast.parse("def f():\n    return 3"),
        "tailslate.day": ast.parse(""),
        "tailslate": ast.parse(""),
    }
    found = reached(trees)
    assert set(found) == {"tailslate.day.phone_door", "tailslate.day.other", "tailslate.day"}
    assert (
        ast.unparse(found["tailslate.day.other"]) == "TABLE = {'x': 1}\n\ndef asked(a):\n    return TABLE[a]"
    )
    assert "UNUSED" not in ast.unparse(found["tailslate.day.phone_door"])
