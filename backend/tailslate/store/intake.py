"""Edits arrive: each is read, stored once, judged, and answered; all in the caller's one transaction.

I1 a malformed text is refused with code and reason, and never stands in the way of the others.
I2 a well-formed edit is stored; where it does not simply count, a verdict of this server is stored with it.
I3 what is first received after a phone was taken off the day is parked, whoever carries it.
I4 an act that is reserved waits until its author is known, then it counts or is out.
I5 the first verdict on an edit stands: one that comes back after a restore replaces what was judged since.
"""

from __future__ import annotations

import binascii
import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session, aliased

from tailslate.craft.errors import RuleError
from tailslate.day import check, kinds, merge
from tailslate.day import edit as edits
from tailslate.day.edit import Edit
from tailslate.store import crew
from tailslate.store.edits import add_day, last_counter, lock_day, put, texts, texts_of_kind
from tailslate.store.seal import claims_a_server, is_sealed, make_sealed
from tailslate.store.tables import Day, StoredEdit

SENTENCE_LIMIT = 1000  # letters of a verdict's reason
RESERVED_KINDS = tuple(
    kind.name for kind in kinds.KINDS.values() if kind.reserved or any(one.reserved for one in kind.fields)
)


class NoSuchDay(Exception):
    """This server does not hold that day."""


class NoSuchEdit(Exception):
    """This day has no edit of that id."""


@dataclass(frozen=True)
class Carrier:
    """Who brings edits: a device, or with an empty id whoever runs the server (import, demonstration)."""

    device_id: str = ""
    person: str = ""
    is_revoked: bool = False


@dataclass(frozen=True)
class Arrival:
    """One text as read: the edit, or None with the reason why it is none."""

    edit: Edit | None
    id: str
    code: str = ""
    sentence: str = ""


@dataclass
class Person:
    """What decides which reserved acts a person may do."""

    departments: list[str] = field(default_factory=list)
    is_head: bool = False
    name: str = ""


@dataclass(frozen=True)
class Verdict:
    """What the server says about one edit."""

    edit: Edit
    says: str
    code: str
    sentence: str
    replaces: tuple[str, ...] = ()


Answer = list[str]  # ["stored" | "known" | "refused", id or "", code, sentence]


