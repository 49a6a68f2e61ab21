"""A phone that is full, drops what it kept, or loses its database handle: told, never shown as saved, nothing lost."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserType, Page, Route

from people import ART_DIRECTOR, KEY_GRIP
from phone_engine import Engine, invite, same_bytes
from server_process import ServerProcess

ROOM_BYTES = 2_000_000  # beyond the app itself: the reserve of 1 MB, and some edits


@pytest.fixture
def joined(joined: Engine) -> Engine:
    """The key grip's phone, with one task."""
    joined.saved("task", "t-0", {"title": "Bag stand 3"})
    joined.until_sent()
    return joined


@pytest.fixture
def nearly_full(
    browser_type: BrowserType,
    browser_type_launch_args: dict[str, Any],
    server: ServerProcess,
    built_pwa: object,
    tmp_path: Path,
) -> Iterator[Engine]:
    """A phone on the day that has little room left.

    The browser remembers for a while how much room it found, so the limit stands before anything is stored.
    """
    start = partial(browser_type.launch_persistent_context, tmp_path / "profile", **browser_type_launch_args)
    with start() as context:
        Engine(context.pages[0], server.url).open()
        context.pages[0].evaluate("async () => { await navigator.serviceWorker.ready; }")
        app_bytes = context.pages[0].evaluate("async () => (await navigator.storage.estimate()).usage")
    with start() as context:
        page = context.pages[0]
        set_quota(page, server.url, app_bytes + ROOM_BYTES)
        engine = Engine(page, server.url)
        engine.open()
        engine.join(invite(server, KEY_GRIP), KEY_GRIP)
        engine.saved("task", "t-0", {"title": "Bag stand 3"})
        engine.until_sent()
        yield engine


def set_quota(page: Page, origin: str, size_bytes: int | None) -> None:
    session = page.context.new_cdp_session(page)
    asked = {"origin": origin} if size_bytes is None else {"origin": origin, "quotaSize": size_bytes}
    session.send("Storage.overrideQuotaForOrigin", asked)


def drop_database(page: Page, origin: str = "") -> None:
    session = page.context.new_cdp_session(page)
    origin = origin or page.evaluate("location.origin")
    session.send("Storage.clearDataForOrigin", {"origin": origin, "storageTypes": "indexeddb"})


def fill_until_not_saved(engine: Engine) -> tuple[int, str]:
    """Write long notes, ten at a time, until some are not saved; return how many were, and a record that was not."""
    saved, failed = engine.ask(
        """async () => {
          const noise = () => [...crypto.getRandomValues(new Uint8Array(1900))].map((one) => one.toString(16)).join("");
          for (let ten = 0; ten < 200; ten++) {
            const notes = Array.from({ length: 10 }, (_, one) => ({
              kind: "note", record: `n-${ten}-${one}`, set: { text: noise() },
            }));
            const answers = await tailslate.actAll(notes);
            if (answers.every(({ saved }) => !saved)) return [ten * 10, answers];
            if (!answers.every(({ saved }) => saved)) throw new Error("half a transaction");
          }
          throw new Error("the phone never became full");
        }"""
    )
    assert {reason["code"] for answer in failed for reason in answer["reasons"]} == {"not_saved"}
    return saved, f"note/n-{saved // 10}-0"


def test_a_full_phone_never_shows_an_edit_as_saved_and_text_still_fits_in_the_reserve(
    nearly_full: Engine,
) -> None:
    nearly_full.page.context.set_offline(True)
    saved, not_saved = fill_until_not_saved(nearly_full)
    facts = nearly_full.facts
    assert facts["kept"] == "memory"
    assert "not_saved" in nearly_full.notices
    assert saved > 150, "without the reserve there was room for some 110"
    assert nearly_full.shown(not_saved, "text"), "it stays on the screen, in memory"
    assert facts["unsent"] == saved + 10

    set_quota(nearly_full.page, nearly_full.url, None)
    nearly_full.saved("task", "t-0", {"title": "Bag stand 4"})
    assert nearly_full.facts["kept"] != "memory"
    assert "not_saved" not in nearly_full.notices
    assert nearly_full.reload() == "day"
    nearly_full.until("facts.rules")
    assert nearly_full.shown(not_saved, "text"), "room was made, so it is kept now"
    assert nearly_full.facts["unsent"] == saved + 11


def test_what_a_full_phone_could_not_keep_is_sent_all_the_same(nearly_full: Engine) -> None:
    _saved, not_saved = fill_until_not_saved(nearly_full)
    nearly_full.ask("() => tailslate.exchangeNow()")
    nearly_full.until("facts.unsent === 0")
    set_quota(nearly_full.page, nearly_full.url, None)
    drop_database(nearly_full.page)
    nearly_full.reload()
    nearly_full.until_sent()
    assert nearly_full.shown(not_saved, "text")


