"""The rules in the browser's worker give the bytes that CPython gives."""

from __future__ import annotations

import json
from typing import Any

import pytest
from playwright.sync_api import Page

from merge_cases import DAY, golden_cases
from people import KEY_GRIP
from phone_engine import Engine, invite, same_bytes
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
