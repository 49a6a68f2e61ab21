"""What every test may ask for: the phone's Python, a PostgreSQL database, a running server."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import settings
from playwright.sync_api import expect

import hatch_build
import tailslate
from devices import browser_type_launch_args, laptop, open_device, phone, second_phone  # noqa: F401  # fixtures
from micropython.interpreter import MicroPython
from postgresql_server import PostgreSQL
from server_process import ServerProcess

# The same cases in every run; a failure prints the blob that repeats it.
settings.register_profile("fixed", derandomize=True, deadline=None, print_blob=True)
settings.load_profile("fixed")

# Tests wait for conditions; on a machine that does other work too they take their time.
expect.set_options(timeout=20_000)

FIRST = "test_00_imports.py"
# A minute a test: begun last, they would keep one core waiting for the other.
LONG = ("test_server_under_load.py", "test_build_a_day.py")
LAST_FOLDERS = ("phone", "whole_day")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """MicroPython importing the rules comes first: when that fails, most else does. Browsers come last."""

    def place(item: pytest.Item) -> int:
        if item.path.name == FIRST:
            return 0
        if item.path.name in LONG:
            return 1
        return 3 if item.path.parent.name in LAST_FOLDERS else 2

    items.sort(key=place)


@pytest.fixture(scope="session")
def pwa_packages() -> Path:
    """pwa/, with what package-lock.json names installed in it."""
    hatch_build.install_packages()
    return hatch_build.PWA


@pytest.fixture(scope="session")
def built_pwa() -> Path:
    """The built front end of the installed package; one installed editable is built again when a source is newer."""
    static = Path(tailslate.__file__).parent / "static"
    if static == hatch_build.STATIC and hatch_build.is_stale():
        hatch_build.build()
    assert (static / "index.html").is_file(), f"no front end; install without {hatch_build.SKIP}"
    return static


@pytest.fixture(scope="session")
def micropython(pwa_packages: Path) -> Iterator[MicroPython]:
    """The phone's Python: `.run(source)` returns what it printed, `.call(json_text)` goes through the phone's door."""
    interpreter = MicroPython()
    yield interpreter
    interpreter.close()


@pytest.fixture(params=["cpython", "micropython"])
def phone_door(request: pytest.FixtureRequest) -> Callable[[str], str]:
    """tailslate.day.phone_door.call, once on each Python: JSON text in, JSON text out."""
    if request.param == "micropython":
        interpreter: MicroPython = request.getfixturevalue("micropython")
        return interpreter.call
    from tailslate.day.phone_door import call

    return call


@pytest.fixture(scope="session")
def postgresql_server() -> Iterator[PostgreSQL]:
    """A PostgreSQL server of this run's own, on a unix socket in a temporary folder."""
    server = PostgreSQL()
    server.start()
    yield server
    server.stop()


@pytest.fixture
def postgresql_url(postgresql_server: PostgreSQL) -> Iterator[str]:
    """The SQLAlchemy URL of a fresh, empty PostgreSQL database. Mark the test slow."""
    name = postgresql_server.create_database()
    yield postgresql_server.url(name)
    postgresql_server.drop_database(name)


@pytest.fixture
def start_server(tmp_path: Path, built_pwa: Path) -> Iterator[Callable[..., ServerProcess]]:
    """Start `tailslate serve` or `tailslate demo`; every one started is ended with the test. Mark the test slow."""
    started: list[ServerProcess] = []

    def start(database: str = "", command: str = "serve") -> ServerProcess:
        server = ServerProcess(database or str(tmp_path / f"day-{len(started)}.sqlite3"), tmp_path, command)
        started.append(server)
        server.start()
        return server

    yield start
    for server in started:
        server.kill()


@pytest.fixture
def server(start_server: Callable[..., ServerProcess]) -> ServerProcess:
    """A running `tailslate serve` on a temporary SQLite database: .url, .stop(), .kill(), .start() again."""
    return start_server()


@pytest.fixture
def demonstration(start_server: Callable[..., ServerProcess]) -> ServerProcess:
    """A running `tailslate demo` on a temporary SQLite database: the demonstration day, .join_code(whom)."""
    return start_server(command="demo")
