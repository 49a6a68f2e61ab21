"""Who asks: the device whose token the request carries. Looked up in a short session of its own, or in one that is open.

Bearer header only: no cookie, so no other site can make a browser act for a phone.
"""

from __future__ import annotations

from dataclasses import dataclass

from flask import request
from sqlalchemy.orm import Session

from tailslate.api.at_hand import parts
from tailslate.api.errors import Refused
from tailslate.store import crew
from tailslate.store.intake import Carrier, people


@dataclass(frozen=True)
class Credential:
    """A device of one day, as it was when the request came in."""

    device_id: str
    day_id: str
    person: str
    may_hold_health: bool
    is_revoked: bool
    heard_ms: int

    @property
    def sets(self) -> list[str]:
        """The sets that the device may hold."""
        return ["floor", "health"] if self.may_hold_health else ["floor"]

    @property
    def carrier(self) -> Carrier:
        """The device as the one that brings edits."""
        return Carrier(self.device_id, self.person, self.is_revoked)


def device(day_id: str, *, allow_revoked: bool = False) -> Credential:
    """Return the device that asks about this day.

    Raises: Refused 401 when the token is missing or unknown, 403 when it is of another day or revoked.
    """
    with parts().database.reading() as session:
        return device_in(session, day_id, allow_revoked=allow_revoked)


def device_in(session: Session, day_id: str, *, allow_revoked: bool = False) -> Credential:
    """Return the device that asks, as `device` does, for a view that has a session open anyway."""
    scheme, _space, token = request.headers.get("Authorization", "").partition(" ")
    if scheme.lower() != "bearer" or not token:
        raise Refused(401, "not_known", "this device sent no credential; join the day with a code")
    row = crew.device_of_token(session, token.strip())
    if row is None:
        raise Refused(401, "not_known", "this device is not known here; join again with a new code")
    found = Credential(
        row.id, row.day_id, row.person, row.may_hold_health, row.revoked_ms is not None, row.heard_ms
    )
    if found.day_id != day_id:
        raise Refused(403, "other_day", "this device joined another day; join this one with a code")
    if found.is_revoked and not allow_revoked:
        raise revoked()
    return found


def production_device(day_id: str) -> Credential:
    """Return the device that asks, if its person is of the production department.

    Raises: Refused, as `device` does, and 403 for other departments.
    """
    asking = device(day_id)
    with parts().database.reading() as session:
        person = people(session, day_id).get(asking.person)
    if person is None or "production" not in person.departments:
        raise Refused(403, "production_only", "only the production department may do this; ask them")
    return asking


def production_head(day_id: str) -> tuple[Credential, list[str]]:
    """Return the device that asks and its person's departments, if that person heads production.

    Raises: Refused, as `production_device` does, and 403 for who does not head it.
    """
    asking = production_device(day_id)
    with parts().database.reading() as session:
        person = people(session, day_id)[asking.person]
    if not person.is_head:
        raise Refused(403, "head_of_production_only", "only whoever heads production may do this; ask them")
    return asking, person.departments


def revoked() -> Refused:
    """Return the refusal of a device that was taken off the day."""
    return Refused(
        403,
        "device_revoked",
        "this phone was taken off the day: it keeps what it has; what it sends waits for production to look at it",
    )
