"""The history of one record in plain sentences, which name people. What changed on the day, feed.py tells.

Knows no merge: it is handed lines.
"""

from tailslate.day import kinds, names, shown
from tailslate.day.gathered import Gathered, kind_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Records
    from tailslate.day.place_clock import Offset


def of_record(
    record: str,
    lines: "list[dict[str, Any]]",
    records: "Records",
    *,
    units: str = "metric",
    utc_offset_min: "Offset" = 0,
) -> "list[str]":
    """Return one sentence for each line of a record's history, with the person's role and the time.

    Args:
        record: record key.
        lines: list of dict, keys set (field to value), by, for_whom, at_ms.
        records: the people who made them, and what values point to.
        units: "metric" or "imperial".
        utc_offset_min: minutes that the place's clock is ahead of UTC.
    """
    found = Gathered(records, units=units, utc_offset_min=utc_offset_min)
    clock = [" " + shown.clock(line["at_ms"], utc_offset_min) for line in lines]
    return [_said(record, one, found) + ". " + person(one, found) + when for one, when in zip(lines, clock)]


def _said(record: str, line: "dict[str, Any]", found: Gathered) -> str:
    parts = []
    for field in sorted(line["set"]):
        known = kinds.field_of(kind_of(record), field)
        label = known.label if known else field + " (made with a newer version)"
        parts.append(label + ": " + names.value_words(record, field, line["set"][field], found))
    return "; ".join(parts)


def person(line: "dict[str, Any]", found: Gathered) -> str:
    """Return who made an edit by their role, and for whom: "Key grip for Gaffer".

    Args:
        line: dict with keys by, for_whom.
        found: with the people.
    """
    if not line["by"]:
        return "The server"
    said = _role(line["by"], found)
    if line["for_whom"] and line["for_whom"] != line["by"]:
        said += " for " + _role(line["for_whom"], found)
    return said


def _role(person: str, found: Gathered) -> str:
    key = "person/" + person
    return found.text(key, "role") or found.text(key, "name") or "someone"
