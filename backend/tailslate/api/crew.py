"""Who is on a day and who may join: invitations, devices, and production's word on parked edits."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, request
from marshmallow import Schema, fields, validate

from tailslate.api.at_hand import parts
from tailslate.api.credentials import production_device
from tailslate.api.errors import Refused
from tailslate.api.operation import name_text, operation, plain_text
from tailslate.day.kinds import DEPARTMENT_NAMES
from tailslate.store import crew as kept
from tailslate.store import photographs
from tailslate.store.edits import reaches
from tailslate.store.tables import Device, Invitation

blueprint = Blueprint("crew", __name__)

REFUSES = (400, 401, 403, 404, 413, 415, 503)
HOUR_MS = 3_600_000


class InvitationRequest(Schema):
    """Whom to invite."""

    departments = fields.List(
        fields.String(validate=validate.OneOf(DEPARTMENT_NAMES)), required=True, validate=validate.Length(1)
    )
    head = fields.Boolean(
        load_default=False, metadata={"description": "heads a department: may clear safety holds"}
    )
    uses = fields.Integer(load_default=10, validate=validate.Range(1, 200))
    hours = fields.Integer(load_default=24, validate=validate.Range(1, 168))


class InvitationReply(Schema):
    """An invitation, without its code."""

    id = fields.String(required=True)
    departments = fields.List(fields.String(), required=True)
    head = fields.Boolean(required=True)
    uses_left = fields.Integer(required=True)
    expires_ms = fields.Integer(required=True)
    made_by = fields.String(required=True)
    made_ms = fields.Integer(required=True)


class NewInvitation(InvitationReply):
    """An invitation with its code, which is shown once."""

    code = fields.String(required=True)
    link = fields.String(required=True)


class Invitations(Schema):
    """All invitations of a day."""

    invitations = fields.List(fields.Nested(InvitationReply), required=True)


class DeviceReply(Schema):
    """A device on the day."""

    id = fields.String(required=True)
    name = fields.String(required=True)
    person = fields.String(required=True)
    sets = fields.List(fields.String(), required=True)
    joined_ms = fields.Integer(required=True)
    heard_ms = fields.Integer(required=True)
    revoked_ms = fields.Integer(required=True, allow_none=True)


class Devices(Schema):
    """All devices of a day."""

    devices = fields.List(fields.Nested(DeviceReply), required=True)


class VerdictRequest(Schema):
    """Production's word on an edit that was parked or is out."""

    edit = fields.String(required=True, validate=name_text)
    says = fields.String(required=True, validate=validate.OneOf(("counts", "out")))
    sentence = fields.String(load_default="", validate=[validate.Length(max=200), plain_text])


class VerdictReply(Schema):
    """What stands on the edit now."""

    edit = fields.String(required=True)
    says = fields.String(required=True)


@blueprint.post("/api/days/<name:day_id>/invitations")
@operation("Make an invitation", takes=InvitationRequest, gives=NewInvitation, status=201, refuses=REFUSES)
def invite(day_id: str, body: dict[str, Any]) -> dict[str, Any]:
    """Make a join code for some departments."""
    asking, now_ms = production_device(day_id), parts().now_ms()
    with parts().database.writing() as session:
        row, code = kept.invite(
            session,
            day_id=day_id,
            departments=body["departments"],
            is_head=body["head"],
            uses=body["uses"],
            expires_ms=now_ms + body["hours"] * HOUR_MS,
            made_by=asking.person,
            now_ms=now_ms,
        )
        return {**_invitation(row), "code": code, "link": join_link(request.host_url, code)}


@blueprint.get("/api/days/<name:day_id>/invitations")
@operation("List invitations", gives=Invitations, refuses=(401, 403, 503))
def list_invitations(day_id: str) -> dict[str, Any]:
    """List the invitations of the day, newest first."""
    production_device(day_id)
    with parts().database.reading() as session:
        return {"invitations": [_invitation(row) for row in kept.invitations(session, day_id)]}


@blueprint.post("/api/days/<name:day_id>/invitations/<name:invitation_id>/withdraw")
@operation("Withdraw an invitation", gives=InvitationReply, refuses=(401, 403, 404, 503))
def withdraw(day_id: str, invitation_id: str) -> dict[str, Any]:
    """Let a code make no more devices."""
    production_device(day_id)
    with parts().database.writing() as session:
        row = session.get(Invitation, invitation_id)
        if row is None or row.day_id != day_id:
            raise Refused(
                404, "no_such_invitation", "this day has no such invitation; it may have been made elsewhere"
            )
        row.uses_left = 0
        return _invitation(row)


@blueprint.get("/api/days/<name:day_id>/devices")
@operation("List devices", gives=Devices, refuses=(401, 403, 503))
def list_devices(day_id: str) -> dict[str, Any]:
    """List the devices of the day in the order in which they joined."""
    production_device(day_id)
    with parts().database.reading() as session:
        return {"devices": [_device(row) for row in kept.devices(session, day_id)]}


@blueprint.post("/api/days/<name:day_id>/devices/<name:device_id>/revoke")
@operation("Take a device off the day", gives=DeviceReply, refuses=(401, 403, 404, 503))
def revoke(day_id: str, device_id: str) -> dict[str, Any]:
    """End a device's credential and its streams; what arrives of it from now on is parked."""
    production_device(day_id)
    with parts().database.writing() as session:
        row = session.get(Device, device_id)
        if row is None or row.day_id != day_id:
            raise Refused(404, "no_such_device", "this day has no such device; look at the list again")
        kept.revoke(row, parts().now_ms())
        found = _device(row)
    parts().bell.close_device(day_id, device_id)
    return found


@blueprint.post("/api/days/<name:day_id>/verdicts")
@operation(
    "Let an edit count, or leave it out",
    takes=VerdictRequest,
    gives=VerdictReply,
    status=201,
    refuses=REFUSES,
)
def decide(day_id: str, body: dict[str, Any]) -> dict[str, Any]:
    """Write a verdict that replaces those that stand on the edit."""
    production_device(day_id)
    with parts().database.writing() as session:
        parts().office.decide(
            session,
            day_id=day_id,
            edit_id=body["edit"],
            says=body["says"],
            sentence=body["sentence"] or "decided by production",
            now_ms=parts().now_ms(),
        )
        if body["says"] == "counts":
            photographs.release(session, day_id=day_id, edit_id=body["edit"])
        places = reaches(session, day_id)
    parts().bell.ring(day_id, places)
    return {"edit": body["edit"], "says": body["says"]}


def join_link(origin: str, code: str) -> str:
    """Return the link that opens the app with a code; what follows # never reaches a server or its log."""
    return f"{origin.rstrip('/')}/join#{code}"


def _invitation(row: Invitation) -> dict[str, Any]:
    return {
        "id": row.id,
        "departments": row.departments.split(),
        "head": row.is_head,
        "uses_left": row.uses_left,
        "expires_ms": row.expires_ms,
        "made_by": row.made_by,
        "made_ms": row.made_ms,
    }


def _device(row: Device) -> dict[str, Any]:
    return {
        "id": row.id,
        "name": row.name,
        "person": row.person,
        "sets": ["floor", "health"] if row.may_hold_health else ["floor"],
        "joined_ms": row.joined_ms,
        "heard_ms": row.heard_ms,
        "revoked_ms": row.revoked_ms,
    }
