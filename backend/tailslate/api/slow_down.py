"""Failed tries per address, so that nobody guesses join codes. Memory only: a restart forgives.

Only failures count, and only against the address that made them: a whole crew behind one Wi-Fi joins at
once without harm. With several server processes each counts for itself.
"""

from __future__ import annotations

import threading
from collections import OrderedDict, deque

ADDRESSES_KEPT = 10_000


class SlowDown:
    """At most `limit` failures of one address within `window_ms`."""

    def __init__(self, limit: int, window_ms: int) -> None:
        """Start with nobody slowed down."""
        self.limit = limit
        self.window_ms = window_ms
        self._failed: OrderedDict[str, deque[int]] = OrderedDict()
        self._lock = threading.Lock()

    def wait_ms(self, address: str, now_ms: int) -> int:
        """Return how long this address has to wait before it may try again; 0 when it need not."""
        with self._lock:
            times = self._recent(address, now_ms)
            return times[0] + self.window_ms - now_ms if len(times) >= self.limit else 0

    def failed(self, address: str, now_ms: int) -> None:
        """Count a failure."""
        with self._lock:
            times = self._recent(address, now_ms)
            times.append(now_ms)
            self._failed[address] = times
            self._failed.move_to_end(address)
            while len(self._failed) > ADDRESSES_KEPT:
                self._failed.popitem(last=False)

    def _recent(self, address: str, now_ms: int) -> deque[int]:
        times = self._failed.get(address, deque(maxlen=self.limit))
        while times and times[0] <= now_ms - self.window_ms:
            times.popleft()
        return times
