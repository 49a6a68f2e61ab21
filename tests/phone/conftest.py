"""Whatever starts a browser is slow. A phone that has joined a day."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from a_server import here  # noqa: F401  # a fixture
from devices import DEVICES, devices
from people import KEY_GRIP
from phone_engine import Engine, invite
from phone_screen import Screen
from server_process import ServerProcess, demonstration_day


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark every test of this folder."""
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.slow)


@pytest.fixture
def joined(phone: Page, server: ServerProcess) -> Iterator[Engine]:
    """The key grip's phone on an empty day, with nothing unsent."""
    engine = Engine(phone, server.url)
    assert engine.open() == "nothing"
    engine.join(invite(server, KEY_GRIP), KEY_GRIP)
    engine.until_sent()
    yield engine
    phone.unroute_all(behavior="ignoreErrors")  # a round that is on its way when the server ends is no fault


@pytest.fixture(scope="session")
def shown_day(
    browser: Browser, built_pwa: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Screen]:
    """The key grip's phone on the demonstration day, one for the whole run."""
    with demonstration_day(tmp_path_factory.mktemp("shown")) as server, devices(browser) as open_one:
        yield Screen(open_one("phone"), server, KEY_GRIP, server.join_code("key grip"))


@pytest.fixture
def onlooker(shown_day: Screen) -> Iterator[Screen]:
    """The key grip's phone for a test that only looks: its size, its light and its letters are put back."""
    page = shown_day.page
    mode = page.evaluate("document.documentElement.dataset.mode")
    yield shown_day
    page.set_viewport_size(DEVICES["phone"]["viewport"])
    page.emulate_media(forced_colors="none", reduced_motion="no-preference")
    page.evaluate(
        "mode => { document.documentElement.dataset.mode = mode; document.documentElement.style.fontSize = ''; }",
        mode,
    )
