"""POST /api/days/<day>/exchange: edits in, edits out. What a request may be and means, day/exchange.py says.

A1 an answer per edit, and only after its commit. A2 a page is in commit order and bounded. A3 a set that the
device may not hold is never read for it. A4 what a revoked device brings is kept, parked, and it reads nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from flask import Blueprint, current_app
from marshmallow import Schema, fields
from sqlalchemy.orm import Session

from tailslate.api.at_hand import parts
from tailslate.api.credentials import Credential, device_in, revoked
from tailslate.api.edit_lines import lines_of
from tailslate.api.errors import FULL_S, LIMITS, Refused
from tailslate.api.operation import is_name, operation, read_json
from tailslate.day import exchange as rules
from tailslate.day import kinds
from tailslate.store import crew
from tailslate.store import edits as log
from tailslate.store.edits import reaches
from tailslate.store.intake import Carrier

blueprint = Blueprint("exchange", __name__)

HEARD_STEP_MS = 60_000  # a device's "last heard" is kept to the minute

Group = tuple[str, int, list[str]]


class SetRequest(Schema):
    """One set of a request."""

    place = fields.Integer(required=True, metadata={"description": "order number read up to, 0 at first"})
    edits = fields.List(
        fields.String(), required=True, metadata={"description": "canonical texts, as first made"}
    )
    details = fields.Boolean(metadata={"description": "ask for marks of each incarnation"})
    compare = fields.Dict(
        keys=fields.String(),
        values=fields.List(fields.String()),
        metadata={"description": "incarnation to all ids held of it"},
    )


class ExchangeRequest(Schema):
    """What a phone asks. Checked by the rules, so that phone and server agree on it."""

    protocol = fields.Constant(rules.PROTOCOL, required=True)
    nonce = fields.String(required=True, metadata={"description": "random, at most 64 characters; echoed"})
    rules = fields.Integer(required=True, metadata={"description": "version of the phone's rules"})
    epoch = fields.String(required=True, allow_none=True)
    sets = fields.Dict(keys=fields.String(), values=fields.Nested(SetRequest), required=True)
    heard_of = fields.List(fields.String(), metadata={"description": "ids of edits of open holds"})
    lines = fields.Boolean(metadata={"description": "ask for edits as lines, which are shorter"})


class GroupSchema(Schema):
    """Edits that one device brought at one time: texts, or lines when the request asked for them."""

    carrier = fields.String(required=True, metadata={"description": "name of the device, '' for a server"})
    received_ms = fields.Integer(required=True)
    edits = fields.List(fields.String(), metadata={"description": "canonical texts"})
    lines = fields.List(fields.String(), metadata={"description": "the texts without what they repeat"})


class SetReply(Schema):
    """One set of a reply; `not_allowed` alone when the device may not hold it."""

    not_allowed = fields.Boolean()
    answers = fields.List(
        fields.List(fields.String()),
        metadata={"description": "stored, known or refused; id; code; sentence; in the order sent"},
    )
    groups = fields.List(fields.Nested(GroupSchema))
    from_ = fields.Integer(data_key="from", metadata={"description": "place that the groups start after"})
    place = fields.Integer(metadata={"description": "place after these groups"})
    reach = fields.Integer(metadata={"description": "place to reach"})
    mark = fields.List(fields.Raw(), metadata={"description": "count and XOR of digests in hex"})
    details = fields.Dict(keys=fields.String(), values=fields.List(fields.Raw()))
    want = fields.List(fields.String(), metadata={"description": "ids that the server lacks"})
    missing = fields.List(fields.Nested(GroupSchema))


class Limits(Schema):
    """What one request may hold."""

    body_bytes = fields.Integer(required=True)
    edits = fields.Integer(required=True)


class ExchangeReply(Schema):
    """What a phone is told."""

    protocol = fields.Constant(rules.PROTOCOL, required=True)
    nonce = fields.String(required=True)
    rules = fields.Integer(required=True)
    epoch = fields.String(required=True)
    now_ms = fields.Integer(required=True)
    limits = fields.Nested(Limits, required=True)
    sets = fields.Dict(keys=fields.String(), values=fields.Nested(SetReply), required=True)
    heard = fields.Dict(
        keys=fields.String(),
        values=fields.Integer(),
        required=True,
        metadata={"description": "id of a hold to how many other devices have read past it"},
    )


@blueprint.post("/api/days/<name:day_id>/exchange")
@operation(
    "Exchange edits",
    takes=ExchangeRequest,
    gives=ExchangeReply,
    refuses=(400, 401, 403, 413, 415, 503, 507),
    loads=False,
)
def exchange(day_id: str) -> dict[str, Any]:
    """Take in what the phone brings, then give it what it has not read."""
    with parts().database.reading() as session:
        asking = device_in(session, day_id, allow_revoked=True)
        epoch = crew.server_row(session).epoch
        places = {} if asking.is_revoked else crew.read_places(session, asking.device_id)
        reach = reaches(session, asking.day_id)
    body = rules.read_request(read_json(), sets_allowed=asking.sets)
    epoch_fits = body["epoch"] in (None, epoch)
    answers = _take_in(asking, body, places if epoch_fits else None, reach)
    with parts().database.reading() as session:
        states = log.states(session, asking.day_id)
        return {
            "protocol": rules.PROTOCOL,
            "nonce": body["nonce"],
            "rules": kinds.RULES,
            "epoch": epoch,
            "now_ms": parts().now_ms(),
            "limits": LIMITS,
            "sets": {
                name: _in_lines(
                    _set_reply(session, asking, name, asked, states[name], answers.get(name, []), epoch_fits),
                    day_id,
                    name,
                    body,
                )
                if name in asking.sets
                else {"not_allowed": True}
                for name, asked in body["sets"].items()
            },
            "heard": _heard(session, asking, body.get("heard_of") or []),
        }


def _take_in(
    asking: Credential, body: dict[str, Any], places: dict[str, int] | None, reach: dict[str, int]
) -> dict[str, list[list[str]]]:
    """Store what came and how far the phone has read; nothing is written when there is nothing new.

    Args:
        asking: the device.
        body: the request.
        places: how far the device had read when it was last heard; None when its places are of another epoch.
        reach: the last place of each set, as it was before this request.
    """
    app, now_ms = parts(), parts().now_ms()
    brought = {name: one["edits"] for name, one in body["sets"].items() if name in asking.sets}
    has_edits = any(brought.values())
    read = {} if places is None else {name: body["sets"][name]["place"] for name in brought}
    # Whoever is more than a page behind asks again at once: one write, once it has nearly caught up, will do.
    read = {name: place for name, place in read.items() if reach[name] - place <= log.PAGE_EDITS}
    has_read_on = any((places or {}).get(name) != place for name, place in read.items())
    if not has_edits and not has_read_on and now_ms - asking.heard_ms < HEARD_STEP_MS:
        if asking.is_revoked:
            raise revoked()
        return {name: [] for name in brought}
    if has_edits:
        refuse_a_full_disk()
    arrivals = app.office.read(brought, day_id=asking.day_id)
    told_of_hold = False
    with app.database.writing() as session:
        if has_edits:
            # the day before its devices, everywhere, so that none waits in a ring
            log.lock_day(session, asking.day_id)
        is_revoked = crew.note_heard(session, asking.device_id, now_ms)  # asked again under the lock
        answers: dict[str, list[list[str]]] = {name: [] for name in brought}
        if has_edits:
            carrier = Carrier(asking.device_id, asking.person, is_revoked)
            answers = app.office.take(session, arrivals, day_id=asking.day_id, carrier=carrier, now_ms=now_ms)
        reach = reaches(session, asking.day_id)
        if has_read_on and not is_revoked:
            within = {name: min(place, reach[name]) for name, place in read.items()}
            crew.note_places(session, device_id=asking.device_id, places=within)
            told_of_hold = log.has_between(
                session, asking.day_id, kind="hold", after=places or {}, up_to=within
            )
    if has_edits or told_of_hold:  # whoever raised a hold learns at once that someone has read it
        app.bell.ring(asking.day_id, reach)
    if is_revoked:
        raise revoked()
    return answers


def refuse_a_full_disk() -> None:
    """Take nothing in while the disk of the database is almost full.

    Raises: Refused 507.
    """
    file = parts().database.file
    free_bytes = current_app.config["FREE_BYTES"](file.parent) if file else None
    if free_bytes is not None and free_bytes < current_app.config["FREE_BYTES_NEEDED"]:
        sentence = "the server's disk is almost full; everything stays on the phones until there is room"
        raise Refused(507, "disk_full", sentence, free_bytes=free_bytes, retry_after_s=FULL_S)


def _set_reply(
    session: Session,
    asking: Credential,
    name: str,
    asked: dict[str, Any],
    state: log.SetState,
    answers: list[list[str]],
    epoch_fits: bool,
) -> dict[str, Any]:
    gives_details = bool(asked.get("details")) or not epoch_fits
    reply: dict[str, Any] = {
        "answers": answers,
        "from": asked["place"] if epoch_fits else 0,
        "mark": state.mark.row(),
        "reach": state.reach,
    }
    if gives_details:  # both sides compare now; pages go on when they agree
        reply |= {"groups": [], "place": reply["from"]}
        reply["details"] = log.details(session, asking.day_id, name)
    else:
        page = log.page_after(
            session, day_id=asking.day_id, set_name=name, place=asked["place"], reach=state.reach
        )
        reply |= {"groups": _named(session, page.groups), "place": page.place}
    if asked.get("compare"):
        reply |= _compared(session, asking.day_id, name, asked["compare"])
    return reply


def _compared(session: Session, day_id: str, set_name: str, compare: dict[str, list[str]]) -> dict[str, Any]:
    """Return what the server lacks of these incarnations, and a page of what the phone lacks."""
    named = {incarnation: ids for incarnation, ids in compare.items() if is_name(incarnation)}
    held = log.ids_of_incarnations(session, day_id=day_id, set_name=set_name, incarnations=list(named))
    want, lacking = [], []
    for incarnation, ids in named.items():
        want += sorted(one for one in set(ids) - set(held[incarnation]) if is_name(one))
        lacking += sorted(set(held[incarnation]) - set(ids))
    page = log.page_of(session, day_id=day_id, set_name=set_name, edit_ids=lacking[: log.PAGE_EDITS])
    return {"want": want[: log.PAGE_EDITS], "missing": _named(session, page)}


def _in_lines(reply: dict[str, Any], day_id: str, name: str, body: dict[str, Any]) -> dict[str, Any]:
    """Return a set's reply with its edits as lines, when the request asked for that."""
    if body.get("lines") is True:
        for group in [*reply.get("groups", []), *reply.get("missing", [])]:
            group["lines"] = lines_of(group.pop("edits"), day=day_id, set_name=name)
    return reply


def _named(session: Session, groups: Sequence[Group]) -> list[dict[str, Any]]:
    names = crew.device_names(session, {carrier for carrier, _received_ms, _texts in groups})
    return [
        {"carrier": names.get(carrier, ""), "received_ms": received_ms, "edits": texts}
        for carrier, received_ms, texts in groups
    ]


def _heard(session: Session, asking: Credential, edit_ids: list[str]) -> dict[str, int]:
    """Return of each edit how many other devices have read past it."""
    if not edit_ids:
        return {}
    found = log.places(session, asking.day_id, [one for one in edit_ids if is_name(one)])
    others = [one for one in crew.readers(session, asking.day_id) if one[0] != asking.device_id]
    return {
        edit_id: sum(name == set_name and place >= order_number for _device, name, place in others)
        for edit_id, (set_name, order_number) in found.items()
        if set_name in asking.sets
    }
