"""All edits of a day, read at once -> its records, with the moment and the clock that it is told by.

Knows no file, no database and no paper.
"""

from __future__ import annotations

import datetime
import zoneinfo
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from tailslate.day import exchange, gathered, merge, readiness, sheet, shown
from tailslate.day.edit import Edit
from tailslate.day.gathered import Gathered

Records = dict[str, dict[str, list[Any]]]


def records_of(found: Iterable[Edit]) -> Records:
    """Return the records of the floor: record key to field to cell."""
    floor = [one for one in found if one.set == "floor"]
    judged = merge.verdict_words([one for one in floor if one.kind == "verdict"])
    records: Records = {}
    for name, cell in merge.fold([one for one in floor if one.kind != "verdict"], judged).items():
        record = gathered.record_of(name)
        records.setdefault(record, {})[name[len(record) + 1 :]] = cell
    return records


def utc_offset_min(records: Records, moment: datetime.datetime) -> int | None:
    """Return how far the clock of the day's place is ahead of UTC, None when nobody named a place's time zone."""
    found = Gathered(records)
    for key in found.of_kind("day"):
        try:
            there = moment.astimezone(zoneinfo.ZoneInfo(found.text(key, "time_zone")))
        except (zoneinfo.ZoneInfoNotFoundError, ValueError):
            continue
        return int((there.utcoffset() or datetime.timedelta()).total_seconds()) // 60
    return None


@dataclass(frozen=True)
class ShotSheet:
    """One shot: its id, its sheet and its readiness as the rules give them, and the records that they read."""

    shot: str
    sheet: dict[str, Any]
    readiness: dict[str, Any]
    records: Gathered


@dataclass(frozen=True)
class WholeDay:
    """A day as it stands at a moment, and how it is told."""

    edits: Sequence[Edit]
    now_ms: int
    offset_min: int
    units: str = "metric"
    title_given: str = ""
    records: Records = field(default_factory=dict)
    is_place_known: bool = True

    @classmethod
    def of(
        cls, edits: Sequence[Edit], moment: datetime.datetime, *, units: str = "metric", title: str = ""
    ) -> WholeDay:
        """Return the day that these edits make; the clock is that of the moment when the place's is not known."""
        records = records_of(edits)
        offset = utc_offset_min(records, moment)
        is_place_known = offset is not None
        if offset is None:
            offset = int((moment.utcoffset() or datetime.timedelta()).total_seconds()) // 60
        return cls(edits, int(moment.timestamp() * 1000), offset, units, title, records, is_place_known)

    @cached_property
    def found(self) -> Gathered:
        """The records by field."""
        return Gathered(self.records, units=self.units, utc_offset_min=self.offset_min)

    @cached_property
    def page(self) -> dict[str, Any]:
        """The page of the whole day, as the rules give it."""
        return sheet.of_day(self.records, units=self.units, utc_offset_min=self.offset_min)

    @property
    def key(self) -> str:
        """The record key of the day itself."""
        key: str = self.page["day"]["record"]
        return key

    @property
    def title(self) -> str:
        """What the day is called."""
        return self.page["day"]["title"] or self.title_given or "Shooting day"

    @cached_property
    def shots(self) -> list[ShotSheet]:
        """Every shot in the order of its scenes, then those that are in no scene."""
        listed = [one["shot"] for scene in self.page["day"]["scenes"] for one in scene["shots"]]
        rest = [gathered.id_of(key) for key in self.found.of_kind("shot")]
        return [self._shot(shot) for shot in [*listed, *(one for one in rest if one not in listed)]]

    @cached_property
    def incomplete(self) -> list[str]:
        """Sentences, why these edits are not all that there are; empty when nothing says so."""
        ids = [one.id for one in self.edits if one.set == "floor"]
        absent = {
            one for fields in self.records.values() for cell in fields.values() for one in cell[merge.ABSENT]
        }
        reasons = exchange.completeness(
            {"heard_ms": 1, "sets": {}},  # read to its end: what can be missing was never brought
            marks={"floor": exchange.add_to_marks({}, list(dict.fromkeys(ids)))},
            absent=sorted(absent),
            voids=[gathered.id_of(key) for key in self.found.of_kind("void")],
        )
        return [one["sentence"] for one in reasons]

    @property
    def printed_at(self) -> str:
        """The moment on the place's clock; when the place's time zone is not known, it says how far from UTC."""
        told = self.clock(self.now_ms)
        if self.is_place_known:
            return told
        hours, minutes = divmod(abs(self.offset_min), 60)
        return f"{told} UTC" + (
            f"{'-' if self.offset_min < 0 else '+'}{hours}:{minutes:02d}" if self.offset_min else ""
        )

    def clock(self, at_ms: int) -> str:
        """Return a time of day on the place's clock, "" when it is not known."""
        return shown.clock(at_ms, self.offset_min) if at_ms else ""

    def _shot(self, shot: str) -> ShotSheet:
        found = sheet.gather(shot, self.records, units=self.units, utc_offset_min=self.offset_min)
        made = sheet.of_shot(shot, found, incomplete=self.incomplete, now_ms=self.now_ms)
        return ShotSheet(shot, made, readiness.of_shot(made, found), found)
