"""The place's clock through midnight and the nights in which clocks are changed, beside the IANA time zone database.

Europe/Berlin: put back on 25 October 2026 at 01:00 UTC (03:00 becomes 02:00), forward on 29 March 2026 at 01:00 UTC.
"""

from __future__ import annotations

import datetime
import json
import re
import zoneinfo
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from a_day import ADay, Door
from people import ASSISTANT_DIRECTOR, GAFFER
from printed_day import Crew, pages, printed
from tailslate.day import place_clock, shown
from tailslate.day.day_clock import DayClock
from tailslate.pack import day_report
from tailslate.pack.whole_day import WholeDay, offsets

BERLIN = zoneinfo.ZoneInfo("Europe/Berlin")
ZONES = ("Europe/Berlin", "America/New_York", "Australia/Lord_Howe", "Africa/Casablanca", "Asia/Kolkata", "Pacific/Chatham")  # fmt: skip
YEAR_MS = 366 * 86_400_000
JULY_MS = int(datetime.datetime(2026, 7, 1, tzinfo=datetime.UTC).timestamp() * 1000)


def ms(*parts: int) -> int:
    """A moment in UTC."""
    return int(datetime.datetime(*parts, tzinfo=datetime.UTC).timestamp() * 1000)  # type: ignore[arg-type]  # year to minute


BACK, FORWARD = ms(2026, 10, 25, 1, 0), ms(2026, 3, 29, 1, 0)
BACK_TABLE = [[0, 120], [BACK, 60]]
FORWARD_TABLE = [[0, 60], [FORWARD, 120]]


def a_day_of(call: str, **more: Any) -> dict[str, Any]:
    return {"call": call, "meal": "", "meal_min": None, **more}


def test_the_table_of_a_year_has_both_changes_to_the_minute() -> None:
    assert offsets(BERLIN, ms(2026, 1, 1), ms(2026, 12, 31)) == [[0, 60], [FORWARD, 120], [BACK, 60]]
    assert offsets(zoneinfo.ZoneInfo("Asia/Kolkata"), ms(2026, 1, 1), ms(2026, 12, 31)) == 330


@pytest.mark.parametrize("name", ZONES)
def test_every_time_is_told_as_the_database_of_zones_tells_it(name: str) -> None:
    zone = zoneinfo.ZoneInfo(name)
    table = offsets(zone, JULY_MS - YEAR_MS, JULY_MS + YEAR_MS)
    for hour in range(-366 * 24, 366 * 24, 7):
        at_ms = JULY_MS + hour * 3_600_000
        there = datetime.datetime.fromtimestamp(at_ms / 1000, zone)
        assert shown.clock(at_ms, table) == f"{there:%H:%M}", (name, there)


def test_both_pythons_read_the_table_alike(phone_door: Door) -> None:
    for at_ms, offset, told in ((BACK - 1, BACK_TABLE, "02:59"), (BACK, BACK_TABLE, "02:00"), (FORWARD, FORWARD_TABLE, "03:00")):  # fmt: skip
        day = ADay()
        edit = day.act(GAFFER, "shot", "12c", number="12C")
        line = {"at_ms": at_ms, "by": GAFFER.person, "for_whom": "", "set": {"number": "12C"}}
        asked = {"do": "history_words", "record": "shot/12c", "lines": [line], "records": day.records, "utc_offset_min": offset}  # fmt: skip
        answer = json.loads(phone_door(json.dumps(asked)))
        assert answer["sentences"][0].endswith(told), (edit, answer)


@pytest.mark.parametrize(
    ("now", "planned", "at"),
    [
        ((2026, 11, 25, 22, 30), "00:30", (2026, 11, 25, 23, 30)),  # before midnight in Berlin, UTC + 1
        ((2026, 11, 25, 23, 10), "00:30", (2026, 11, 25, 23, 30)),  # after it: the same shot, the same night
        ((2026, 11, 26, 1, 0), "00:30", (2026, 11, 25, 23, 30)),  # and past it, still not tomorrow's
    ],
)
def test_a_shot_planned_after_midnight_stays_in_its_night(
    now: tuple[int, ...], planned: str, at: tuple[int, ...]
) -> None:
    """A night that is called at 18:00."""
    clock = DayClock(a_day_of("18:00"), now_ms=ms(*now), utc_offset_min=60)
    assert clock.at_ms(planned) == ms(*at)


