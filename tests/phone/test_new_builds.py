"""A new build waits for a tap; a worker that went wrong can be taken away. What people wrote stays in both."""

from __future__ import annotations

import re
import shutil
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect
from werkzeug.serving import BaseWSGIServer, make_server

from a_server import Here
from people import KEY_GRIP
from phone_engine import Engine
from tailslate.api import pages


class Served:
    """The app served from a copy of its files, so that a test can put a new build there."""

    def __init__(self, here: Here, folder: Path, server: BaseWSGIServer) -> None:
        self.here = here
        self.folder = folder
        self.url = f"http://127.0.0.1:{server.server_port}"

    def deploy(self, name: str) -> None:
        """Put a build there that says its name: its page and its list of files differ, as with any new build."""
        page, worker = self.folder / "index.html", self.folder / "sw.js"
        page.write_text(
            page.read_text().replace("<head>", f'<head><meta name="test-build" content="{name}">')
        )
        changed, count = re.subn(
            r'("?url"?:"index\.html","?revision"?:")[^"]*', rf"\g<1>{name}", worker.read_text()
        )
        if not count:
            changed, count = re.subn(
                r'("?revision"?:")[^"]*(",\s*"?url"?:"index\.html")', rf"\g<1>{name}\g<2>", worker.read_text()
            )
        assert count == 1, "sw.js lists index.html once"
        worker.write_text(changed)


@pytest.fixture
def served(here: Here, built_pwa: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Served]:
    """A server on a copy of the built app."""
    folder = tmp_path / "static"
    compressed = shutil.ignore_patterns("*.br", "*.gz")  # a test changes files by hand
    shutil.copytree(built_pwa, folder, ignore=compressed)
    monkeypatch.setattr(pages, "STATIC", folder)
    server = make_server("127.0.0.1", 0, here.app, threaded=True)
    thread = threading.Thread(target=server.serve_forever)
    thread.start()
    yield Served(here, folder, server)
    server.shutdown()
    thread.join()


@pytest.fixture
def installed(phone: Page, served: Served) -> Engine:
    """A phone on the day that holds the app, with one edit that was never sent."""
    engine = Engine(phone, served.url)
    engine.open()
    engine.join(served.here.code_for(KEY_GRIP), KEY_GRIP)
    engine.until_sent()
    engine.ask("async () => { await navigator.serviceWorker.ready; }")
    engine.reload()
    phone.route("**/exchange", lambda route: route.abort())
    engine.saved("task", "t-1", {"title": "Fly the muslin"})
    return engine


def build_of(page: Page) -> str | None:
    found = page.locator('meta[name="test-build"]')
    return found.get_attribute("content") if found.count() else None


def come_back(page: Page) -> None:
    """The app comes into sight again, more than a minute later."""
    page.evaluate(
        """() => {
          const later = Date.now() + 61_000;
          Date.now = () => later;
          document.dispatchEvent(new Event("visibilitychange"));
        }"""
    )


def test_a_new_build_is_offered_when_the_app_comes_back_and_taken_only_by_a_tap(
    installed: Engine, served: Served
) -> None:
    page = installed.page
    loads: list[str] = []
    page.on("load", lambda loaded: loads.append(loaded.url))
    page.evaluate("() => { document.title = 'typing'; }")
    served.deploy("b")
    come_back(page)
    installed.ask(
        """() => new Promise((offered) => {
          const look = () => (tailslate.update_offered.value ? offered(true) : setTimeout(look, 20));
          look();
        })"""
    )
    assert loads == [], "nothing was loaded under the thumb"
    assert page.title() == "typing"
    installed.reload()
    assert build_of(page) is None, "a reload alone does not take it"
    with page.expect_navigation():
        installed.ask("() => tailslate.takeUpdate()")
    installed.opened()
    assert build_of(page) == "b"
    installed.until("facts.rules")
    assert installed.facts["unsent"] == 1
    assert installed.shown("task/t-1", "title") == "Fly the muslin"


def test_the_old_build_opens_whole_after_its_files_are_gone_from_the_server(
    installed: Engine, served: Served
) -> None:
    shutil.rmtree(served.folder / "assets")
    assert installed.reload() == "day"
    installed.until("facts.rules")
    installed.saved("task", "t-2", {"title": "Tape the walkway"})


def test_a_worker_that_went_wrong_is_withdrawn_and_nothing_written_is_lost(
    installed: Engine, served: Served
) -> None:
    page = installed.page
    bad = 'self.addEventListener("fetch", (event) => { if (event.request.mode === "navigate") event.respondWith(new Response("broken")); });'
    (served.folder / "sw.js").write_text(f'self.addEventListener("install", () => self.skipWaiting());{bad}')
    page.evaluate(
        """() => new Promise((changed) => {
          navigator.serviceWorker.addEventListener("controllerchange", () => changed(true));
          navigator.serviceWorker.getRegistration().then((one) => one.update());
        })"""
    )
    page.reload()
    expect(page.locator("body")).to_have_text("broken")
    served.here.app.config["WITHDRAW_WORKER"] = True
    with page.expect_navigation():
        page.evaluate("async () => { await (await navigator.serviceWorker.getRegistration()).update(); }")
    assert installed.opened() == "day"
    installed.until("facts.rules")
    assert installed.facts["unsent"] == 1
    assert page.evaluate("async () => (await caches.keys()).length") == 0


def test_the_reset_page_removes_the_worker_and_keeps_the_day(installed: Engine, served: Served) -> None:
    page = installed.page
    page.goto(served.url + "/reset")
    page.locator("#reset").click()
    expect(page.locator("#outcome")).to_contain_text("Removed 1 worker")
    assert page.evaluate("async () => (await navigator.serviceWorker.getRegistrations()).length") == 0
    assert installed.open() == "day"
    assert installed.facts["unsent"] == 1


def test_the_build_number_is_shown_in_the_report(installed: Engine) -> None:
    build = installed.ask("() => tailslate.build")
    assert re.fullmatch(r"\d+\.\d+\.\d+-[0-9a-f]{8}", build)
    assert f"build {build}" in installed.ask("() => tailslate.report()")
