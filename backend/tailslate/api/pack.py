"""GET /api/days/<day>/pack.pdf and report.pdf: the day on paper, as this server holds it now. What stands on it,
tailslate.pack says."""

from __future__ import annotations

import datetime
from collections.abc import Callable

from flask import Blueprint, Response

from tailslate.api.at_hand import parts
from tailslate.api.credentials import device
from tailslate.api.operation import operation
from tailslate.day import merge
from tailslate.pack import day_pack, day_report, paper, pictures
from tailslate.pack.blocks import Block
from tailslate.pack.whole_day import WholeDay
from tailslate.store import photographs
from tailslate.store.day_file import write_day

blueprint = Blueprint("pack", __name__)


@blueprint.get("/api/days/<name:day_id>/pack.pdf")
@operation("Print the day", content_type="application/pdf", refuses=(401, 403, 503))
def pack(day_id: str) -> Response:
    """Return the day pack: emergency card, shots, sheets, checklists, pictures. No health data, and no code to join."""

    def blocks_of(day: WholeDay) -> list[Block]:
        with parts().database.reading() as session:
            given = {
                digest: photographs.give(session, day_id=day_id, digest=digest)
                for digest in pictures.digests(day)
            }
        held = {digest: one.octets for digest, one in given.items() if one and not one.is_parked}
        return day_pack.of_day(day, pictures_held=held)

    return _printed(day_id, "day", blocks_of)


@blueprint.get("/api/days/<name:day_id>/report.pdf")
@operation("Print the report of the day", content_type="application/pdf", refuses=(401, 403, 503))
def report(day_id: str) -> Response:
    """Return the end of the day: as shot, takes, holds, incidents, what was used up. No health data; safety ticks by name."""
    return _printed(day_id, "report", day_report.of_day)


def _printed(day_id: str, name: str, blocks_of: Callable[[WholeDay], list[Block]]) -> Response:
    device(day_id)
    moment = datetime.datetime.fromtimestamp(parts().now_ms() / 1000, datetime.UTC)
    held = write_day(parts().database, day_id, with_health=False)
    edits, _refused = merge.read_all(held["sets"]["floor"], day_id)
    day = WholeDay.of([one for one in edits if one], moment, title=held["title"])
    octets = paper.pdf(blocks_of(day), title=day.title, printed_at=day.printed_at)
    response = Response(octets, mimetype="application/pdf")
    response.headers["Cache-Control"] = "no-store"
    response.headers["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    return response
