"""Who may exchange: devices with their credentials, and the join codes that make new ones.

Only hashes of tokens and codes are kept. A code is short enough to be read out, so its hash is slow and
salted; a token is long and random, so a plain SHA-256 is enough.
"""

from __future__ import annotations

import hashlib
import secrets
from collections.abc import Iterable
from dataclasses import dataclass

from sqlalchemy import bindparam, select, update
from sqlalchemy.orm import Session

from tailslate.store.tables import Device, Incarnation, Invitation, ReadPlace, Server, Table

DEVICES, READ_PLACES, INCARNATIONS = (
    Table.metadata.tables[name] for name in ("devices", "read_places", "incarnations")
)
CODE_LETTERS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"  # 32 signs that are not mistaken for one another
CODE_LENGTH = 8  # 40 bits
NAME_LETTERS = "abcdefghijklmnopqrstuvwxyz0123456789"


class InvitationRefused(Exception):
    """A join code that is not good: unknown, expired or used_up."""

    def __init__(self, code: str) -> None:
        super().__init__(code)
        self.code = code


@dataclass(frozen=True)
class Invited:
    """What a code was made for."""

    day_id: str
    departments: list[str]
    is_head: bool


def random_name(length: int = 10) -> str:
    """Return a random name of small letters and digits, as incarnations and devices have."""
    return "".join(secrets.choice(NAME_LETTERS) for _ in range(length))


def server_row(session: Session) -> Server:
    """Return this database's own facts; made the first time."""
    row = session.get(Server, 1)
    if row is None:
        row = Server(id=1, epoch=random_name(), secret=secrets.token_bytes(32))
        session.add(row)
        session.flush()
    return row


def new_code() -> str:
    """Return a fresh join code, as shown: XXXX-XXXX."""
    letters = "".join(secrets.choice(CODE_LETTERS) for _ in range(CODE_LENGTH))
    return letters[:4] + "-" + letters[4:]


def plain_code(typed: str) -> str:
    """Return a code as typed in its one form, or '' when it cannot be one."""
    letters = "".join(letter for letter in typed.upper() if letter not in "- \t")
    return letters if len(letters) == CODE_LENGTH and set(letters) <= set(CODE_LETTERS) else ""


def code_hash(code: str, salt: bytes) -> bytes:
    """Return the slow hash of a plain code."""
    return hashlib.scrypt(code.encode(), salt=salt, n=2**12, r=8, p=1, dklen=32)


def token_hash(token: str) -> bytes:
    """Return the hash of a device's token."""
    return hashlib.sha256(token.encode("utf-8", "surrogatepass")).digest()


def invite(
    session: Session,
    *,
    day_id: str,
    departments: Iterable[str],
    is_head: bool,
    uses: int,
    expires_ms: int,
    made_by: str,
    now_ms: int,
) -> tuple[Invitation, str]:
    """Make an invitation; return it and its code, which is shown once and not kept."""
    code = new_code()
    row = Invitation(
        id=random_name(),
        day_id=day_id,
        code_hash=code_hash(plain_code(code), server_row(session).secret),
        departments=" ".join(departments),
        is_head=is_head,
        uses_left=uses,
        expires_ms=expires_ms,
        made_by=made_by,
        made_ms=now_ms,
    )
    session.add(row)
    return row, code


def use_invitation(session: Session, *, hashed: bytes, now_ms: int) -> Invited:
    """Take one use of a code. Must run in a writing session.

    Raises: InvitationRefused.
    """
    row = session.execute(
        select(Invitation).where(Invitation.code_hash == hashed).with_for_update()
    ).scalar_one_or_none()
    if row is None:
        raise InvitationRefused("code_unknown")
    if now_ms >= row.expires_ms:
        raise InvitationRefused("code_expired")
    if row.uses_left < 1:
        raise InvitationRefused("code_used_up")
    row.uses_left -= 1
    return Invited(row.day_id, row.departments.split(), row.is_head)


def invitations(session: Session, day_id: str) -> list[Invitation]:
    """Return the invitations of a day, newest first."""
    return list(
        session.scalars(
            select(Invitation)
            .where(Invitation.day_id == day_id)
            .order_by(Invitation.made_ms.desc(), Invitation.id)
        )
    )


def add_device(
    session: Session, *, day_id: str, person: str, name: str, may_hold_health: bool, now_ms: int
) -> tuple[str, str]:
    """Make a device; return its id and its token, which is given out once and not kept."""
    device_id, token = random_name(), secrets.token_urlsafe(32)
    session.add(
        Device(
            id=device_id,
            day_id=day_id,
            person=person,
            name=name,
            token_hash=token_hash(token),
            may_hold_health=may_hold_health,
            joined_ms=now_ms,
            heard_ms=now_ms,
            revoked_ms=None,
        )
    )
    session.flush()
    return device_id, token


