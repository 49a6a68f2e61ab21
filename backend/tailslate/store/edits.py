"""The log of edits: put once each, read in commit order, and its marks.

Order numbers are taken under the lock of the day's row and committed with their edits, so whoever
sees number n sees every number below it. Each function works inside the caller's session.
What every exchange asks is built once, as a constant, and of tables rather than of objects: building a question, and an
object of its answer, takes longer than answering it.
"""

from __future__ import annotations

import base64
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import ColumnElement, bindparam, func, insert, literal, select, update
from sqlalchemy.orm import Session

from tailslate.day.edit import SETS, Edit, digest_of
from tailslate.store.tables import Day, DaySet, IncarnationMark, StoredEdit, Table

EDITS, DAY_SETS, MARKS = (Table.metadata.tables[name] for name in ("edits", "day_sets", "incarnation_marks"))
PAGE_BYTES = 256 * 1024
PAGE_EDITS = 500
NO_DIGESTS = bytes(12)


@dataclass(frozen=True)
class Mark:
    """How many edits, and the XOR of their digests."""

    count: int
    digests_xor: bytes

    def row(self) -> list[Any]:
        """As it travels: count, and the XOR in hex."""
        return [self.count, self.digests_xor.hex()]


@dataclass(frozen=True)
class SetState:
    """How far a set reaches, and the mark of all of it."""

    reach: int
    mark: Mark


Group = tuple[str, int, list[str]]  # carrier, received_ms, texts


@dataclass(frozen=True)
class Page:
    """Edits in commit order after a place: groups of one carrier and one time, and the place of the last."""

    groups: list[Group]
    place: int


def add_day(session: Session, *, day_id: str, title: str, now_ms: int) -> None:
    """Make an empty day."""
    session.add(Day(id=day_id, title=title, created_ms=now_ms))
    session.flush()
    session.add_all(
        DaySet(day_id=day_id, set_name=name, reach=0, count=0, digests_xor=NO_DIGESTS) for name in SETS
    )
    session.flush()


_LOCKED_DAY = select(Day).where(Day.id == bindparam("day_id")).with_for_update()


def lock_day(session: Session, day_id: str) -> Day | None:
    """Return the day and keep every other writer of it waiting until this transaction ends."""
    return session.execute(_LOCKED_DAY, {"day_id": day_id}).scalar_one_or_none()


_KNOWN_IDS = select(EDITS.c.edit_id).where(
    EDITS.c.day_id == bindparam("day_id"), EDITS.c.edit_id.in_(bindparam("ids", expanding=True))
)


def known_ids(session: Session, day_id: str, edit_ids: Iterable[str]) -> set[str]:
    """Return those of the ids that are stored."""
    wanted = list(edit_ids)
    if not wanted:
        return set()
    return set(session.scalars(_KNOWN_IDS, {"day_id": day_id, "ids": wanted}))


def put(session: Session, *, day_id: str, edits: Sequence[Edit], carrier: str, now_ms: int) -> set[str]:
    """Store the edits that are not here yet and return their ids. The day must be locked by the caller."""
    known = known_ids(session, day_id, (edit.id for edit in edits))
    fresh = {edit.id: edit for edit in edits if edit.id not in known}
    by_set: dict[str, list[Edit]] = defaultdict(list)
    for edit in fresh.values():
        by_set[edit.set].append(edit)
    for set_name, batch in sorted(by_set.items()):
        _append(session, day_id=day_id, set_name=set_name, batch=batch, carrier=carrier, now_ms=now_ms)
    return set(fresh)


_REACHES = select(DAY_SETS.c.set_name, DAY_SETS.c.reach).where(DAY_SETS.c.day_id == bindparam("day_id"))


def reaches(session: Session, day_id: str) -> dict[str, int]:
    """Return set: last order number."""
    return dict(session.execute(_REACHES, {"day_id": day_id}).all())


_STATES = select(DAY_SETS.c.set_name, DAY_SETS.c.reach, DAY_SETS.c.count, DAY_SETS.c.digests_xor).where(
    DAY_SETS.c.day_id == bindparam("day_id")
)


def states(session: Session, day_id: str) -> dict[str, SetState]:
    """Return set: how it stands now."""
    rows = session.execute(_STATES, {"day_id": day_id})
    return {set_name: SetState(reach, Mark(count, xor)) for set_name, reach, count, xor in rows}


_PAGE = (
    select(EDITS.c.order_number, EDITS.c.carrier, EDITS.c.received_ms, EDITS.c.text)
    .where(
        EDITS.c.day_id == bindparam("day_id"),
        EDITS.c.set_name == bindparam("set_name"),
        EDITS.c.order_number > bindparam("place"),
        EDITS.c.order_number <= bindparam("reach"),
    )
    .order_by(EDITS.c.order_number)
    .limit(bindparam("limit_edits"))
)


