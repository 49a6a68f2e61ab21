"""Whatever starts a browser is slow. A phone that has joined a day."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page

from a_server import here  # noqa: F401  # a fixture
from people import KEY_GRIP
from phone_engine import Engine, invite
from server_process import ServerProcess


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