@pytest.mark.parametrize(
    "now", [(2026, 10, 24, 20, 0), (2026, 10, 25, 0, 30), (2026, 10, 25, 1, 30), (2026, 10, 25, 3, 0)]
)
def test_a_night_that_is_an_hour_longer_keeps_its_call_and_its_plans(now: tuple[int, ...]) -> None:
    """Called at 18:00 CEST, 16:00 UTC; 02:30 is there twice, the first counts; 04:00 is CET, 03:00 UTC."""
    clock = DayClock(a_day_of("18:00"), now_ms=ms(*now), utc_offset_min=BACK_TABLE)
    assert clock.at_ms("18:00") == ms(2026, 10, 24, 16, 0)
    assert clock.at_ms("00:30") == ms(2026, 10, 24, 22, 30)
    assert clock.at_ms("02:30") == ms(2026, 10, 25, 0, 30)
    assert clock.at_ms("04:00") == ms(2026, 10, 25, 3, 0)


@pytest.mark.parametrize("now", [(2026, 3, 28, 20, 0), (2026, 3, 29, 0, 30), (2026, 3, 29, 2, 0)])
def test_a_night_that_is_an_hour_shorter_keeps_its_call_and_its_plans(now: tuple[int, ...]) -> None:
    """Called at 18:00 CET, 17:00 UTC; 02:30 is skipped and told as 03:30 CEST, 01:30 UTC; 04:00 is 02:00 UTC."""
    clock = DayClock(a_day_of("18:00"), now_ms=ms(*now), utc_offset_min=FORWARD_TABLE)
    assert clock.at_ms("18:00") == ms(2026, 3, 28, 17, 0)
    assert clock.at_ms("02:30") == ms(2026, 3, 29, 1, 30)
    assert clock.at_ms("04:00") == ms(2026, 3, 29, 2, 0)


@given(st.integers(-1439, 1439), st.integers(-720, 720), st.sampled_from([BACK_TABLE, FORWARD_TABLE]))
def test_moving_the_hands_lands_on_the_hour_that_they_show(
    minutes: int, near_min: int, table: list[list[int]]
) -> None:
    """Save in the hour that is skipped, which is told an hour later."""
    near_ms = table[1][0] + near_min * 60_000
    landed = shown.clock(place_clock.later_ms(near_ms, minutes, table), table)
    stood = shown.clock(near_ms, table)
    wanted = (int(stood[:2]) * 60 + int(stood[3:]) + minutes) % 1440
    told = int(landed[:2]) * 60 + int(landed[3:])
    is_skipped = table is FORWARD_TABLE and 120 <= wanted < 180
    assert told == (wanted + 60 if is_skipped else wanted) or (is_skipped and told == wanted)


def test_the_report_of_a_night_prints_each_act_by_the_clock_of_its_hour() -> None:
    """An act at 02:10 CEST (00:10 UTC) and one at 02:40 CET (01:40 UTC), printed next morning, and in January."""
    crew = Crew()
    crew.write(
        "Assistant director",
        "day",
        "night-crossing",
        {"title": "Night Crossing", "time_zone": "Europe/Berlin"},
    )
    for place, at_ms in enumerate((ms(2026, 10, 25, 0, 10), ms(2026, 10, 25, 1, 40))):
        crew.pens["Gaffer"].at_ms = at_ms
        crew.write("Gaffer", "hold", f"h{place}", {"why": f"reason {place}", "type": "stop"})
    for moment in (datetime.datetime(2026, 10, 25, 8, tzinfo=datetime.UTC), datetime.datetime(2027, 1, 20, 8, tzinfo=datetime.UTC)):  # fmt: skip
        day = WholeDay.of(crew.made, moment)
        text = " ".join(pages(printed(day_report.of_day(day), day)))
        log = re.findall(r"(\d\d:\d\d) (?:stop or watch: stop )?why: (reason \d)", text)
        assert log == [("02:10", "reason 0"), ("02:40", "reason 1")]
        assert day.title == "Night Crossing"


def test_a_day_keeps_its_name_on_both_sides_of_midnight(phone_door: Door) -> None:
    day = ADay()
    day.act(ASSISTANT_DIRECTOR, "day", "today", title="Night Crossing", date_label="Day 14 of 22", time_zone="Europe/Berlin")  # fmt: skip
    told = [
        day.ask(phone_door, "day", now_ms=now_ms, utc_offset_min=BACK_TABLE)["day"]
        for now_ms in (BACK - 4 * 3_600_000, BACK + 4 * 3_600_000)
    ]
    assert told[0] == told[1]
    assert (told[0]["title"], told[0]["date"], told[0]["time_zone"]) == (
        "Night Crossing",
        "Day 14 of 22",
        "Europe/Berlin",
    )