class Office:
    """The server as an author: its incarnation is new at every start, its edits are sealed."""

    def __init__(self, *, incarnation: str, secret: bytes) -> None:
        """Take the random name of this run and the key of this database."""
        self.incarnation = incarnation
        self.secret = secret

    def open_day(self, session: Session, *, title: str, now_ms: int, day_id: str = "") -> str:
        """Make a day with its title as first edit; return its id."""
        day_id = day_id or crew.random_name()
        add_day(session, day_id=day_id, title=title, now_ms=now_ms)
        self._write(session, day_id, "floor", "day", day_id, {"title": title}, {}, now_ms)
        return day_id

    def read(
        self, texts_by_set: dict[str, Sequence[Any]], *, day_id: str, trusts_servers: bool = False
    ) -> dict[str, list[Arrival]]:
        """Read what arrived, before any lock is taken. What is malformed comes back with its refusal.

        With `trusts_servers` an edit that says that a server wrote it is believed without this server's seal.
        """
        return {
            set_name: [self._read(text, day_id, set_name, trusts_servers) for text in arrived]
            for set_name, arrived in texts_by_set.items()
        }

    def take(
        self,
        session: Session,
        arrivals: dict[str, list[Arrival]],
        *,
        day_id: str,
        carrier: Carrier,
        now_ms: int,
    ) -> dict[str, list[Answer]]:
        """Store and judge what was read; return the answers of each set, in the same order.

        The day must be there, and locked by the caller.
        """
        sound = {one.edit.id: one.edit for rows in arrivals.values() for one in rows if one.edit}
        stored = put(
            session, day_id=day_id, edits=list(sound.values()), carrier=carrier.device_id, now_ms=now_ms
        )
        fresh = [edit for edit in sound.values() if edit.id in stored]
        if fresh:
            self._after_arrival(session, day_id, fresh, carrier, now_ms)
        return {set_name: _answers(rows, set(stored)) for set_name, rows in arrivals.items()}

    def add_person(
        self, session: Session, *, day_id: str, person: str, changes: dict[str, Any], now_ms: int
    ) -> None:
        """Write the record of a person who joined or joined again. The day must be locked."""
        seen = {
            key.rsplit("/", 1)[1]: [entry[0] for entry in cell[merge.LIVE]]
            for key, cell in _person_cells(session, day_id).items()
            if key.startswith(f"person/{person}/")
        }
        edit = self._write(session, day_id, "floor", "person", person, changes, seen, now_ms)
        self._say(session, day_id, [Verdict(edit, "counts", "joined", "joined with a code")], now_ms)

    def take_written(self, session: Session, made: Sequence[Edit], *, day_id: str, now_ms: int) -> None:
        """Take edits that this program wrote as a phone would bring them.

        Raises: NoSuchDay; ValueError when one of them is no edit, the transaction is then to be given up.
        """
        if lock_day(session, day_id) is None:
            raise NoSuchDay(day_id)
        by_set: dict[str, Sequence[Any]] = {
            name: [one.text for one in made if one.set == name] for name in edits.SETS
        }
        arrivals = self.read(by_set, day_id=day_id)
        answers = self.take(session, arrivals, day_id=day_id, carrier=Carrier(), now_ms=now_ms)
        refused = [answer for rows in answers.values() for answer in rows if answer[0] == "refused"]
        if refused:
            raise ValueError(f"what was to be written holds what is no edit: {refused[0]}")

    def decide(
        self, session: Session, *, day_id: str, edit_id: str, says: str, sentence: str, now_ms: int
    ) -> None:
        """Write production's own verdict on an edit; it replaces those that stand on it.

        Raises: NoSuchDay, NoSuchEdit.
        """
        if lock_day(session, day_id) is None:
            raise NoSuchDay(day_id)
        found = texts(session, day_id, edit_ids=[edit_id])
        if not found:
            raise NoSuchEdit(edit_id)
        standing = tuple(one.id for one in _verdicts_on(session, day_id, [edit_id]))
        edit = edits.read(found[0], day=day_id)
        self._say(session, day_id, [Verdict(edit, says, "decided", sentence, standing)], now_ms)
        if edit.kind == "person":
            _follow_departments(session, day_id, {edit.record})

    def _read(self, text: Any, day_id: str, set_name: str, trusts_servers: bool) -> Arrival:
        try:
            edit = edits.read(text, day=day_id)
            self._check_place(edit, set_name)
            if claims_a_server(edit) and not trusts_servers and not is_sealed(self.secret, edit):
                raise RuleError(
                    "not_of_this_server",
                    "only a server that holds this day writes such an edit; leave it out",
                )
        except RuleError as error:
            return Arrival(None, _id_of_refused(text), error.code, error.sentence)
        return Arrival(edit, edit.id)

    def _check_place(self, edit: Edit, set_name: str) -> None:
        """Refuse what may not even be stored here."""
        if edit.set != set_name:
            raise RuleError(
                "wrong_set", f"this edit is of the {edit.set} set and came as {set_name}; send it there"
            )
        if edit.set == "floor" and kinds.set_of(edit.kind) == "health":
            raise RuleError(
                "wrong_set", f"a {edit.kind} is health data and may not go to every phone; enter it again"
            )

    def _after_arrival(
        self, session: Session, day_id: str, fresh: list[Edit], carrier: Carrier, now_ms: int
    ) -> None:
        if carrier.device_id:
            own = {edit.incarnation for edit in fresh if edit.by == carrier.person}
            crew.bind_incarnations(session, day_id=day_id, device_id=carrier.device_id, incarnations=own)
        found = _Judge(session, day_id, carrier, self.secret).verdicts(fresh)
        judged = {one.record for one in _verdicts_on(session, day_id, [verdict.edit.id for verdict in found])}
        self._say(session, day_id, [verdict for verdict in found if verdict.edit.id not in judged], now_ms)
        self._let_first_verdicts_stand(session, day_id, fresh, now_ms)
        arrived_people = {edit.record for edit in fresh if edit.kind == "person"}
        if arrived_people:
            judge = _Judge(session, day_id, Carrier(), self.secret)
            self._say(session, day_id, judge.verdicts(_waiting(session, day_id, arrived_people)), now_ms)
            _follow_departments(session, day_id, arrived_people)

    def _let_first_verdicts_stand(
        self, session: Session, day_id: str, fresh: list[Edit], now_ms: int
    ) -> None:
        by_edit: dict[str, list[Edit]] = {}
        for verdict in _verdicts_on(
            session, day_id, {edit.record for edit in fresh if edit.kind == "verdict"}
        ):
            by_edit.setdefault(verdict.record, []).append(verdict)
        settled = []
        for edit_id, verdicts in by_edit.items():
            replaced = {seen for verdict in verdicts for seen in verdict.changes[0][2]}
            standing = [verdict for verdict in verdicts if verdict.id not in replaced]
            says, code, sentence = min(standing, key=lambda one: (one.at_ms, one.id)).changes[0][1]
            if merge.verdict_words(verdicts)[edit_id] != says:
                settled += [
                    Verdict(
                        edits.read(text, day=day_id), says, code, sentence, tuple(one.id for one in standing)
                    )
                    for text in texts(session, day_id, edit_ids=[edit_id])
                ]
        self._say(session, day_id, settled, now_ms)

    def _say(self, session: Session, day_id: str, verdicts: Iterable[Verdict], now_ms: int) -> None:
        by_set: dict[str, list[Verdict]] = {}
        for verdict in verdicts:
            by_set.setdefault(verdict.edit.set, []).append(verdict)
        for set_name, batch in by_set.items():
            counter = last_counter(session, day_id, set_name, self.incarnation)
            made = [
                make_sealed(
                    self.secret,
                    day=day_id,
                    set_name=set_name,
                    incarnation=self.incarnation,
                    counter=counter + place,
                    rules=kinds.RULES,
                    at_ms=now_ms,
                    kind="verdict",
                    record=one.edit.id,
                    changes={"says": [one.says, one.code, one.sentence[:SENTENCE_LIMIT]]},
                    seen={"says": list(one.replaces)},
                )
                for place, one in enumerate(batch, start=1)
            ]
            put(session, day_id=day_id, edits=made, carrier="", now_ms=now_ms)

    def _write(
        self,
        session: Session,
        day_id: str,
        set_name: str,
        kind: str,
        record: str,
        changes: dict[str, Any],
        seen: dict[str, list[str]],
        now_ms: int,
    ) -> Edit:
        edit = make_sealed(
            self.secret,
            day=day_id,
            set_name=set_name,
            incarnation=self.incarnation,
            counter=last_counter(session, day_id, set_name, self.incarnation) + 1,
            rules=kinds.RULES,
            at_ms=now_ms,
            kind=kind,
            record=record,
            changes=changes,
            seen={name: ids for name, ids in seen.items() if name in changes},
        )
        put(session, day_id=day_id, edits=[edit], carrier="", now_ms=now_ms)
        return edit


