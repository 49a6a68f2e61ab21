"""Networks as they are on a set: sign-in pages, half answers, lost replies, a server that dies. Nothing sent is invented."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, Route

from people import GRIP
from phone_engine import Engine, invite, same_bytes
from server_process import ServerProcess

EXCHANGE = "**/api/days/*/exchange"


def sign_in_page(route: Route) -> None:
    route.fulfill(status=200, content_type="text/html", body="<!doctype html><title>Stage Wi-Fi</title>")


def sign_in_511(route: Route) -> None:
    route.fulfill(status=511, content_type="text/html", body="<!doctype html><title>Sign in</title>")


def empty_answer(route: Route) -> None:
    route.fulfill(status=200, content_type="application/json", body="")


def half_an_answer(route: Route) -> None:
    whole = route.fetch()
    route.fulfill(response=whole, body=whole.body()[: len(whole.body()) // 2])


def answer_of_another_time(route: Route) -> None:
    whole = route.fetch()
    route.fulfill(response=whole, json={**whole.json(), "nonce": "yesterday"})


@pytest.mark.parametrize(
    "answer", [sign_in_page, sign_in_511, empty_answer, half_an_answer, answer_of_another_time]
)
def test_an_answer_that_is_not_the_servers_marks_nothing_as_sent(
    joined: Engine, answer: Callable[[Route], None]
) -> None:
    joined.page.route(EXCHANGE, answer)
    joined.saved("task", "t-1", {"title": "Fly the muslin"})
    joined.until("facts.notices.some(({ code }) => code === 'wifi_sign_in')")
    facts = joined.facts
    assert facts["unsent"] == 1
    assert "sign in" in next(one["sentence"] for one in facts["notices"] if one["code"] == "wifi_sign_in")
    joined.page.unroute_all(behavior="ignoreErrors")
    joined.until_sent()
    assert joined.notices == []


@pytest.mark.parametrize("status", [401, 403])
def test_a_phone_that_is_no_longer_known_keeps_everything_and_goes_on(joined: Engine, status: int) -> None:
    body = {"error": {"code": "not_known", "sentence": "join again", "request_id": "r"}}
    joined.page.route(EXCHANGE, lambda route: route.fulfill(status=status, json=body))
    for place in range(3):
        joined.saved("task", f"t-{place}", {"title": "Fly the muslin"})
    joined.until("facts.notices.some(({ code }) => code === 'not_allowed')")
    for _again in range(3):
        assert joined.reload() == "day"
    joined.until("facts.rules")
    assert joined.facts["unsent"] == 3
    joined.saved("task", "t-3", {"title": "Still works"})
    joined.page.unroute_all(behavior="ignoreErrors")
    joined.until_sent()


def test_a_lost_reply_is_sent_again_and_counts_once(joined: Engine, server: ServerProcess) -> None:
    lost = []

    def lose(route: Route) -> None:
        if len(lost) < 2:
            lost.append(route.fetch().status)
            route.abort()
        else:
            route.fallback()

    joined.page.route(EXCHANGE, lose)
    ids = [joined.saved("task", f"t-{place}", {"title": "Fly the muslin"}) for place in range(5)]
    joined.until("facts.unsent === 0")
    joined.until_sent()
    assert lost == [200, 200]
    history = [joined.ask("key => tailslate.history(key)", f"task/t-{place}") for place in range(5)]
    assert [[line["id"] for line in lines] for lines in history] == [[one] for one in ids]


def test_a_server_that_is_killed_and_comes_back_gets_what_it_had_not_confirmed(
    joined: Engine, server: ServerProcess, second_phone: Page
) -> None:
    server.kill()
    joined.saved("task", "t-1", {"title": "Fly the muslin"})
    joined.until("facts.notices.some(({ code }) => code === 'not_reached')")
    assert joined.facts["unsent"] == 1
    server.start()
    joined.until("facts.unsent === 0")
    other = Engine(second_phone, server.url)
    other.open()
    other.join(invite(server, GRIP), GRIP)
    other.until_sent()
    assert other.shown("task/t-1", "title") == "Fly the muslin"


def test_two_phones_see_each_others_edits_by_the_bell(
    joined: Engine, server: ServerProcess, second_phone: Page
) -> None:
    other = Engine(second_phone, server.url)
    other.open()
    other.join(invite(server, GRIP), GRIP)
    other.until_sent()
    joined.saved("task", "t-1", {"title": "Fly the muslin"})
    other.until("tailslate.shown(tailslate.recordNow('task/t-1')?.title) === 'Fly the muslin'")
    other.saved("task", "t-1", {"title": "Fly the silk"})
    joined.until("tailslate.shown(tailslate.recordNow('task/t-1')?.title) === 'Fly the silk'")
    joined.until_sent()
    other.until_sent()
    assert same_bytes(joined.day(), other.day())
    [first, second] = joined.ask("() => tailslate.history('task/t-1')")
    assert (first["live"], second["live"]) == ([], ["title"])
    assert second["received_ms"]
    assert second["carrier"] == "phone"


def test_two_answers_stand_side_by_side_until_a_person_picks(
    joined: Engine, server: ServerProcess, second_phone: Page
) -> None:
    other = Engine(second_phone, server.url)
    other.open()
    other.join(invite(server, GRIP), GRIP)
    joined.saved("source", "s-1", {"height_m": ["2", "2 m"]})
    joined.until_sent()
    other.until_sent()
    for phone in (joined, other):
        phone.page.context.set_offline(True)
    joined.saved("source", "s-1", {"height_m": ["2.2", "2.2 m"]})
    other.saved("source", "s-1", {"height_m": ["2.4", "2.4 m"]})
    for phone in (joined, other):
        phone.page.context.set_offline(False)
        phone.ask("() => tailslate.exchangeNow()")
    for phone in (other, joined, other):
        phone.until_sent()
    assert same_bytes(joined.fields("source/s-1"), other.fields("source/s-1"))
    mark, live, *_rest = joined.fields("source/s-1")["height_m"]
    assert mark == 2
    assert {entry[1][0] for entry in live} == {"2.2", "2.4"}
    other.saved("source", "s-1", {"height_m": ["2.2", "2.2 m"]})
    other.until_sent()
    joined.until("tailslate.cellMark(tailslate.recordNow('source/s-1')?.height_m) === 0")


def test_nothing_runs_while_the_app_is_out_of_sight(joined: Engine) -> None:
    asked: list[str] = []
    joined.page.route("**/api/**", lambda route: (asked.append(route.request.url), route.fallback()))
    joined.ask(
        """() => {
          Object.defineProperty(document, "visibilityState", { configurable: true, value: "hidden" });
          document.dispatchEvent(new Event("visibilitychange"));
        }"""
    )
    joined.saved("task", "t-1", {"title": "Fly the muslin"})
    assert joined.facts["unsent"] == 1
    assert asked == []
    joined.ask(
        """() => {
          Object.defineProperty(document, "visibilityState", { configurable: true, value: "visible" });
          document.dispatchEvent(new Event("visibilitychange"));
        }"""
    )
    joined.until("facts.unsent === 0")
    assert asked
