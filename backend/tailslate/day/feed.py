"""What changed on the day, edit by edit, in plain words: whose department, what, from, to, when; and how to undo it.

Knows no store. F1 departments are named; people only where the day names them: holds and safety ticks. F2 an undo is a
new edit and never a reserved act: whoever undoes a raised hold has to clear it. F3 an undo never loosens: a tick that
was taken away, a stop that was raised, an answer 'no' come back only by an act of one's own.
"""

from tailslate.day import history, kinds, merge, names, shown
from tailslate.day.gathered import Gathered, id_of, kind_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Records
    from tailslate.day.place_clock import Offset

    Line = dict[str, Any]

SERVERS_OWN = ("verdict", "void")
NAMES_PEOPLE = ("hold/", "rig/safety_on", "drink/round_done", "food/round_done")
NOT_TOLD = ("order", "taken_for", "relies_on", "digest", "width_px", "height_px", "bytes")
FIELDS_TOLD = 5
FOR_ONE = {"task": "department", "request": "to_department", "template": "department"}


def of_lines(
    lines: "list[Line]",
    records: "Records",
    *,
    mine: "list[str]",
    units: str = "metric",
    utc_offset_min: "Offset" = 0,
) -> "list[dict[str, Any]]":
    """Return a row for each edit, in the order given; none for what a server says of edits.

    Args:
        lines: list of dict, keys id, record, set (field to value), was (field to list of the values that it replaced),
            live (fields in which it stands), is_first (the first edit of its record), by, for_whom, at_ms.
        records: what the edits are on, what that points to, and the people.
        mine: department names of this phone.
        units: "metric" or "imperial".
        utc_offset_min: minutes that the place's clock is ahead of UTC.
    Returns: list of dict, keys id, record, title, who, at (clock), did ("" | "added" | "removed" | "back"), changes
        (list of sentences), more (how many changes are not told), for_mine, by_mine, and undo: dict with acts (list of
        dict kind, record, set, painted), remove (record key or ""), why_not.
    """
    found = Gathered(records, units=units, utc_offset_min=utc_offset_min)
    return [_row(line, found, mine) for line in lines if kind_of(line["record"]) not in SERVERS_OWN]


def _row(line: "Line", records: Gathered, mine: "list[str]") -> "dict[str, Any]":
    key = line["record"]
    told = sorted([field for field in line["set"] if field not in NOT_TOLD and field != "present"])
    changes = [_change(key, field, line, records) for field in told[:FIELDS_TOLD]]
    by = _departments(line, records)
    row: dict[str, Any] = {"id": line["id"], "record": key, "title": names.name_of(key, records)}
    row.update({"who": _who(line, records), "at": shown.clock(line["at_ms"], records.utc_offset_min)})
    row.update({"did": _did(line), "changes": changes, "more": max(0, len(told) - FIELDS_TOLD)})
    row.update(
        {
            "for_mine": bool(line["by"]) and is_for(key, mine, records),
            "by_mine": any([one in mine for one in by]),
        }
    )
    row["undo"] = undo(line, records)
    return row


def _did(line: "Line") -> str:
    present = line["set"].get("present")
    if isinstance(present, list):
        return "removed"
    if present is True:
        return "back"
    return "added" if line["is_first"] else ""


def _change(key: str, field: str, line: "Line", records: Gathered) -> str:
    kind = kind_of(key)
    known = kinds.field_of(kind, field)
    now = names.value_words(key, field, line["set"][field], records)
    if (kind, field) == ("task", "done"):
        return now
    sentence = (known.label if known else field + " (made with a newer version)") + ": " + now
    before = [names.value_words(key, field, one, records) for one in line["was"].get(field, [])]
    before = [one for one in before if one != now]
    return sentence + (", was " + " and ".join(before) if before else "")


