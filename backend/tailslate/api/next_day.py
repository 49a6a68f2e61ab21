"""POST /api/days/<day>/next: whoever heads production makes the next day, like this one or empty, and hands out its codes.

The day's id follows from who asks and from the name of the wish, so a request sent again makes no second day.
"""

from __future__ import annotations

import hashlib
import hmac
from functools import partial
from typing import Any

from flask import Blueprint, request
from marshmallow import Schema, fields, validate
from sqlalchemy.orm import Session

from tailslate import next_day
from tailslate.api.at_hand import parts
from tailslate.api.credentials import Credential, production_head
from tailslate.api.crew import HOUR_MS, join_link
from tailslate.api.errors import Refused
from tailslate.api.kind_schemas import kind_schema
from tailslate.api.operation import name_text, operation
from tailslate.day import edit
from tailslate.day.kinds import DEPARTMENT_NAMES
from tailslate.pack.whole_day import records_of
from tailslate.store import crew
from tailslate.store.day_file import write_day
from tailslate.store.edits import lock_day
from tailslate.store.seal import make_sealed

blueprint = Blueprint("next_day", __name__)

ID_LETTERS = 16
HOURS = 168  # a week: days are made ahead
USES = 200
NOT_PRODUCTION = tuple(name for name in DEPARTMENT_NAMES if name != "production")


class NextDayRequest(kind_schema("day", only=("title",))):  # type: ignore[misc]  # made from the table of kinds
    """The day that is wanted."""

    like = fields.Boolean(
        load_default=True,
        metadata={
            "description": "takes structure and crew of this day; no ticks, readings, takes, holds, times"
        },
    )
    wish = fields.String(
        required=True,
        validate=[name_text, validate.Length(8, 40)],
        metadata={"description": "random, made once for this day: asked again with it, the same day answers"},
    )


class Code(Schema):
    """A join code, shown once."""

    code = fields.String(required=True)
    link = fields.String(required=True)


class NextDayReply(Schema):
    """The day and who may join it with what."""

    day = fields.String(required=True)
    day_title = fields.String(required=True)
    own = fields.Nested(Code, required=True, metadata={"description": "for who asked, once"})
    heads = fields.Nested(Code, required=True, metadata={"description": "for heads of the other departments"})
    crew = fields.Nested(
        Code, required=True, metadata={"description": "for the crew of the other departments"}
    )


@blueprint.post("/api/days/<name:day_id>/next")
@operation(
    "Make the next day",
    takes=NextDayRequest,
    gives=NextDayReply,
    status=201,
    refuses=(400, 401, 403, 413, 415, 503),
)
def make_next_day(day_id: str, body: dict[str, Any]) -> dict[str, Any]:
    """Make a day, all of it or nothing, and the codes to join it; asked again, only the codes are new."""
    asking, departments = production_head(day_id)
    title = (body.get("title") or "").strip()
    if not title:
        raise Refused(
            400, "bad_field", "title: must be given; say which day it is", fields={"title": "must be given"}
        )
    new_id = _id_of(asking, body["wish"])
    records = _records(day_id) if body["like"] else {}
    app, now_ms = parts(), parts().now_ms()
    with app.database.writing() as session:
        lock_day(session, day_id)  # the same wish, asked twice at once, is one day
        made = lock_day(session, new_id)
        if made:
            title = made.title
        else:
            app.office.open_day(session, title=title, now_ms=now_ms, day_id=new_id)
            edits = next_day.edits_of(
                records,
                day_id=new_id,
                incarnation=crew.random_name(),
                now_ms=now_ms,
                seal=partial(make_sealed, app.office.secret),
            )
            app.office.take_written(session, edits, day_id=new_id, now_ms=now_ms)
        invited = {
            "own": (departments, True, 1),
            "heads": (NOT_PRODUCTION, True, len(NOT_PRODUCTION)),
            "crew": (NOT_PRODUCTION, False, USES),
        }
        codes = {
            name: _code(session, new_id, names, is_head, uses, asking, now_ms)
            for name, (names, is_head, uses) in invited.items()
        }
    return {"day": new_id, "day_title": title, **codes}


def _id_of(asking: Credential, wish: str) -> str:
    """Return an id that nobody else's wish can name: it would give codes for a day that is not theirs."""
    said = f"{asking.day_id}\n{asking.device_id}\n{wish}".encode()
    return hmac.new(parts().office.secret, said, hashlib.sha256).hexdigest()[:ID_LETTERS]


def _records(day_id: str) -> dict[str, Any]:
    held = write_day(parts().database, day_id, with_health=False)
    return records_of([edit.read(text, day=day_id) for text in held["sets"]["floor"]])


def _code(
    session: Session,
    day_id: str,
    departments: Any,
    is_head: bool,
    uses: int,
    asking: Credential,
    now_ms: int,
) -> dict[str, str]:
    _row, code = crew.invite(
        session,
        day_id=day_id,
        departments=departments,
        is_head=is_head,
        uses=uses,
        expires_ms=now_ms + HOURS * HOUR_MS,
        made_by=asking.person,
        now_ms=now_ms,
    )
    return {"code": code, "link": join_link(request.host_url, code)}