FULL = """
  for (const method of ["add", "put"]) {
    IDBObjectStore.prototype[method] = () => { throw new DOMException("no room", "QuotaExceededError"); };
  }
  null;
"""


def test_a_full_phone_reads_on_where_it_stopped_instead_of_asking_for_the_same_again(
    joined: Engine, open_device: Callable[..., Page], server: ServerProcess
) -> None:
    other = Engine(open_device("phone"), server.url)
    other.open()
    other.join(invite(server, ART_DIRECTOR), ART_DIRECTOR)
    joined.page.context.set_offline(True)
    other.ask(
        """() => tailslate.actAll(Array.from({ length: 1200 }, (_, place) =>
          ({ kind: "task", record: `a-${place}`, set: { title: `title ${place}` } })))"""
    )
    other.until_sent()
    joined.in_worker(FULL)
    exchanges: list[str] = []
    joined.page.on("request", lambda asked: exchanges.append(asked.url) if "/exchange" in asked.url else None)
    joined.page.context.set_offline(False)
    joined.until("tailslate.recordNow('task/a-1199')")
    joined.until_sent()
    assert joined.facts["kept"] == "memory"
    assert len(exchanges) < 15, "three pages, what else is asked around them, and no storm"


# For what appends alone: what the phone puts beside it in its own time, a shot's figures say, is not the act's.
DEAD = """
  IDBDatabase.prototype.kept ??= IDBDatabase.prototype.transaction;
  self.fails_left = TIMES;
  IDBDatabase.prototype.transaction = function (...asked) {
    const is_append = asked[1] === "readwrite" && asked[0].includes("rows");
    if (is_append && self.fails_left-- > 0) throw new DOMException("the storage process is gone", "UnknownError");
    return this.kept(...asked);
  };
  null;
"""


def test_a_dead_handle_is_opened_again_and_the_edit_is_saved(joined: Engine) -> None:
    joined.in_worker(DEAD.replace("TIMES", "1"))
    joined.saved("task", "t-1", {"title": "Fly the muslin"})
    assert joined.facts["kept"] != "memory"


@pytest.mark.parametrize("times", [2, 5])
def test_a_handle_that_stays_dead_keeps_the_edit_in_memory_and_says_so(
    joined: Engine, server: ServerProcess, times: int
) -> None:
    # An answer of the server is stored too, and would meet the dead handle: the last one is taken before.
    server.kill()
    joined.ask("() => tailslate.exchangeNow()")
    joined.in_worker(DEAD.replace("TIMES", str(times)))
    answer = joined.act("task", "t-1", {"title": "Fly the muslin"})
    assert (answer["saved"], [reason["code"] for reason in answer["reasons"]]) == (False, ["not_saved"])
    assert joined.in_worker("self.fails_left") >= times - 2, "at most two tries: no storm on a dead handle"
    assert joined.shown("task/t-1", "title") == "Fly the muslin"
    joined.in_worker("self.fails_left = 0")
    joined.saved("task", "t-2", {"title": "Tape the walkway"})
    server.start()
    joined.reload()
    joined.until("facts.rules")
    titles = [joined.shown(f"task/t-{place}", "title") for place in (1, 2)]
    assert titles == ["Fly the muslin", "Tape the walkway"]
    joined.until_sent()


def test_storage_dropped_under_an_open_app_is_put_back_and_told(joined: Engine) -> None:
    joined.page.context.set_offline(True)
    joined.saved("task", "t-1", {"title": "Fly the muslin"})
    before = joined.day()
    drop_database(joined.page)
    # An act may fall into the very moment of the drop: it is told as not saved then, and is stored with the next.
    joined.act("task", "t-2", {"title": "Tape the walkway"})
    joined.saved("task", "t-3", {"title": "Bag the boom"})
    assert "storage_lost" in joined.notices
    assert "not_saved" not in joined.notices
    assert joined.facts["unsent"] == 3
    new = {"task/t-2": None, "task/t-3": None}
    assert same_bytes({**joined.day(), **new}, {**before, **new})
    joined.page.context.set_offline(False)
    joined.reload()
    joined.until_sent()
    titles = [joined.shown(f"task/t-{place}", "title") for place in (1, 2, 3)]
    assert titles == ["Fly the muslin", "Tape the walkway", "Bag the boom"]


