"""No server, no network: the app opens, shows the day, takes acts, and sends them when there is a server again."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, Route

from people import KEY_GRIP
from phone_engine import Engine, invite, same_bytes
from server_process import ServerProcess


@pytest.fixture
def kept(phone: Page, server: ServerProcess, built_pwa: object) -> Engine:
    """A phone on the day, whose app is kept on the phone."""
    engine = Engine(phone, server.url)
    engine.open()
    engine.join(invite(server, KEY_GRIP), KEY_GRIP)
    engine.ask("async () => { await navigator.serviceWorker.ready; }")
    return engine


def test_with_the_server_killed_it_opens_and_takes_acts(kept: Engine, server: ServerProcess) -> None:
    kept.saved("task", "t-1", {"title": "Fly the muslin"})
    kept.until_sent()
    before = kept.day()
    server.kill()
    kept.page.context.set_offline(True)
    assert kept.reload() == "day"
    assert kept.shown("task/t-1", "title") == "Fly the muslin"
    kept.until("facts.rules")
    assert same_bytes(kept.day(), before)
    kept.saved("task", "t-2", {"title": "Tape the walkway"})
    assert kept.reload() == "day"
    assert kept.shown("task/t-2", "title") == "Tape the walkway"
    assert kept.facts["unsent"] == 1
    server.start()
    kept.page.context.set_offline(False)
    kept.until("facts.unsent === 0")


def test_the_stored_day_is_painted_before_the_rules_are_up(kept: Engine) -> None:
    kept.saved("task", "t-1", {"title": "Fly the muslin"})
    held: list[Route] = []
    kept.page.route("**/assets/rules_in_micropython-*.js", lambda route: held.append(route))
    kept.page.evaluate(
        """async () => {
          for (const one of await navigator.serviceWorker.getRegistrations()) await one.unregister();
        }"""
    )
    assert kept.reload() == "day"
    assert kept.shown("task/t-1", "title") == "Fly the muslin"
    assert kept.facts["rules"] is None
    for route in held:
        route.continue_()
    kept.until("facts.rules")


def test_a_join_link_and_the_start_are_the_apps_and_every_other_address_is_the_servers(
    kept: Engine, server: ServerProcess
) -> None:
    kept.reload()
    assert kept.ask("() => !!navigator.serviceWorker.controller")
    for path in ("/healthz", "/reset", "/api/openapi.json", "/notices.txt", "/nowhere"):
        response = kept.page.goto(server.url + path)
        assert response is not None
        assert (path, response.from_service_worker) == (path, False)
    for path in ("/", "/join#ABCD-EFGH"):
        kept.page.goto("about:blank")
        response = kept.page.goto(server.url + path)
        assert response is not None
        assert (path, response.from_service_worker) == (path, True)