def _who(line: "Line", records: Gathered) -> str:
    entry = _entry(line)
    if not line["by"]:
        return "The server"
    places = [line["record"] + "/" + field for field in line["set"]]
    named = [kind_of(place) + "/" + place[place.rfind("/") + 1 :] for place in places]
    if kind_of(line["record"]) == "hold" or any([one in NAMES_PEOPLE for one in named]):
        return history.person(line, records)
    who = names.who(entry, records)
    return who[0].upper() + who[1:]


def _entry(line: "Line") -> "list[Any]":
    return [line["id"], None, line["at_ms"], line["by"], line["for_whom"], "", 0]


def _departments(line: "Line", records: Gathered) -> "list[str]":
    return records.people_of(_entry(line))


def is_for(key: str, mine: "list[str]", records: Gathered) -> bool:
    """Tell whether a record is for one of these departments; what is for no department alone is for all."""
    kind = kind_of(key)
    if kind in FOR_ONE:
        return records.text(key, FOR_ONE[kind]) in mine
    known = kinds.KINDS.get(kind)
    return not known or not known.departments or any([one in mine for one in known.departments])


def news(cells: "list[list[str]]", records: "Records", mine: "list[str]") -> "list[str]":
    """Return which records hold something new from another department for these: sorted record keys.

    Args:
        cells: list of [record key, author, for whom] of edits that just arrived.
        records: those records and the people.
        mine: department names of this phone.
    """
    found = Gathered(records)
    keys = set()
    for key, by, for_whom in cells:
        authors = found.people_of(["", None, 0, by, for_whom])
        foreign = by and not any([one in mine for one in authors])
        if foreign and kind_of(key) not in SERVERS_OWN + ("person",) and is_for(key, mine, found):
            keys.add(key)
    return sorted(keys)


def undo(line: "Line", records: Gathered) -> "dict[str, Any]":
    """Return how one edit is undone: the acts, or the record to remove, or why it is not undone here."""
    key = line["record"]
    if not line["by"] or kind_of(key) in SERVERS_OWN:
        return _no("The server said this; it is not undone here.")
    there = merge.presence(key, {key: records.records.get(key, {})})
    if line["is_first"] or line["set"].get("present") is True:
        if kind_of(key) == "hold":
            return _no("This raised a hold. A hold is cleared, never undone: open it.")
        if there == "removed":
            return _no("It is off the day already.")
        known = kinds.KINDS.get(kind_of(key))
        if known and known.reserved:
            return _no("Only some may do this: open it.")
        return {"acts": [], "remove": key, "why_not": ""}
    changes, loosens = _changes_back(line, records)
    if loosens:
        return _no(loosens + " does not come back by an undo: open it and say so yourself.")
    if not changes:
        return _no("It stands as it was before.")
    rows = [[field, changes[field]] for field in sorted(changes)]
    if kinds.reserved_for(kind_of(key), rows):
        return _no("Only some may do this: open it.")
    act: dict[str, Any] = {"kind": kind_of(key), "record": id_of(key), "set": changes}
    act["painted"] = {field: records.painted(key, field) for field in changes}
    return {"acts": [act], "remove": "", "why_not": ""}


def _no(sentence: str) -> "dict[str, Any]":
    return {"acts": [], "remove": "", "why_not": sentence}


def _changes_back(line: "Line", records: Gathered) -> "tuple[dict[str, Any], str]":
    """Return the values from before, and the label of a field that would become less careful by them."""
    key = line["record"]
    kind = kind_of(key)
    changes: dict[str, Any] = {}
    for field in line["set"]:
        known = kinds.field_of(kind, field)
        if field == "present":
            changes[field] = True  # a removal is undone by bringing it back
            continue
        was = line["was"].get(field, [])
        nothing = False if known and known.type == "tick" else None
        before = was[0] if was else nothing
        now = records.value(key, field)
        if kinds.comparable(kind, field, now) == kinds.comparable(kind, field, before):
            continue
        if known and known.rule == "careful":
            if kinds.careful_rank(kind, field, before) > kinds.careful_rank(kind, field, now):
                return {}, known.label
        changes[field] = before
    return changes, ""