class _Judge:
    """Says of fresh edits what a verdict must say; asks the database only for what the edits make needed."""

    def __init__(self, session: Session, day_id: str, carrier: Carrier, secret: bytes) -> None:
        self.session = session
        self.day_id = day_id
        self.carrier = carrier
        self.secret = secret
        self.people: dict[str, Person] | None = None
        self.revoked = crew.revoked_devices(session, day_id)  # id: person

    def verdicts(self, fresh: list[Edit]) -> list[Verdict]:
        """Return the verdicts that are not a plain 'counts'."""
        owners = (
            crew.owners(self.session, self.day_id, {edit.incarnation for edit in fresh})
            if self.revoked
            else {}
        )
        found = (self._verdict(edit, owners) for edit in fresh)
        return [one for one in found if one]

    def _verdict(self, edit: Edit, owners: dict[str, str]) -> Verdict | None:
        if edit.kind in ("verdict", "void"):
            return None
        if is_sealed(self.secret, edit):
            reserved = kinds.is_reserved(edit.kind, edit.changes)
            return Verdict(edit, "counts", "server", "written by the server") if reserved else None
        if self._is_of_revoked_device(edit, owners):
            sentence = (
                "first received after the phone that made it was taken off the day; "
                "production can let it count or leave it out"
            )
            return Verdict(edit, "parked", "device_revoked", sentence)
        if edit.rules <= kinds.RULES:  # K3: what is of a newer version is never judged by its values
            reasons = check.faults(edit.kind, {change[0]: change[1] for change in edit.changes})
            if kinds.set_of(edit.kind) != edit.set and edit.kind in kinds.KINDS:
                sentence = f"a {edit.kind} belongs to the {kinds.set_of(edit.kind)} set; enter it there again"
                reasons = [{"field": "", "code": "wrong_set", "sentence": sentence}, *reasons]
            if reasons:
                words = "; ".join(reason["sentence"] for reason in reasons)
                return Verdict(edit, "out", reasons[0]["code"], words)
        who = kinds.reserved_for(edit.kind, edit.changes)
        return self._reserved(edit, who) if who else None

    def _reserved(self, edit: Edit, who: tuple[str, ...]) -> Verdict | None:
        if self.people is None:
            self.people = people(self.session, self.day_id)
        author = self.people.get(edit.by)
        if author is None:
            return None  # I4
        allowed = kinds.may(
            who,
            departments=author.departments,
            is_head=author.is_head,
            script_on_day=any("script" in one.departments for one in self.people.values()),
        )
        if allowed:
            return Verdict(edit, "counts", "allowed", "its author may do this")
        wanted = " or ".join(_WHO.get(name, name) for name in who)
        return Verdict(
            edit, "out", "reserved", f"only {wanted} may do this; ask them to, or production to change roles"
        )

    def _is_of_revoked_device(self, edit: Edit, owners: dict[str, str]) -> bool:
        if self.carrier.is_revoked:
            return True
        if not self.revoked:
            return False
        owner = owners.get(edit.incarnation)
        if owner is not None:
            return owner in self.revoked
        if edit.by == self.carrier.person or not self.carrier.device_id:
            return False
        # an incarnation that nobody knows, of a person with a lost phone, carried by someone else
        return edit.by in self.revoked.values()


