"""GET /api/days/<day>/pack.pdf: the day on paper, as this server holds it now. What stands on it, tailslate.pack says."""

from __future__ import annotations

import datetime

from flask import Blueprint, Response

from tailslate.api.at_hand import parts
from tailslate.api.credentials import device
from tailslate.api.operation import operation
from tailslate.day import merge
from tailslate.pack import day_pack, paper
from tailslate.pack.whole_day import WholeDay
from tailslate.store.day_file import write_day

blueprint = Blueprint("pack", __name__)


@blueprint.get("/api/days/<name:day_id>/pack.pdf")
@operation("Print the day", content_type="application/pdf", refuses=(401, 403, 503))
def pack(day_id: str) -> Response:
    """Return the day pack: emergency card, shots, sheets, checklists. No health data, and no code to join."""
    device(day_id)
    moment = datetime.datetime.fromtimestamp(parts().now_ms() / 1000, datetime.UTC)
    held = write_day(parts().database, day_id, with_health=False)
    edits, _refused = merge.read_all(held["sets"]["floor"], day_id)
    day = WholeDay.of([one for one in edits if one], moment, title=held["title"])
    octets = paper.pdf(day_pack.of_day(day), title=day.title, printed_at=day.printed_at)
    response = Response(octets, mimetype="application/pdf")
    response.headers["Cache-Control"] = "no-store"
    response.headers["Content-Disposition"] = 'inline; filename="day.pdf"'
    return response
