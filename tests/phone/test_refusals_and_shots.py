"""Edits that a server will never take keep their words; shots are worked out again only when something they read changed."""

from __future__ import annotations

import json
from typing import Any

from playwright.sync_api import Route

from phone_engine import Engine
from tailslate.day import edit

EXCHANGE = "**/api/days/*/exchange"


def refuse_texts_with(word: str, route: Route) -> None:
    """Hold back the texts that have this word, and answer for each that it is refused."""
    body: dict[str, Any] = route.request.post_data_json
    held_back = {}
    for name, one in body["sets"].items():
        held_back[name] = [text for text in one["edits"] if word in text]
        one["edits"] = [text for text in one["edits"] if word not in text]
    response = route.fetch(post_data=json.dumps(body))
    reply = response.json()
    for name, texts in held_back.items():
        for text in texts:
            edit_id = edit.read(text, day=json.loads(text)[1]).id
            reply["sets"][name]["answers"].append(
                ["refused", edit_id, "text_not_an_edit", "it is no edit; write it anew"]
            )
    route.fulfill(response=response, json=reply)


def test_one_refused_edit_keeps_its_words_and_does_not_stand_in_the_way_of_the_others(joined: Engine) -> None:
    joined.page.route(EXCHANGE, lambda route: refuse_texts_with("poison", route))
    joined.page.context.set_offline(True)
    joined.saved("task", "t-1", {"title": "Fly the muslin"})
    joined.saved("task", "t-1", {"note": "poison"})
    joined.saved("task", "t-2", {"title": "Tape the walkway"})
    joined.page.context.set_offline(False)
    joined.ask("() => tailslate.exchangeNow()")
    joined.until("facts.unsent === 0 && facts.refused.length === 1")
    [refused] = joined.facts["refused"]
    assert (refused["record"], refused["sentence"]) == ("task/t-1", "it is no edit; write it anew")
    assert "poison" in refused["text"]
    assert "refused" in joined.notices
    assert joined.shown("task/t-1", "note") is None
    assert joined.shown("task/t-1", "title") == "Fly the muslin"
    assert joined.shown("task/t-2", "title") == "Tape the walkway"
    joined.until_sent()  # its number is declared void, so the copy is whole
    assert joined.fields(f"void/{refused['id']}")["why"][1]
    assert joined.reload() == "day"
    joined.until("facts.rules")
    assert [one["id"] for one in joined.facts["refused"]] == [refused["id"]]
    assert joined.ask("() => tailslate.forget(0)") == {"forgotten": False, "unsent": 1}, (
        "it counts before forgetting"
    )


def computed_ms(engine: Engine) -> dict[str, int]:
    return dict(
        engine.ask(
            "() => Object.fromEntries(Object.values(tailslate.shots.value).map((one) => [one.shot, one.computed_ms]))"
        )
    )


def test_only_a_shot_that_reads_what_changed_is_worked_out_again(joined: Engine) -> None:
    for shot in ("12a", "12b"):
        joined.saved("shot", shot, {"number": shot.upper(), "title": "At cards"})
    joined.saved("source", "s-1", {"title": "Key"})
    joined.saved("level", "s-1~12a", {"source": "s-1", "shot": "12a", "on": "yes"})
    joined.until_sent()
    joined.until(
        "Object.keys(tailslate.shots.value).length === 2 && tailslate.shots.value['12a'].sheet.reads.includes('source/s-1')"
    )
    before = computed_ms(joined)
    joined.saved("source", "s-1", {"title": "Key through silk"})
    joined.until(f"tailslate.shots.value['12a'].computed_ms > {before['12a']}")
    joined.until_sent()
    assert computed_ms(joined)["12b"] == before["12b"]


def test_stored_shots_are_painted_when_the_app_opens(joined: Engine) -> None:
    joined.saved("shot", "12a", {"number": "12A", "title": "At cards"})
    joined.until_sent()
    joined.until(
        "tailslate.shots.value['12a']?.sheet.shot.number === '12A' && tailslate.shots.value['12a'].readiness"
    )
    shown = joined.ask("() => tailslate.shotNow('12a')")
    joined.page.context.set_offline(True)
    joined.reload()
    stored = joined.ask("() => tailslate.shots.value['12a']")
    assert stored == shown
