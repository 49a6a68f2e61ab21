"""The bell: who waits for news of which day, in this one process. The data itself comes by exchange.

A ring is only 'something changed, up to these places'; missed rings do no harm, later ones stand in for them.
Several server processes would need the database to pass rings on (LISTEN/NOTIFY); one process does not.
"""

from __future__ import annotations

import threading
from dataclasses import dataclass, field

Places = dict[str, int]


class BellFull(Exception):
    """As many listeners as this server takes; the phone asks now and then instead."""


@dataclass
class Listener:
    """One open stream of one device."""

    day_id: str
    device_id: str
    sets: frozenset[str]
    _news: threading.Event = field(default_factory=threading.Event)
    _places: Places = field(default_factory=dict)
    _lock: threading.Lock = field(default_factory=threading.Lock)
    closed: bool = False

    def wait(self, seconds: float) -> Places:
        """Return the places rung since the last call, empty when nothing rang within the time."""
        self._news.wait(seconds)
        with self._lock:
            self._news.clear()
            places, self._places = self._places, {}
            return places

    def tell(self, places: Places) -> None:
        """Ring, for those sets that the device may hold."""
        allowed = {name: place for name, place in places.items() if name in self.sets}
        if allowed:
            with self._lock:
                self._places.update(
                    {name: max(place, self._places.get(name, 0)) for name, place in allowed.items()}
                )
                self._news.set()

    def close(self) -> None:
        """End the stream at once."""
        self.closed = True
        self._news.set()


class Bell:
    """All listeners of this process."""

    def __init__(self, total: int, per_device: int) -> None:
        """Take the limits: listeners in all, and of one device (an older one gives way)."""
        self.total = total
        self.per_device = per_device
        self._listeners: list[Listener] = []
        self._lock = threading.Lock()

    def __len__(self) -> int:
        """How many listen."""
        return len(self._listeners)

    def listen(self, day_id: str, device_id: str, sets: frozenset[str]) -> Listener:
        """Add a listener. Raises BellFull."""
        with self._lock:
            own = [one for one in self._listeners if one.device_id == device_id and not one.closed]
            if len(own) >= self.per_device:
                self._drop(own[0])  # the phone has come back; its old stream may be dead without knowing
            if len(self._listeners) >= self.total:
                raise BellFull
            listener = Listener(day_id, device_id, sets)
            self._listeners.append(listener)
            return listener

    def leave(self, listener: Listener) -> None:
        """Remove a listener; removing it twice does no harm."""
        with self._lock:
            self._drop(listener)

    def ring(self, day_id: str, places: Places) -> None:
        """Tell every listener of the day."""
        for listener in self._of(day_id):
            listener.tell(places)

    def close_device(self, day_id: str, device_id: str) -> None:
        """End the streams of a device that was taken off the day."""
        for listener in self._of(day_id):
            if listener.device_id == device_id:
                self.leave(listener)

    def close(self) -> None:
        """End all streams: the server stops."""
        with self._lock:
            for listener in list(self._listeners):
                self._drop(listener)

    def _of(self, day_id: str) -> list[Listener]:
        with self._lock:
            return [one for one in self._listeners if one.day_id == day_id]

    def _drop(self, listener: Listener) -> None:
        listener.close()
        if listener in self._listeners:
            self._listeners.remove(listener)