_WHO = {
    "head": "the head of a department",
    "camera_when_no_script": "camera while no script supervisor is on the day",
    "assistant_directors": "an assistant director",
    "script": "the script supervisor",
}


def people(session: Session, day_id: str) -> dict[str, Person]:
    """Return person: departments and whether they head one, as the records that count say."""
    found: dict[str, Person] = {}
    for key, cell in _person_cells(session, day_id).items():
        _kind, person, name = key.split("/")
        if not cell[merge.LIVE]:
            continue
        shown = cell[merge.LIVE][0][1]
        one = found.setdefault(person, Person())
        if name == "departments" and isinstance(shown, list):
            one.departments = [str(part) for part in shown]
        elif name == "head":
            one.is_head = shown == "yes"
        elif name == "name":
            one.name = str(shown or "")
    return found


def _person_cells(session: Session, day_id: str) -> merge.Cells:
    batch = [edits.read(text, day=day_id) for text in texts_of_kind(session, day_id, "person")]
    words = merge.verdict_words(_verdicts_on(session, day_id, [edit.id for edit in batch]))
    return merge.fold(batch, words)


def _verdicts_on(session: Session, day_id: str, edit_ids: Iterable[str]) -> list[Edit]:
    ids = list(edit_ids)
    if not ids:
        return []
    condition = (StoredEdit.kind == "verdict") & StoredEdit.record.in_(ids)
    return [edits.read(text, day=day_id) for text in texts(session, day_id, where=condition)]


def _waiting(session: Session, day_id: str, authors: set[str]) -> list[Edit]:
    """Return reserved acts of these people that have no verdict yet."""
    verdict = aliased(StoredEdit)
    has_verdict = (
        select(verdict.edit_id)
        .where(verdict.day_id == day_id, verdict.kind == "verdict", verdict.record == StoredEdit.edit_id)
        .exists()
    )
    condition = StoredEdit.author.in_(authors) & StoredEdit.kind.in_(RESERVED_KINDS) & ~has_verdict
    found = [edits.read(text, day=day_id) for text in texts(session, day_id, where=condition)]
    return [one for one in found if kinds.is_reserved(one.kind, one.changes)]


def _follow_departments(session: Session, day_id: str, persons: set[str]) -> None:
    """Let devices hold health data exactly while their person is of a department that may."""
    known = people(session, day_id)
    for device in crew.devices(session, day_id):
        if device.person in persons and device.person in known:
            device.may_hold_health = holds_health(known[device.person].departments)


def holds_health(departments: Iterable[str]) -> bool:
    """Tell whether someone of these departments may hold the health set."""
    return any(name in kinds.HEALTH_DEPARTMENTS for name in departments)


def _answers(rows: list[Arrival], new: set[str]) -> list[Answer]:
    """Return the answers of one set; `new` loses each id as it is answered, so a repeat is 'known'."""
    answers = []
    for one in rows:
        if one.edit is None:
            answers.append(["refused", one.id, one.code, one.sentence])
        else:
            answers.append(["stored" if one.id in new else "known", one.id, "", ""])
            new.discard(one.id)
    return answers


def _id_of_refused(text: Any) -> str:
    """Return the id that the author's phone knows a refused text by, '' when the text does not even say that."""
    try:
        octets = text.encode("utf-8")
        parts = json.loads(text)
        edit_id = f"{parts[3]}.{parts[4]}.{edits.id_digest(octets)}"
    except (AttributeError, ValueError, TypeError, LookupError, RecursionError, binascii.Error):
        return ""
    return edit_id if edits.is_id(edit_id) else ""


def days(session: Session) -> list[Day]:
    """Return the days that this server holds, oldest first."""
    return list(session.scalars(select(Day).order_by(Day.created_ms, Day.id)))
