"""All edits of a day, read at once -> its records, with the moment and the clock that it is told by.

Knows no file, no database and no paper.
"""

from __future__ import annotations

import datetime
import zoneinfo
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Any

from tailslate.day import exchange, gathered, merge, readiness, sheet, shown
from tailslate.day.edit import Edit
from tailslate.day.gathered import Gathered
from tailslate.day.place_clock import ahead_min

if TYPE_CHECKING:
    from tailslate.day.place_clock import Offset

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


def zone_of(records: Records) -> zoneinfo.ZoneInfo | None:
    """Return the time zone of the day's place, None when nobody named one that is known here."""
    found = Gathered(records)
    for key in found.of_kind("day"):
        try:
            return zoneinfo.ZoneInfo(found.text(key, "time_zone"))
        except (zoneinfo.ZoneInfoNotFoundError, ValueError):
            continue
    return None


def offsets(zone: datetime.tzinfo, start_ms: int, end_ms: int) -> Offset:
    """Return how far the clock of a zone is ahead of UTC from start to end: minutes, or minutes from a time on."""
    found = [[0, _ahead_min(zone, start_ms)]]
    at_ms = start_ms
    while at_ms < end_ms:
        next_ms = min(at_ms + STEP_MS, end_ms)
        if _ahead_min(zone, next_ms) != found[-1][1]:
            low_ms, high_ms = at_ms, next_ms
            while high_ms - low_ms > 1:
                middle_ms = (low_ms + high_ms) // 2
                is_before = _ahead_min(zone, middle_ms) == found[-1][1]
                low_ms, high_ms = (middle_ms, high_ms) if is_before else (low_ms, middle_ms)
            found.append([high_ms, _ahead_min(zone, high_ms)])
            next_ms = high_ms
        at_ms = next_ms
    return found if len(found) > 1 else found[0][1]


STEP_MS = 7 * 86_400_000  # clocks are not changed and changed back within a week
_EARLIEST_MS, _LATEST_MS = 0, 4_102_444_800_000  # 1970 to 2100: a phone's clock may claim any time


def _ahead_min(zone: datetime.tzinfo, at_ms: int) -> int:
    moment = datetime.datetime.fromtimestamp(at_ms / 1000, zone)
    return int((moment.utcoffset() or datetime.timedelta()).total_seconds()) // 60


def offsets_of(records: Records, edits: Sequence[Edit], moment: datetime.datetime) -> Offset | None:
    """Return how far the clock of the day's place was ahead of UTC while it was written, and two days on.

    None when nobody named a place's time zone.
    """
    zone = zone_of(records)
    if zone is None:
        return None
    now_ms = int(moment.timestamp() * 1000)
    times = [one.at_ms for one in edits if _EARLIEST_MS < one.at_ms < _LATEST_MS]
    start_ms = max(min([now_ms, *times]), now_ms - YEARS_MS)
    return offsets(
        zone, start_ms, max([now_ms, *[one for one in times if one < now_ms + YEARS_MS]]) + 2 * 86_400_000
    )


YEARS_MS = 5 * 366 * 86_400_000  # further back the clock of five years ago will do


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
    offset: Offset
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
        offset = offsets_of(records, edits, moment)
        is_place_known = offset is not None
        if offset is None:
            offset = int((moment.utcoffset() or datetime.timedelta()).total_seconds()) // 60
        return cls(edits, int(moment.timestamp() * 1000), offset, units, title, records, is_place_known)

    @cached_property
    def found(self) -> Gathered:
        """The records by field."""
        return Gathered(self.records, units=self.units, utc_offset_min=self.offset)

    @cached_property
    def page(self) -> dict[str, Any]:
        """The page of the whole day, as the rules give it."""
        return sheet.of_day(self.records, units=self.units, utc_offset_min=self.offset)

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
        offset_min = ahead_min(self.now_ms, self.offset)
        hours, minutes = divmod(abs(offset_min), 60)
        return f"{told} UTC" + (
            f"{'-' if offset_min < 0 else '+'}{hours}:{minutes:02d}" if offset_min else ""
        )

    def clock(self, at_ms: int) -> str:
        """Return a time of day on the place's clock, "" when it is not known."""
        return shown.clock(at_ms, self.offset) if at_ms else ""

    def _shot(self, shot: str) -> ShotSheet:
        found = sheet.gather(shot, self.records, units=self.units, utc_offset_min=self.offset)
        made = sheet.of_shot(shot, found, incomplete=self.incomplete, now_ms=self.now_ms)
        return ShotSheet(shot, made, readiness.of_shot(made, found), found)
