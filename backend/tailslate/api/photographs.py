"""/api/days/<day>/photographs/<digest>: a picture up in parts, down in one piece. What is kept, store/photographs.py says.

PUT sends one part, its place in Content-Range (RFC 9110, 14.5: partial PUT); HEAD says how far an upload is; GET
gives a whole picture. A picture is bytes for the app to show: nothing here is ever a page.
"""

from __future__ import annotations

import re
from typing import Any

from flask import Blueprint, Response, current_app, request
from marshmallow import Schema, fields

from tailslate.api.at_hand import parts
from tailslate.api.credentials import Credential, device
from tailslate.api.errors import Refused
from tailslate.api.exchange import refuse_a_full_disk
from tailslate.api.operation import operation
from tailslate.store import crew
from tailslate.store import photographs as kept
from tailslate.store.edits import reaches
from tailslate.store.intake import people
from tailslate.store.photographs import Bringer, Part, PhotographRefused

blueprint = Blueprint("photographs", __name__)

CONTENT_RANGE = re.compile(r"bytes (\d{1,9})-(\d{1,9})/(\d{1,9})")
NOTHING_RUNS = "default-src 'none'; sandbox; frame-ancestors 'none'"
STATUS = {
    "too_large": 413,
    "other_place": 409,
    "photographs_full": 507,
    "not_a_photograph": 415,
}


class HowFar(Schema):
    """What is here of a picture."""

    offset = fields.Integer(required=True, metadata={"description": "bytes that need not be sent again"})
    is_whole = fields.Boolean(required=True, metadata={"description": "checked and kept: nothing is left"})


@blueprint.put("/api/days/<name:day_id>/photographs/<name:digest>")
@operation(
    "Send a part of a photograph",
    gives=HowFar,
    refuses=(400, 401, 403, 404, 409, 413, 415, 422, 503, 507),
    takes_octets=True,
)
def send(day_id: str, digest: str) -> dict[str, Any]:
    """Keep one part, at most 65,536 bytes, its place in `Content-Range: bytes 0-65535/300000`.

    The address ends in the SHA-256 of the whole picture in hex. 409 names in `offset` where to go on. What a
    device sends that is off the day is kept, parked, for production to look at.
    """
    asking = device(day_id, allow_revoked=True)
    part = _part(_digest(digest))
    refuse_a_full_disk()
    refused: PhotographRefused | None = None
    found = (0, False)
    with parts().database.writing() as session:
        # Asked again under the lock: it may have been taken off the day since.
        is_revoked = crew.note_heard(session, asking.device_id, parts().now_ms())
        try:
            found = kept.put_part(
                session,
                day_id=day_id,
                part=part,
                bringer=Bringer(asking.device_id, is_revoked),
                day_limit_bytes=current_app.config["PHOTOGRAPH_BYTES_A_DAY"],
                now_ms=parts().now_ms(),
            )
        except PhotographRefused as error:
            refused = error
            if error.offset == 0:  # the whole was no picture, or not this one: the next upload begins anew
                kept.drop_parts(session, day_id, part.digest, asking.device_id)
    if refused:
        status = STATUS.get(refused.code, 422)
        raise Refused(status, refused.code, str(refused), offset=refused.offset)
    if found[1]:
        _ring(day_id)
    return {"offset": found[0], "is_whole": found[1]}


@blueprint.get("/api/days/<name:day_id>/photographs/<name:digest>")
@operation("Get a photograph", content_type="image/jpeg", refuses=(401, 403, 404, 503))
def give(day_id: str, digest: str) -> Response:
    """Return a whole picture, as it was sent: image/jpeg, image/png or image/webp.

    HEAD tells in Upload-Offset how many bytes need not be sent again, in Upload-Complete whether it is whole.
    """
    if request.method == "HEAD":
        return _how_far(device(day_id, allow_revoked=True), _digest(digest))
    asking = device(day_id)
    with parts().database.reading() as session:
        found = kept.give(session, day_id=day_id, digest=_digest(digest))
        if found and found.is_parked:
            person = people(session, day_id).get(asking.person)
            found = found if person and "production" in person.departments else None
    if found is None:
        sentence = "the picture is not here yet; it comes when the phone that took it has signal"
        raise Refused(404, "no_such_photograph", sentence)
    response = Response(found.octets, mimetype=found.media_type)
    response.headers["Content-Disposition"] = (
        f'attachment; filename="{digest}{kept.ENDINGS[found.media_type]}"'
    )
    response.headers["Content-Security-Policy"] = NOTHING_RUNS
    return response


def _how_far(asking: Credential, digest: str) -> Response:
    with parts().database.reading() as session:
        offset, is_whole = kept.how_far(
            session,
            day_id=asking.day_id,
            digest=digest,
            bringer=Bringer(asking.device_id, asking.is_revoked),
        )
    response = Response(status=200 if is_whole else 404)
    response.headers["Upload-Offset"] = str(offset)
    response.headers["Upload-Complete"] = "?1" if is_whole else "?0"
    return response


def _digest(digest: str) -> str:
    if not kept.DIGEST.fullmatch(digest):
        sentence = "a photograph is named by its SHA-256, 64 digits 0 to 9 and a to f; check the address"
        raise Refused(404, "no_such_photograph", sentence)
    return digest


def _part(digest: str) -> Part:
    named = CONTENT_RANGE.fullmatch(request.headers.get("Content-Range", ""))
    if not named:
        raise Refused(400, "no_range", "say where the part belongs: Content-Range: bytes 0-65535/300000")
    start, end, total = (int(one) for one in named.groups())
    if end - start + 1 > kept.PART_LIMIT_BYTES:
        sentence = f"a part may have at most {kept.PART_LIMIT_BYTES} bytes, this one has {end - start + 1}"
        raise Refused(413, "too_large", f"{sentence}; send smaller parts")
    octets = request.get_data(cache=False)
    if len(octets) != end - start + 1 or end >= total:
        sentence = f"{len(octets)} bytes arrived of the part {start} to {end} of {total}; send it again"
        raise Refused(400, "cut_off", sentence)
    return Part(digest, start, total, octets)


def _ring(day_id: str) -> None:
    """A picture is whole now: phones that wait for it ask again."""
    with parts().database.reading() as session:
        places = reaches(session, day_id)
    parts().bell.ring(day_id, places)