_OF_TOKEN = select(Device).where(Device.token_hash == bindparam("token_hash"))


def device_of_token(session: Session, token: str) -> Device | None:
    """Return the device that holds this token, revoked or not."""
    return session.scalars(_OF_TOKEN, {"token_hash": token_hash(token)}).one_or_none()


def devices(session: Session, day_id: str) -> list[Device]:
    """Return all devices of a day in the order in which they joined."""
    return list(
        session.scalars(select(Device).where(Device.day_id == day_id).order_by(Device.joined_ms, Device.id))
    )


_REVOKED = select(DEVICES.c.id, DEVICES.c.person).where(
    DEVICES.c.day_id == bindparam("day_id"), DEVICES.c.revoked_ms.is_not(None)
)


def revoked_devices(session: Session, day_id: str) -> dict[str, str]:
    """Return device: person, of those taken off the day."""
    return dict(session.execute(_REVOKED, {"day_id": day_id}).all())


_NAMES = select(DEVICES.c.id, DEVICES.c.name).where(DEVICES.c.id.in_(bindparam("ids", expanding=True)))


def device_names(session: Session, device_ids: Iterable[str]) -> dict[str, str]:
    """Return id: name."""
    ids = list(device_ids)
    return dict(session.execute(_NAMES, {"ids": ids}).all()) if ids else {}


def revoke(device: Device, now_ms: int) -> None:
    """Take a device off the day. What is first received of it from now on is parked."""
    if device.revoked_ms is None:
        device.revoked_ms = now_ms


_HEARD = (
    update(DEVICES)
    .where(DEVICES.c.id == bindparam("device_id"))
    .values(heard_ms=bindparam("now_ms"))
    .returning(DEVICES.c.revoked_ms)
)


def note_heard(session: Session, device_id: str, now_ms: int) -> bool:
    """Remember that a device was heard; return whether it is revoked."""
    asked = {"device_id": device_id, "now_ms": now_ms}
    return session.execute(_HEARD, asked).scalar_one() is not None


_PLACE = (
    update(READ_PLACES)
    .where(READ_PLACES.c.device_id == bindparam("device"), READ_PLACES.c.set_name == bindparam("of_set"))
    .values(place=bindparam("now"))
    .returning(READ_PLACES.c.place)
)


def note_places(session: Session, *, device_id: str, places: dict[str, int]) -> None:
    """Remember how far a device says it has read, also when that is less than before (it lost its storage)."""
    for set_name, place in places.items():
        asked = {"device": device_id, "of_set": set_name, "now": place}
        if session.scalar(_PLACE, asked) is None:
            session.add(ReadPlace(device_id=device_id, set_name=set_name, place=place))


_READ_PLACES = select(READ_PLACES.c.set_name, READ_PLACES.c.place).where(
    READ_PLACES.c.device_id == bindparam("device_id")
)


def read_places(session: Session, device_id: str) -> dict[str, int]:
    """Return set: how far a device had read when it was last heard."""
    return dict(session.execute(_READ_PLACES, {"device_id": device_id}).all())


def readers(session: Session, day_id: str) -> list[tuple[str, str, int]]:
    """Return device, set and how far it has read, of all devices that are still on the day."""
    rows = session.execute(
        select(ReadPlace.device_id, ReadPlace.set_name, ReadPlace.place)
        .join(Device, Device.id == ReadPlace.device_id)
        .where(Device.day_id == day_id, Device.revoked_ms.is_(None))
    )
    return [(device_id, set_name, place) for device_id, set_name, place in rows]


def bind_incarnations(session: Session, *, day_id: str, device_id: str, incarnations: Iterable[str]) -> None:
    """Remember that these incarnations are this device's, unless they are already known as another's."""
    bound = owners(session, day_id, incarnations)
    session.add_all(
        Incarnation(day_id=day_id, incarnation=name, device_id=device_id)
        for name in sorted(set(incarnations) - set(bound))
    )
    session.flush()  # `owners` asks the table


_OWNERS = select(INCARNATIONS.c.incarnation, INCARNATIONS.c.device_id).where(
    INCARNATIONS.c.day_id == bindparam("day_id"),
    INCARNATIONS.c.incarnation.in_(bindparam("names", expanding=True)),
)


def owners(session: Session, day_id: str, incarnations: Iterable[str]) -> dict[str, str]:
    """Return incarnation: device, of those that are known."""
    asked = {"day_id": day_id, "names": list(incarnations)}
    return dict(session.execute(_OWNERS, asked).all())
