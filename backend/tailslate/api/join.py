"""POST /api/join: a code makes a device and a person. Guessing is slowed down per address, joining is not."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, request
from marshmallow import Schema, ValidationError, fields, validate, validates_schema
from sqlalchemy.orm import Session

from tailslate.api.at_hand import parts
from tailslate.api.errors import Refused
from tailslate.api.kind_schemas import kind_schema
from tailslate.api.operation import name_text, operation, plain_text
from tailslate.store import crew
from tailslate.store.crew import Invited
from tailslate.store.edits import lock_day
from tailslate.store.intake import NoSuchDay, Person, holds_health, people

blueprint = Blueprint("join", __name__)

PERSON_FIELDS = ("name", "role", "departments")
DEVICE_NAME_LETTERS = 60
_CODE_WORDS = {
    "code_unknown": "this code is not known; check it letter by letter, or ask for a new one",
    "code_expired": "this code is too old; ask for a new one",
    "code_used_up": "this code has been used as often as it may; ask for a new one",
}


class JoinRequest(kind_schema("person", only=PERSON_FIELDS)):  # type: ignore[misc]  # made from the table of kinds
    """Who joins, with which code, on which device. The fields of a person are those of the table of kinds."""

    code = fields.String(required=True, metadata={"description": "as read out, with or without the dash"})
    device_name = fields.String(required=True, validate=[validate.Length(1, DEVICE_NAME_LETTERS), plain_text])
    person = fields.String(
        validate=name_text, metadata={"description": "id from an earlier joining, to stay the same"}
    )

    @validates_schema
    def name_is_given(self, data: dict[str, Any], **_more: Any) -> None:
        """Refuse a person without a name."""
        if not (data.get("name") or "").strip():
            raise ValidationError("must be given: the others see it beside answers", "name")


class Joined(Schema):
    """What the phone keeps. The token is given out once."""

    day = fields.String(required=True)
    day_title = fields.String(required=True)
    device = fields.String(required=True)
    token = fields.String(required=True)
    person = fields.String(required=True)
    sets = fields.List(fields.String(), required=True)
    epoch = fields.String(required=True)


@blueprint.post("/api/join")
@operation(
    "Join a day with a code",
    takes=JoinRequest,
    gives=Joined,
    status=201,
    refuses=(400, 403, 413, 415, 429, 503),
    needs_device=False,
)
def join(body: dict[str, Any]) -> dict[str, Any]:
    """Take one use of the code, write the person, hand out the credential."""
    app, now_ms = parts(), parts().now_ms()
    address = request.remote_addr or ""
    wait_ms = app.failed_joins.wait_ms(address, now_ms)
    if wait_ms:
        wait_s = -(-wait_ms // 1000)
        sentence = f"too many wrong codes from here; wait {wait_s} s and try again"
        raise Refused(429, "too_many_tries", sentence, retry_after_s=wait_s)
    code = crew.plain_code(body["code"])
    hashed = crew.code_hash(code, app.office.secret)  # slow on purpose, so before the lock
    try:
        with app.database.writing() as session:
            return _admit(session, body, crew.use_invitation(session, hashed=hashed, now_ms=now_ms), now_ms)
    except crew.InvitationRefused as error:
        app.failed_joins.failed(address, now_ms)
        raise Refused(403, error.code, _CODE_WORDS[error.code]) from error


def _admit(session: Session, body: dict[str, Any], invited: Invited, now_ms: int) -> dict[str, Any]:
    day = lock_day(session, invited.day_id)
    if day is None:
        raise NoSuchDay(invited.day_id)
    departments = body.get("departments") or invited.departments
    uninvited = sorted(set(departments) - set(invited.departments))
    if uninvited:
        sentence = f"this code is for {', '.join(invited.departments)}, not for {', '.join(uninvited)}; ask for another"
        raise Refused(403, "department_not_invited", sentence)
    on_day = people(session, day.id)
    person = body.get("person") or _expected(session, day.id, body, invited, on_day) or crew.random_name()
    known = on_day.get(person)
    if known:
        _refuse_to_become(known, invited)
    changes = {"name": body["name"].strip(), "role": body.get("role") or "", "departments": departments}
    if known is None:
        changes["head"] = "yes" if invited.is_head else "no"
    parts().office.add_person(session, day_id=day.id, person=person, changes=changes, now_ms=now_ms)
    may_hold_health = holds_health(departments)
    device, token = crew.add_device(
        session,
        day_id=day.id,
        person=person,
        name=body["device_name"],
        may_hold_health=may_hold_health,
        now_ms=now_ms,
    )
    return {
        "day": day.id,
        "day_title": day.title,
        "device": device,
        "token": token,
        "person": person,
        "sets": ["floor", "health"] if may_hold_health else ["floor"],
        "epoch": crew.server_row(session).epoch,
    }


def _expected(
    session: Session, day_id: str, body: dict[str, Any], invited: Invited, on_day: dict[str, Person]
) -> str:
    """Return the person of the crew list who joins now: of that name, without a device, nothing beyond the code; or ""."""
    name = body["name"].strip().casefold()
    joined = {row.person for row in crew.devices(session, day_id)}
    found = [
        person
        for person, one in on_day.items()
        if one.name.strip().casefold() == name
        and person not in joined
        and set(one.departments) <= set(invited.departments)
        and (invited.is_head or not one.is_head)
    ]
    return found[0] if len(found) == 1 else ""


def _refuse_to_become(known: Person, invited: Invited) -> None:
    """Let a code give nobody the rights of a person that it was not made for."""
    beyond = sorted(set(known.departments) - set(invited.departments))
    if beyond or (known.is_head and not invited.is_head):
        what = ", ".join(beyond) or "the head of a department"
        sentence = f"that person is on the day as {what}; ask for a code for that, or join as someone new"
        raise Refused(403, "person_of_others", sentence)
