"""The end of the day on paper: the parts of day/report.py as blocks, page by page."""

from __future__ import annotations

from typing import Any

from tailslate.day import report
from tailslate.pack import blocks, told
from tailslate.pack.blocks import Block
from tailslate.pack.whole_day import WholeDay

NEW_PAGE = ("holds", "safety")
SAME_PAGE = ("used",)  # a part of its own, short enough to follow


def of_day(day: WholeDay) -> list[Block]:
    """Return the report as blocks."""
    shots = [report.of_shot(one.sheet, day.found) for one in day.shots]
    first, *rest = report.of_day(shots, _acts_on_holds(day), day.found, day.incomplete)
    made = [blocks.part(first["title"]), blocks.strip("", day.title), *told.parts([{**first, "title": ""}])]
    for one in shots:
        made.append(blocks.part(f"Shot {one['number']} as it stands"))
        made.append(blocks.strip(one["number"], one["title"], one["phase"]))
        made += told.parts(one["parts"])
    for part in rest:
        if part["name"] in NEW_PAGE + SAME_PAGE:
            made.append(blocks.part(part["title"], on_a_new_page=part["name"] in NEW_PAGE))
            part["title"] = ""
        made += told.parts([part])
        if part["name"] == "holds":
            for held in day.page["holds"]:
                made.append(blocks.hold(held["line"], "STILL HELD" if held["type"] != "watch" else "WATCH"))
    return made


def _acts_on_holds(day: WholeDay) -> list[dict[str, Any]]:
    """Return every act on a hold, as a phone reads them from its history."""
    return [
        {
            "id": one.id,
            "record": one.record_key,
            "at_ms": one.at_ms,
            "by": one.by,
            "for_whom": one.for_whom,
            "set": {change[0]: change[1] for change in one.changes},
        }
        for one in day.edits
        if one.kind == "hold"
    ]
