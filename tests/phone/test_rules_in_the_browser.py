"""The rules in the browser's worker give the bytes that CPython gives."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

from craft import case_calls
from craft import test_cases as craft_cases
from merge_cases import DAY, golden_cases
from people import KEY_GRIP
from phone_engine import Engine, invite, same_bytes
from rules_bundle import rules_bundle
from server_process import ServerProcess
from tailslate.day.phone_door import call

CASES = golden_cases()


@pytest.fixture(scope="module")
def asked() -> dict[str, Any]:
    """What the golden cases ask the rules, by name."""
    asked = {}
    for golden in CASES:
        texts = [one.text for one in golden.arrived]
        verdicts = [one.text for one in golden.verdicts]
        asked[f"{golden.name}: folded"] = {"do": "fold", "day": DAY, "items": texts, "verdicts": verdicts}
        asked[f"{golden.name}: merged"] = {"do": "merge", "day": DAY, "items": texts, "cells": {}}
    return asked


def test_the_golden_merge_cases_agree_byte_for_byte(
    phone: Page, server: ServerProcess, built_pwa: object, asked: dict[str, Any]
) -> None:
    engine = Engine(phone, server.url)
    engine.open()
    answers = engine.ask(
        """async (asked) => {
          const answers = {};
          for (const name in asked) answers[name] = await tailslate.ask(asked[name]);
          return answers;
        }""",
        asked,
    )
    differing = [
        name for name in asked if not same_bytes(answers[name], json.loads(call(json.dumps(asked[name]))))
    ]
    assert differing == []
    assert len(asked) > 20


@pytest.fixture
def answers_of_the_browser(phone: Page, server: ServerProcess, built_pwa: object) -> list[dict[str, Any]]:
    """What craft answers in the worker of the built app, raw, one dict a case.

    A phone gets no more of craft than its door reaches: all of it is put beside what it got, shipped alike.
    """
    engine = Engine(phone, server.url)
    engine.open()
    engine.ask("() => tailslate.ask({ do: 'kinds' })")  # the rules are up
    whole = {place: text for place, text in rules_bundle().items() if "/day/" not in place}
    engine.in_worker(
        """(files) => {
          python.FS.mkdirTree("/whole/tailslate/craft");
          for (const [place, text] of Object.entries(files)) python.FS.writeFile(`/whole/${place}`, text);
          python.runPython(`
import sys
for _name in list(sys.modules):
    if _name[:9] == "tailslate":
        del sys.modules[_name]
sys.path.insert(0, "/whole")
`);
        }""",
        whole,
    )
    source = Path(case_calls.__file__).read_text(encoding="utf-8")
    answers: list[dict[str, Any]] = []
    for start in range(0, len(craft_cases.CASES), 20):  # memory is given back between calls only
        text = engine.in_worker(
            """([source, cases]) => {
              python.globals.set("_source", source);
              python.globals.set("_cases", JSON.stringify(cases));
              python.runPython(`
import json
_here = {}
exec(_source, _here)
_answers = json.dumps([_here["run_case"](case) for case in json.loads(_cases)])
`);
              return python.globals.get("_answers");
            }""",
            [source, craft_cases.CASES[start : start + 20]],
        )
        answers += json.loads(text)
    return answers


def test_every_case_of_craft_holds_in_the_browser(answers_of_the_browser: list[dict[str, Any]]) -> None:
    assert len(answers_of_the_browser) == len(craft_cases.CASES) > 90
    found, mistakes = [], 0
    for case, answers in zip(craft_cases.CASES, answers_of_the_browser, strict=True):
        here = json.loads(json.dumps(case_calls.run_case(case)))
        found += [f"{case['id']} {one}, CPython first" for one in craft_cases.differences(here, answers)]
        found += [
            f"{case['id']} {case['title']}: {name} is {answers[name]}, expected {expected}, {case['source']}"
            for name, expected in case["expected"].items()
            if not craft_cases.is_near(answers[name], expected)
        ]
        for wrong in case["wrong_answers"]:
            mistakes += 1
            expected = case["expected"][wrong["for"]]
            off = abs(answers[wrong["for"]] - expected["value"])
            if craft_cases.is_near(wrong["value"], expected) or off >= abs(
                answers[wrong["for"]] - wrong["value"]
            ):
                found.append(f"{case['id']}: {wrong} would pass")
    assert found == []
    assert mistakes > 50


def test_the_table_of_kinds_agrees(phone: Page, server: ServerProcess, built_pwa: object) -> None:
    engine = Engine(phone, server.url)
    engine.open()
    assert same_bytes(engine.ask("() => tailslate.ask({ do: 'kinds' })"), json.loads(call('{"do":"kinds"}')))


def test_the_engine_names_an_edit_as_the_server_does(
    phone: Page, server: ServerProcess, built_pwa: object
) -> None:
    engine = Engine(phone, server.url)
    engine.open()
    engine.join(invite(server, KEY_GRIP), KEY_GRIP)
    for title in (
        "plain",
        "Überhang 3 m",
        "fünf \U0001f98a\U0001f3fd",
        'quote " and \\ and \n',
        "מסך לבן",
        "",
    ):
        engine.saved("task", "t-1", {"title": title})
    engine.until_sent()  # the server answers by its own reckoning of each id, and compares the marks of all
    assert engine.facts["refused"] == []
