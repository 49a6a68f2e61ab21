"""Photographs, kept in the database beside the edits that speak of them, each named by its SHA-256.

In the database and not as files beside it: a backup is then one committed state with its pictures in it, and
several server processes on PostgreSQL see the same ones. At 300 KB each a day's pictures stay below what a
backup copies in seconds.

P1 a picture is given out only whole: its parts came in order, its digest is its name, its head reads as one.
P2 an upload goes on where it stopped, within a week; a part sent again counts once; parts of two devices never mix.
P3 what a device brings that is off the day is parked, as its edits are: production alone sees it until it counts.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import ColumnElement, delete, func, select
from sqlalchemy.orm import Session

from tailslate.day import edit as edits
from tailslate.store.edits import lock_day
from tailslate.store.intake import NoSuchDay
from tailslate.store.picture import NotAPicture, media_type_of, read_picture
from tailslate.store.tables import Photograph, PhotographPart, StoredEdit

SIZE_LIMIT_BYTES = 2 * 1024 * 1024
PART_LIMIT_BYTES = 64 * 1024
DIGEST = re.compile(r"[0-9a-f]{64}")
PARTS_KEPT_MS = 7 * 24 * 3_600_000  # of an upload that nobody went on with
DEVICE_SHARE = 4  # one device may fill a quarter of the day's room
ENDINGS = {"image/jpeg": ".jpg", "image/png": ".png", "image/webp": ".webp"}


class PhotographRefused(Exception):
    """A part or a picture that is not taken: code, sentence, and how far this device's upload is."""

    def __init__(self, code: str, sentence: str, offset: int = 0) -> None:
        super().__init__(sentence)
        self.code = code
        self.offset = offset


@dataclass(frozen=True)
class Part:
    """One piece of an upload: the bytes from `start` of a picture of `total` bytes."""

    digest: str
    start: int
    total: int
    octets: bytes


@dataclass(frozen=True)
class Bringer:
    """The device that uploads."""

    device_id: str
    is_revoked: bool


@dataclass(frozen=True)
class Given:
    """A whole picture, to be sent."""

    media_type: str
    octets: bytes
    is_parked: bool


def how_far(session: Session, *, day_id: str, digest: str, bringer: Bringer) -> tuple[int, bool]:
    """Return how many bytes this device need not send again, and whether nothing is left to send."""
    whole = _whole(session, day_id, digest)
    if whole and (not whole[1] or bringer.is_revoked):
        return whole[0], True
    return _held_bytes(session, day_id, digest, bringer.device_id), False


def put_part(
    session: Session, *, day_id: str, part: Part, bringer: Bringer, day_limit_bytes: int, now_ms: int
) -> tuple[int, bool]:
    """Store a part; with the last one the picture is checked and kept. Return as `how_far` does.

    A picture that fails its checks takes its parts with it: the next upload begins anew.
    Raises: PhotographRefused, NoSuchDay. The caller must commit also when this raises with offset 0.
    """
    if lock_day(session, day_id) is None:
        raise NoSuchDay(day_id)
    drop_old_parts(session, day_id=day_id, now_ms=now_ms)
    offset, is_whole = how_far(session, day_id=day_id, digest=part.digest, bringer=bringer)
    if is_whole or part.start + len(part.octets) <= offset:
        return offset, is_whole  # P2
    _refuse(session, day_id, part, bringer, offset, day_limit_bytes)
    row = PhotographPart(
        day_id=day_id,
        digest=part.digest,
        device_id=bringer.device_id,
        start=part.start,
        octets=part.octets,
        received_ms=now_ms,
    )
    session.add(row)
    session.flush()
    offset += len(part.octets)
    if offset < part.total:
        return offset, False
    octets = b"".join(_parts(session, day_id, part.digest, bringer.device_id))
    keep(
        session,
        day_id=day_id,
        digest=part.digest,
        octets=octets,
        carrier=bringer.device_id,
        is_parked=bringer.is_revoked,
        now_ms=now_ms,
    )
    drop_parts(session, day_id, part.digest, bringer.device_id)
    return offset, True


def _refuse(
    session: Session, day_id: str, part: Part, bringer: Bringer, offset: int, day_limit_bytes: int
) -> None:
    if part.total > SIZE_LIMIT_BYTES:
        limit = f"a picture may have at most {SIZE_LIMIT_BYTES} bytes, this one has {part.total}"
        raise PhotographRefused("too_large", f"{limit}; make it smaller", offset)
    if part.start != offset:
        raise PhotographRefused("other_place", f"this upload goes on at byte {offset}", offset)
    if part.start == 0:
        try:
            media_type_of(part.octets[:12])
        except NotAPicture as error:
            raise PhotographRefused(error.code, str(error)) from error
    coming = part.total - offset
    if _day_bytes(session, day_id) + coming > day_limit_bytes:
        sentence = f"the day's {day_limit_bytes} bytes for pictures are used up; it stays on the phone"
        raise PhotographRefused("photographs_full", sentence, offset)
    if _day_bytes(session, day_id, bringer.device_id) + coming > day_limit_bytes // DEVICE_SHARE:
        sentence = "this phone has sent as many pictures as one phone may; the rest stays on it"
        raise PhotographRefused("photographs_full", sentence, offset)


