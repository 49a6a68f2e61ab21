"""Turns: so many at once, and first come, first served.

A lock of Python's own, and a pool of connections, give to whoever asks in the right moment: of two hundred threads that
ask again and again one may wait for ever.
"""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Iterator
from contextlib import contextmanager


class TurnNotCome(Exception):
    """The turn did not come in time."""


class Turns:
    """So many turns at once; who waits is served in the order of coming."""

    def __init__(self, at_once: int) -> None:
        """Begin with all turns free; at_once is 1 or more."""
        self._guard = threading.Lock()
        self._free = at_once
        self._waiting: deque[threading.Event] = deque()

    @contextmanager
    def taken(self, timeout_s: float) -> Iterator[None]:
        """Hold a turn for the block; raise TurnNotCome when none came within the time [s]."""
        self._take(timeout_s)
        try:
            yield
        finally:
            with self._guard:
                self._give()

    def _take(self, timeout_s: float) -> None:
        with self._guard:
            if self._free:
                self._free -= 1
                return
            mine = threading.Event()
            self._waiting.append(mine)
        if mine.wait(timeout_s):
            return
        with self._guard:
            if mine.is_set():  # it came just now: pass it on
                self._give()
            else:
                self._waiting.remove(mine)
        raise TurnNotCome

    def _give(self) -> None:
        if self._waiting:
            self._waiting.popleft().set()
        else:
            self._free += 1
