"""Several tabs of one phone, and one person typing fast: nothing lost, nothing twice, no conflict with oneself."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import Page

from people import KEY_GRIP
from phone_engine import Engine, invite, same_bytes
from server_process import ServerProcess

TAKE_AWAY_LOCKS = "delete WorkerNavigator.prototype.locks;"


def test_typing_5_then_6_quickly_is_no_conflict_with_oneself(joined: Engine) -> None:
    joined.saved("source", "s-1", {"input_w": ["575", "575 W"]})
    answers = joined.ask(
        """() => Promise.all(["5", "56"].map((typed) =>
          tailslate.act({ kind: "source", record: "s-1", set: { input_w: [typed, `${typed} W`] } })))"""
    )
    assert [answer["saved"] for answer in answers] == [True, True]
    mark, live, gone, absent, off = joined.fields("source/s-1")["input_w"]
    assert (mark, [entry[1] for entry in live], len(gone), absent, off) == (0, [["56", "56 W"]], 2, [], [])


def test_two_acts_in_one_go_are_one_transaction_and_the_second_replaces_the_first(joined: Engine) -> None:
    answers = joined.ask(
        """() => tailslate.actAll(["first", "second"].map((title) => ({ kind: "task", record: "t-1", set: { title } })))"""
    )
    assert [answer["saved"] for answer in answers] == [True, True]
    assert joined.fields("task/t-1")["title"][0] == 0
    assert joined.shown("task/t-1", "title") == "second"


def test_an_act_that_the_rules_refuse_takes_no_number(joined: Engine) -> None:
    before = joined.saved("task", "t-1", {"title": "Bag stand 3"})
    refused = joined.act("source", "s-1", {"throw_m": "far"})
    assert not refused["saved"]
    assert refused["reasons"][0]["sentence"]
    after = joined.saved("task", "t-1", {"title": "Bag stand 4"})
    assert int(after.split(".")[1]) == int(before.split(".")[1]) + 1


@pytest.mark.parametrize("has_locks", [True, False], ids=["with_locks", "without_locks"])
def test_500_edits_in_two_tabs_are_none_lost_and_none_doubled(
    joined: Engine, server: ServerProcess, has_locks: bool, open_device: Callable[..., Page]
) -> None:
    if not has_locks:
        joined.in_worker(TAKE_AWAY_LOCKS)
    second = Engine(joined.page.context.new_page(), server.url)
    assert second.open() == "day"
    if not has_locks:
        second.in_worker(TAKE_AWAY_LOCKS)
    start = """([tab, count]) => {
      window.made = Promise.all(Array.from({ length: count }, (_, place) => tailslate.act({
        kind: "task", record: `t-${place % 20}`, set: { title: `${tab} ${place}`, order: place },
      })));
    }"""
    joined.ask(start, ["left", 250])
    second.ask(start, ["right", 250])
    ids = [answer["id"] for tab in (joined, second) for answer in tab.ask("() => window.made")]
    assert len(set(ids)) == 500
    counters = {tuple(one.split(".")[:2]) for one in ids}
    assert len(counters) == 500, "an incarnation gives each number once"
    for tab in (joined, second):
        tab.until_sent()
        tab.until("facts.acts === 500")
    assert same_bytes(joined.day(), second.day())
    found = [
        line["id"]
        for place in range(20)
        for line in joined.ask("key => tailslate.history(key)", f"task/t-{place}")
    ]
    assert sorted(found) == sorted(ids)
    laptop = Engine(open_device("laptop"), server.url)
    laptop.open()
    laptop.join(invite(server, KEY_GRIP), KEY_GRIP)
    laptop.until_sent()
    both = {key: cells for key, cells in joined.day().items() if key.startswith("task/")}
    assert same_bytes(both, {key: cells for key, cells in laptop.day().items() if key.startswith("task/")})


def test_a_frozen_tab_that_holds_the_lock_does_not_stop_the_one_in_sight(
    joined: Engine, server: ServerProcess
) -> None:
    frozen = joined.page.context.new_page()
    Engine(frozen, server.url).open()
    day = joined.ask("() => tailslate.membership.value.day")
    frozen.evaluate(
        """(day) => new Promise((held) => {
          navigator.locks.request(`tailslate.exchange.${day}`, () => { held(true); return new Promise(() => {}); })
            .catch(() => {});
        })""",
        day,
    )
    session = frozen.context.new_cdp_session(frozen)
    session.send("Page.setWebLifecycleState", {"state": "frozen"})
    joined.in_worker(
        "AbortSignal.timeout = ((was) => (ms) => was.call(AbortSignal, ms / 10))(AbortSignal.timeout)"
    )
    joined.saved("task", "t-1", {"title": "Bag stand 3"})
    joined.ask("() => tailslate.exchangeNow()")  # takes the lock from the frozen tab after 30 s, here 3
    assert joined.facts["unsent"] == 0