def keep(
    session: Session, *, day_id: str, digest: str, octets: bytes, carrier: str, is_parked: bool, now_ms: int
) -> None:
    """Keep a whole picture once.

    Raises: PhotographRefused when it is not what its name says, or no picture that may be kept (P1).
    """
    if hashlib.sha256(octets).hexdigest() != digest:
        raise PhotographRefused(
            "wrong_digest", "what arrived is not the picture that it is named for; send it again"
        )
    try:
        found = read_picture(octets)
    except NotAPicture as error:
        raise PhotographRefused(error.code, str(error)) from error
    held = session.get(Photograph, (day_id, digest))
    if held is not None:
        held.is_parked = held.is_parked and is_parked
        return
    session.add(
        Photograph(
            day_id=day_id,
            digest=digest,
            media_type=found.media_type,
            size_bytes=len(octets),
            octets=octets,
            received_ms=now_ms,
            carrier=carrier,
            is_parked=is_parked,
        )
    )
    session.flush()


def drop_old_parts(session: Session, *, day_id: str, now_ms: int) -> None:
    """Forget what came of pictures whose upload went no further for PARTS_KEPT_MS: their phones begin anew."""
    newest = (
        select(PhotographPart.digest, PhotographPart.device_id)
        .where(PhotographPart.day_id == day_id)
        .group_by(PhotographPart.digest, PhotographPart.device_id)
        .having(func.max(PhotographPart.received_ms) < now_ms - PARTS_KEPT_MS)
    )
    for digest, device_id in session.execute(newest).all():
        drop_parts(session, day_id, digest, device_id)


def drop_parts(session: Session, day_id: str, digest: str, device_id: str) -> None:
    """Forget what a device sent of a picture that has not come whole."""
    session.execute(delete(PhotographPart).where(*_of_device(day_id, digest, device_id)))


def give(session: Session, *, day_id: str, digest: str) -> Given | None:
    """Return a whole picture, or None."""
    row = session.get(Photograph, (day_id, digest))
    return Given(row.media_type, row.octets, row.is_parked) if row else None


def release(session: Session, *, day_id: str, edit_id: str) -> None:
    """Let everyone see the picture that an edit names, because production lets the edit count (P3)."""
    text = session.scalars(
        select(StoredEdit.text).where(
            StoredEdit.day_id == day_id, StoredEdit.edit_id == edit_id, StoredEdit.kind == "photograph"
        )
    ).one_or_none()
    if text is None:
        return
    changes = {change[0]: change[1] for change in edits.read(text.decode("utf-8"), day=day_id).changes}
    row = session.get(Photograph, (day_id, str(changes.get("digest"))))
    if row is not None:
        row.is_parked = False


def write_files(session: Session, *, day_id: str, folder: Path) -> int:
    """Write every picture of a day that is not parked into a folder, named by its digest; return how many."""
    folder.mkdir(parents=True, exist_ok=True)
    digests = session.scalars(
        select(Photograph.digest)
        .where(Photograph.day_id == day_id, Photograph.is_parked.is_(False))
        .order_by(Photograph.digest)
    ).all()
    for digest in digests:
        given = give(session, day_id=day_id, digest=digest)
        if given:
            (folder / (digest + ENDINGS[given.media_type])).write_bytes(given.octets)
    return len(digests)


def take_files(session: Session, *, day_id: str, folder: Path, now_ms: int) -> int:
    """Keep the pictures of a folder that `write_files` wrote; return how many are held now of those.

    Raises: PhotographRefused, naming the file.
    """
    files = sorted(one for one in folder.iterdir() if DIGEST.fullmatch(one.stem))
    for file in files:
        octets = file.read_bytes()
        try:
            keep(
                session,
                day_id=day_id,
                digest=file.stem,
                octets=octets,
                carrier="",
                is_parked=False,
                now_ms=now_ms,
            )
        except PhotographRefused as error:
            raise PhotographRefused(error.code, f"{file}: {error}") from error
    return len(files)


def _whole(session: Session, day_id: str, digest: str) -> tuple[int, bool] | None:
    """Return size and whether it is parked, of a picture that is here, without reading its bytes."""
    row = session.execute(
        select(Photograph.size_bytes, Photograph.is_parked).where(
            Photograph.day_id == day_id, Photograph.digest == digest
        )
    ).one_or_none()
    return (row[0], row[1]) if row else None


def _of_device(day_id: str, digest: str, device_id: str) -> tuple[ColumnElement[bool], ...]:
    return (
        PhotographPart.day_id == day_id,
        PhotographPart.digest == digest,
        PhotographPart.device_id == device_id,
    )


def _held_bytes(session: Session, day_id: str, digest: str, device_id: str) -> int:
    found = session.scalar(
        select(func.sum(func.length(PhotographPart.octets))).where(*_of_device(day_id, digest, device_id))
    )
    return int(found or 0)


def _parts(session: Session, day_id: str, digest: str, device_id: str) -> Iterator[bytes]:
    yield from session.scalars(
        select(PhotographPart.octets)
        .where(*_of_device(day_id, digest, device_id))
        .order_by(PhotographPart.start)
    )


def _day_bytes(session: Session, day_id: str, device_id: str | None = None) -> int:
    """Return the bytes of all pictures and parts of a day, or of what one device brought."""
    whole = select(func.sum(Photograph.size_bytes)).where(Photograph.day_id == day_id)
    parts = select(func.sum(func.length(PhotographPart.octets))).where(PhotographPart.day_id == day_id)
    if device_id is not None:
        whole = whole.where(Photograph.carrier == device_id)
        parts = parts.where(PhotographPart.device_id == device_id)
    return int(session.scalar(whole) or 0) + int(session.scalar(parts) or 0)