def page_after(
    session: Session,
    *,
    day_id: str,
    set_name: str,
    place: int,
    reach: int,
    limit_edits: int = PAGE_EDITS,
    limit_bytes: int = PAGE_BYTES,
) -> Page:
    """Return the next edits after a place up to a reach, in commit order, within the limits (but always one)."""
    asked = {"day_id": day_id, "set_name": set_name, "place": place, "reach": reach}
    rows = session.execute(_PAGE, {**asked, "limit_edits": limit_edits})
    return _page(rows, place, limit_bytes)


def page_of(session: Session, *, day_id: str, set_name: str, edit_ids: Sequence[str]) -> list[Group]:
    """Return the groups of these ids, in commit order, as many as fit into a page."""
    rows = session.execute(
        select(StoredEdit.order_number, StoredEdit.carrier, StoredEdit.received_ms, StoredEdit.text)
        .where(StoredEdit.day_id == day_id, StoredEdit.set_name == set_name, StoredEdit.edit_id.in_(edit_ids))
        .order_by(StoredEdit.order_number)
    )
    return _page(rows, 0, PAGE_BYTES).groups


_ONE_BETWEEN = (
    select(literal(1))
    .where(
        EDITS.c.day_id == bindparam("day_id"),
        EDITS.c.kind == bindparam("kind"),
        EDITS.c.set_name == bindparam("set_name"),
        EDITS.c.order_number > bindparam("after"),
        EDITS.c.order_number <= bindparam("place"),
    )
    .limit(1)
)


def has_between(
    session: Session, day_id: str, *, kind: str, after: dict[str, int], up_to: dict[str, int]
) -> bool:
    """Tell whether an edit of a kind stands between two places of any set."""
    asked = [
        {"day_id": day_id, "kind": kind, "set_name": name, "after": after.get(name, 0), "place": place}
        for name, place in up_to.items()
        if after.get(name, 0) < place
    ]
    return any(session.scalar(_ONE_BETWEEN, one) for one in asked)


def _page(rows: Iterable[Any], place: int, limit_bytes: int) -> Page:
    groups: list[Group] = []
    last, size_bytes = place, 0
    for order_number, carrier, received_ms, text in rows:
        size_bytes += len(text)
        if groups and size_bytes > limit_bytes:
            break
        if not groups or groups[-1][:2] != (carrier, received_ms):
            groups.append((carrier, received_ms, []))
        groups[-1][2].append(text.decode("utf-8"))
        last = order_number
    return Page(groups, last)


def texts(
    session: Session, day_id: str, *, edit_ids: Iterable[str] = (), where: ColumnElement[bool] | None = None
) -> list[str]:
    """Return the texts of these ids, or of what the condition selects, in commit order."""
    condition = StoredEdit.edit_id.in_(list(edit_ids)) if where is None else where
    found = session.scalars(
        select(StoredEdit.text)
        .where(StoredEdit.day_id == day_id, condition)
        .order_by(StoredEdit.set_name, StoredEdit.order_number)
    )
    return [text.decode("utf-8") for text in found]


def texts_of_record(session: Session, day_id: str, *, kind: str, record: str) -> list[str]:
    """Return the texts of all edits of one record."""
    return texts(session, day_id, where=(StoredEdit.kind == kind) & (StoredEdit.record == record))


def texts_of_kind(session: Session, day_id: str, kind: str) -> list[str]:
    """Return the texts of all edits of one kind."""
    return texts(session, day_id, where=StoredEdit.kind == kind)


def details(session: Session, day_id: str, set_name: str) -> dict[str, list[Any]]:
    """Return incarnation: [count, highest counter without a gap, XOR in hex], as it travels."""
    rows = session.execute(
        select(
            IncarnationMark.incarnation,
            IncarnationMark.count,
            IncarnationMark.gapless,
            IncarnationMark.digests_xor,
        ).where(IncarnationMark.day_id == day_id, IncarnationMark.set_name == set_name)
    )
    return {incarnation: [count, gapless, xor.hex()] for incarnation, count, gapless, xor in rows}


def ids_of_incarnations(
    session: Session, *, day_id: str, set_name: str, incarnations: Sequence[str]
) -> dict[str, list[str]]:
    """Return incarnation: ids stored of it, in the order of their counters."""
    found: dict[str, list[str]] = {incarnation: [] for incarnation in incarnations}
    for start in range(0, len(incarnations), PAGE_EDITS):
        rows = session.execute(
            select(StoredEdit.incarnation, StoredEdit.edit_id)
            .where(
                StoredEdit.day_id == day_id,
                StoredEdit.set_name == set_name,
                StoredEdit.incarnation.in_(incarnations[start : start + PAGE_EDITS]),
            )
            .order_by(StoredEdit.counter, StoredEdit.edit_id)
        )
        for incarnation, edit_id in rows:
            found[incarnation].append(edit_id)
    return found