def test_a_database_that_was_emptied_while_the_app_was_closed_is_a_loss_and_read_again(
    joined: Engine,
) -> None:
    joined.until("facts.edits > 0")
    day = joined.ask("() => tailslate.membership.value")
    joined.page.goto("about:blank")  # an open app would put it back at once
    drop_database(joined.page, joined.url)
    assert joined.open() == "day", "not as if the phone were new"
    assert "storage_lost" in joined.notices
    joined.until_sent()
    assert joined.shown("task/t-0", "title") == "Bag stand 3"
    assert joined.ask("() => tailslate.membership.value") == day, "the same person on the same device"


def test_a_browser_that_keeps_nothing_works_and_says_so(
    open_device: Callable[..., Page], server: ServerProcess, built_pwa: object
) -> None:
    page = open_device("phone")

    def without_database(route: Route) -> None:
        response = route.fetch()
        refuses = (
            "IDBFactory.prototype.open = () => { throw new DOMException('private', 'SecurityError'); };\n"
        )
        route.fulfill(response=response, body=refuses + response.text())

    page.route("**/assets/worker-*.js", without_database)
    engine = Engine(page, server.url)
    engine.open()
    engine.join(invite(server, KEY_GRIP), KEY_GRIP)
    assert "nothing_kept" in engine.notices
    answer = engine.act("task", "t-1", {"title": "Fly the muslin"})
    assert (answer["saved"], [reason["code"] for reason in answer["reasons"]]) == (False, ["nothing_kept"])
    assert engine.shown("task/t-1", "title") == "Fly the muslin"
    assert engine.facts["kept"] == "memory"
    engine.until_sent()
    assert "nothing_kept" in engine.notices, "the notice stays"


def test_compacting_keeps_every_edit_and_every_byte_of_the_day(joined: Engine) -> None:
    made = joined.ask(
        """() => Promise.all(Array.from({ length: 200 }, (_, place) =>
          tailslate.act({ kind: "task", record: `t-${place % 30}`, set: { title: `title ${place}` } })))"""
    )
    assert all(answer["saved"] for answer in made)
    joined.until_sent()
    before, edits = joined.day(), joined.facts["edits"]
    joined.until_rows_are_few()
    joined.reload()
    joined.until_sent()
    assert same_bytes(joined.day(), before)
    assert joined.facts["edits"] == edits
    ids = {
        line["id"]
        for place in range(30)
        for line in joined.ask("key => tailslate.history(key)", f"task/t-{place}")
    }
    assert {answer["id"] for answer in made} <= ids
    joined.saved("task", "t-3", {"title": "after compacting"})
    joined.until_sent()


def test_a_tab_that_slept_while_another_compacted_reads_the_day_again(
    joined: Engine, server: ServerProcess
) -> None:
    second = Engine(joined.page.context.new_page(), server.url)
    second.open()
    second.until("facts.rules")
    second.in_worker("BroadcastChannel.prototype.addEventListener = () => {}; self.deaf = true")
    second.page.context.new_cdp_session(second.page).send("Page.setWebLifecycleState", {"state": "frozen"})
    for place in range(160):
        joined.saved("task", f"t-{place % 10}", {"title": f"title {place}"})
    joined.until_rows_are_few()
    second.page.context.new_cdp_session(second.page).send("Page.setWebLifecycleState", {"state": "active"})
    second.saved("task", "t-20", {"title": "from the tab that slept"})
    second.until_sent()
    joined.until_sent()
    assert same_bytes(joined.day(), second.day())


def test_forgetting_a_day_counts_what_is_unsent_first(joined: Engine) -> None:
    joined.page.context.set_offline(True)
    joined.saved("task", "t-1", {"title": "Fly the muslin"})
    assert joined.ask("() => tailslate.forget(0)") == {"forgotten": False, "unsent": 1}
    assert joined.shown("task/t-1", "title") == "Fly the muslin"
    assert joined.ask("() => tailslate.forget(1)") == {"forgotten": True, "unsent": 0}
    names = joined.ask("async () => (await indexedDB.databases()).map(({ name }) => name)")
    assert names == []
    assert joined.ask("() => localStorage.getItem('tailslate.days')") == "[]"


def test_nothing_of_the_day_is_in_a_cache_of_the_worker(joined: Engine) -> None:
    urls = joined.ask(
        """async () => {
          await navigator.serviceWorker.ready;
          const caches_here = await Promise.all((await caches.keys()).map((name) => caches.open(name)));
          return (await Promise.all(caches_here.map((one) => one.keys()))).flat().map(({ url }) => url);
        }"""
    )
    assert urls
    assert not [url for url in urls if "/api/" in url]
