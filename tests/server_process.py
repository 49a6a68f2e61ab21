"""`tailslate serve` or `tailslate demo` as a process of its own, to be stopped, killed and started again by a test."""

from __future__ import annotations

import itertools
import multiprocessing
import os
import random
import re
import signal
import socket
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from multiprocessing.context import ForkServerProcess
from pathlib import Path
from urllib.error import HTTPError
from urllib.request import urlopen

from click.testing import CliRunner

from tailslate.cli import main

TAILSLATE = Path(sys.executable).parent / "tailslate"

PORTS_FROM, PORTS_AT_LEAST = 20_000, 4_000
DYNAMIC_PORTS_FROM = 49_152  # RFC 6335, section 6: ports from here are for connections going out

# Hundreds of servers are started: each is a process of its own, forked from one that has imported everything once.
FORKS = multiprocessing.get_context("forkserver")
FORKS.set_forkserver_preload(["tailslate.cli"])


def command(*arguments: str) -> str:
    """Run `tailslate` with these arguments, within this process, and return what it printed."""
    done = CliRunner().invoke(main, arguments, catch_exceptions=False)
    assert done.exit_code == 0, done.output
    return done.stdout.strip()


def _run(arguments: list[str], environment: dict[str, str], log: Path) -> None:
    """Be `tailslate` with these arguments: a process group of its own, what it prints in a file."""
    os.setsid()
    os.environ.clear()
    os.environ.update(environment)
    multiprocessing.set_start_method("fork", force=True)  # as at a prompt: the server forks its worker
    with log.open("ab") as file:
        os.dup2(file.fileno(), sys.stdout.fileno())
        os.dup2(file.fileno(), sys.stderr.fileno())
    main(arguments)


def _ports() -> Iterator[int]:
    """Return ports of this test worker's own, below those that the system gives to connections going out.

    A server that is started again must find its port free: one out of the system's range may by then be the near end
    of anybody's connection, also of a client's to the very server that is gone.
    """
    limits = Path("/proc/sys/net/ipv4/ip_local_port_range")
    beyond = int(limits.read_text().split()[0]) if limits.exists() else DYNAMIC_PORTS_FROM
    worker = int(os.environ.get("PYTEST_XDIST_WORKER", "gw0")[2:])
    workers = int(os.environ.get("PYTEST_XDIST_WORKER_COUNT", "1"))
    mine = range(PORTS_FROM + worker, max(beyond, PORTS_FROM + PORTS_AT_LEAST), workers)
    # Begun anywhere: another run on this machine has its own place.
    begin = random.SystemRandom().randrange(len(mine))
    return itertools.chain(mine[begin:], itertools.cycle(mine))


def free_port() -> int:
    """Return a port that nothing listens to and that no other test of this run is given."""
    for port in PORTS:
        with socket.socket() as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                probe.bind(("127.0.0.1", port))
            except OSError:
                continue
            return port
    raise AssertionError("unreachable: the ports go round")


PORTS = _ports()


class ServerProcess:
    """One server: the same port and the same database (a path, or postgresql://...) every time it is started."""

    def __init__(self, database: str, folder: Path, command: str = "serve") -> None:
        self.database = database
        self.command = command
        self.port = free_port()
        self.url = f"http://127.0.0.1:{self.port}"
        self._log = folder / f"server-{self.port}.log"
        self._process: ForkServerProcess | None = None

    def start(self) -> None:
        """Start and wait until it answers."""
        where = ["--host", "127.0.0.1", "--port", str(self.port), "--database", self.database]
        process = FORKS.Process(target=_run, args=([self.command, *where], dict(os.environ), self._log))
        process.start()
        self._process = process
        for _attempt in range(300):
            if self.answers():
                return
            process.join(timeout=0.1)
            if process.exitcode is not None:
                break
        raise AssertionError(f"tailslate {self.command} did not answer on port {self.port}:\n{self.log}")

    def answers(self) -> bool:
        """Say whether anything speaks HTTP on the port."""
        try:
            with urlopen(self.url, timeout=5):
                return True
        except HTTPError:
            return True
        except OSError:
            return False

    def stop(self) -> int:
        """Ask it to stop, as a service manager does, and return its exit code."""
        return self._end(signal.SIGTERM)

    def kill(self) -> None:
        """Pull the plug."""
        self._end(signal.SIGKILL)

    def join_code(self, whom: str) -> str:
        """Return the code that it printed for someone, such as "key grip"."""
        found = re.search(rf"^\s*([A-Z0-9]{{4}}-[A-Z0-9]{{4}})\s+{whom}$", self.log, re.MULTILINE)
        assert found, f"no join code for {whom} in:\n{self.log}"
        return found[1]

    @property
    def log(self) -> str:
        """What the server has printed so far."""
        return self._log.read_text(errors="replace") if self._log.exists() else ""

    def _end(self, how: signal.Signals) -> int:
        process, self._process = self._process, None
        if process is None:
            return 0
        if process.exitcode is None:
            # The whole group: workers of a killed server would keep the port.
            os.killpg(process.pid, how)
        process.join(timeout=30)
        assert process.exitcode is not None, self.log
        return process.exitcode


@contextmanager
def demonstration_day(folder: Path) -> Iterator[ServerProcess]:
    """Run `tailslate demo` for more than one test, its database in a folder of its own."""
    server = ServerProcess(str(folder / "day.sqlite3"), folder, "demo")
    server.start()
    try:
        yield server
    finally:
        server.kill()
