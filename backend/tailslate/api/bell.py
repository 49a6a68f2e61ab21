"""GET /api/days/<day>/bell: Server-Sent Events that say up to which place there is news. Data comes by exchange.

No stream holds a database connection: rights are looked up in short sessions of their own, at the start and
at every heartbeat. A stream ends after ten minutes; the phone opens the next one.
"""

from __future__ import annotations

import json
import secrets
import time
from collections.abc import Iterator

from flask import Blueprint, Response, current_app

from tailslate.api.at_hand import Parts, parts
from tailslate.api.credentials import Credential, device
from tailslate.api.errors import Refused
from tailslate.api.operation import operation
from tailslate.api.ring import BellFull, Listener, Places
from tailslate.store.edits import reaches
from tailslate.store.tables import Device

blueprint = Blueprint("bell", __name__)

PADDING = ":" + " " * 2048 + "\n\n"  # some proxies pass nothing on before they have this much
LONGEST_RETRY_MS = 5000
FULL_RETRY_S = 30


@blueprint.get("/api/days/<name:day_id>/bell")
@operation("Listen for news", content_type="text/event-stream", refuses=(401, 403, 503))
def bell(day_id: str) -> Response:
    """Open a stream for this device; an older one of it gives way."""
    asking, app = device(day_id), parts()
    try:
        listener = app.bell.listen(day_id, asking.device_id, frozenset(asking.sets))
    except BellFull as error:
        sentence = "as many phones listen as this server takes; news comes with the next exchange"
        raise Refused(503, "bell_full", sentence, retry_after_s=FULL_RETRY_S) from error
    with app.database.reading() as session:
        listener.tell(reaches(session, day_id))  # after listening, so that nothing rings in between unheard
    stream = _Stream(
        app,
        asking,
        listener,
        seconds=current_app.config["STREAM_SECONDS"],
        heartbeat_s=current_app.config["HEARTBEAT_SECONDS"],
    )
    response = Response(stream, mimetype="text/event-stream")
    response.headers["Cache-Control"] = "no-store, no-transform"
    response.headers["X-Accel-Buffering"] = "no"
    response.call_on_close(stream.close)
    return response


class _Stream:
    """The lines of one stream. An object and not a generator: closing one that never started must count too."""

    def __init__(
        self, app: Parts, asking: Credential, listener: Listener, *, seconds: float, heartbeat_s: float
    ) -> None:
        self._app = app
        self._asking = asking
        self._listener = listener
        self._ends_s = time.monotonic() + seconds
        self._heartbeat_s = heartbeat_s
        self._opening = [PADDING, f"retry: {1000 + secrets.randbelow(LONGEST_RETRY_MS)}\n\n"]

    def __iter__(self) -> Iterator[str]:
        return self

    def __next__(self) -> str:
        if self._opening:
            return self._opening.pop(0)
        left_s = self._ends_s - time.monotonic()
        places = self._listener.wait(min(self._heartbeat_s, left_s)) if left_s > 0 else {}
        is_over = self._listener.closed or time.monotonic() >= self._ends_s
        if is_over or not (places or self._still_allowed()):
            self.close()
            raise StopIteration
        return _event(places) if places else ": still here\n\n"

    def close(self) -> None:
        """Stop listening."""
        self._app.bell.leave(self._listener)

    def _still_allowed(self) -> bool:
        with self._app.database.reading() as session:
            row = session.get(Device, self._asking.device_id)
            return row is not None and row.revoked_ms is None


def _event(places: Places) -> str:
    return f"event: bell\ndata: {json.dumps(places, separators=(',', ':'))}\n\n"