def last_counter(session: Session, day_id: str, set_name: str, incarnation: str) -> int:
    """Return the highest counter stored of one incarnation, 0 for none."""
    return session.scalars(
        select(func.coalesce(func.max(StoredEdit.counter), 0)).where(
            StoredEdit.day_id == day_id,
            StoredEdit.set_name == set_name,
            StoredEdit.incarnation == incarnation,
        )
    ).one()


def places(session: Session, day_id: str, edit_ids: Iterable[str]) -> dict[str, tuple[str, int]]:
    """Return id: (set, order number) of those ids that are stored."""
    rows = session.execute(
        select(StoredEdit.edit_id, StoredEdit.set_name, StoredEdit.order_number).where(
            StoredEdit.day_id == day_id, StoredEdit.edit_id.in_(list(edit_ids))
        )
    )
    return {edit_id: (set_name, order_number) for edit_id, set_name, order_number in rows}


def xor_of(start: bytes, edits: Iterable[Edit]) -> bytes:
    """Return the XOR of a mark and the digests of edits."""
    number, size = int.from_bytes(start), len(NO_DIGESTS)
    found = "".join([digest_of(edit.id) for edit in edits])
    digests = base64.urlsafe_b64decode(found)  # all in one go, for none of them is padded
    for place in range(0, len(digests), size):
        number ^= int.from_bytes(digests[place : place + size])
    return number.to_bytes(size)


_OF_SET = (DAY_SETS.c.day_id == bindparam("of_day")) & (DAY_SETS.c.set_name == bindparam("of_set"))
_STATE = select(DAY_SETS.c.reach, DAY_SETS.c.count, DAY_SETS.c.digests_xor).where(_OF_SET)
_KEEP_STATE = update(DAY_SETS).where(_OF_SET)


def _append(
    session: Session, *, day_id: str, set_name: str, batch: list[Edit], carrier: str, now_ms: int
) -> None:
    key = {"of_day": day_id, "of_set": set_name}
    reach, count, xor = session.execute(_STATE, key).one()
    session.execute(
        insert(EDITS),
        [
            {
                "day_id": day_id,
                "set_name": set_name,
                "order_number": reach + place,
                "edit_id": edit.id,
                "text": edit.text.encode("utf-8"),
                "kind": edit.kind,
                "record": edit.record,
                "author": edit.by,
                "incarnation": edit.incarnation,
                "counter": edit.counter,
                "received_ms": now_ms,
                "carrier": carrier,
            }
            for place, edit in enumerate(batch, start=1)
        ],
    )
    state = {
        "reach": reach + len(batch),
        "count": count + len(batch),
        "digests_xor": xor_of(xor, batch),
    }
    session.execute(_KEEP_STATE, key | state)
    by_incarnation: dict[str, list[Edit]] = defaultdict(list)
    for edit in batch:
        by_incarnation[edit.incarnation].append(edit)
    for incarnation, edits in by_incarnation.items():
        _mark(session, day_id=day_id, set_name=set_name, incarnation=incarnation, edits=edits)


_OF_INCARNATION = (
    (MARKS.c.day_id == bindparam("of_day"))
    & (MARKS.c.set_name == bindparam("of_set"))
    & (MARKS.c.incarnation == bindparam("of_incarnation"))
)
_ITS_MARK = select(MARKS.c.count, MARKS.c.gapless, MARKS.c.digests_xor).where(_OF_INCARNATION)
_KEEP_MARK = update(MARKS).where(_OF_INCARNATION)


def _mark(session: Session, *, day_id: str, set_name: str, incarnation: str, edits: list[Edit]) -> None:
    key = {"of_day": day_id, "of_set": set_name, "of_incarnation": incarnation}
    row = session.execute(_ITS_MARK, key).one_or_none()
    count, gapless, xor = row or (0, 0, NO_DIGESTS)
    counters = [edit.counter for edit in edits]
    goes_on = count == gapless and counters == list(range(gapless + 1, gapless + 1 + len(edits)))
    count += len(edits)
    gapless = count if goes_on else _gapless(session, (day_id, set_name, incarnation), gapless)
    mark = {"count": count, "gapless": gapless, "digests_xor": xor_of(xor, edits)}
    if row:
        session.execute(_KEEP_MARK, key | mark)
    else:
        session.execute(
            insert(MARKS), {"day_id": day_id, "set_name": set_name, "incarnation": incarnation} | mark
        )


def _gapless(session: Session, key: tuple[str, str, str], known: int) -> int:
    """Return the highest counter up to which all are here, given one up to which they are known to be."""
    day_id, set_name, incarnation = key
    above = session.scalars(
        select(StoredEdit.counter)
        .where(
            StoredEdit.day_id == day_id,
            StoredEdit.set_name == set_name,
            StoredEdit.incarnation == incarnation,
            StoredEdit.counter > known,
        )
        .distinct()
        .order_by(StoredEdit.counter)
    )
    for counter in above:
        if counter > known + 1:
            break
        known = counter
    return known
