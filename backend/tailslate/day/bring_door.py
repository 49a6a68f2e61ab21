"""What the phone asks about lists and files brought in, what changed, kit, who drinks what, and for paper: behind phone_door.py.

Imported when it is first asked, so that a sheet need not wait for it.
"""

from tailslate.day import bring_in, day_file, feed, kit, report, sheet, who_drinks
from tailslate.day.gathered import Gathered

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any


def _day_file_head(asked: "dict[str, Any]") -> "dict[str, Any]":
    sets = tuple(asked["sets"])
    faults = day_file.read_head(
        asked["head"], day=asked.get("day", ""), size_bytes=asked["size_bytes"], sets=sets
    )
    return {"faults": faults}


def _day_file_page(asked: "dict[str, Any]") -> "dict[str, Any]":
    taken, faults = day_file.read_page(
        asked["texts"],
        day=asked["day"],
        part=asked["part"],
        digests=asked["digests"],
        judged=asked["judged"],
    )
    first = asked["first"]
    for fault in faults:
        fault["place"] += first
    return {"taken": [one is not None for one in taken], "faults": faults}


def _told(asked: "dict[str, Any]") -> "dict[str, Any]":
    return {"units": asked.get("units", "metric"), "utc_offset_min": asked.get("utc_offset_min", 0)}


def _feed(asked: "dict[str, Any]") -> "dict[str, Any]":
    return {"rows": feed.of_lines(asked["lines"], asked["records"], mine=asked["mine"], **_told(asked))}


def _report_shot(asked: "dict[str, Any]") -> "dict[str, Any]":
    made = sheet.of_shot(asked["shot"], sheet.gather(asked["shot"], asked["records"], **_told(asked)))
    return {"report": report.of_shot(made, Gathered(asked["records"], **_told(asked)))}


def _report_day(asked: "dict[str, Any]") -> "dict[str, Any]":
    found = Gathered(asked["records"], **_told(asked))
    return {"parts": report.of_day(asked["shots"], asked["acts"], found, asked["incomplete"])}


ACTS = {
    "feed": _feed,
    "truck_list": lambda asked: {"groups": kit.truck_list(asked["records"], by=asked["by"])},
    "who_drinks": lambda asked: {"drinks": who_drinks.of_day(asked["records"])},
    "news": lambda asked: {"records": feed.news(asked["cells"], asked["records"], asked["mine"])},
    "report_shot": _report_shot,
    "report_day": _report_day,
    "bring_in": lambda asked: bring_in.read(asked, asked["records"]),
    "day_file_form": lambda _asked: {"file": day_file.FORMAT},
    "day_file_head": _day_file_head,
    "day_file_page": _day_file_page,
}
