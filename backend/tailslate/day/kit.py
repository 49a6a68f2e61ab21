"""Kit: what is there, and whether the shots that need it at once need more. Records -> figures and the truck's list.

K1 what nobody counted is never enough. K2 shots need a thing at once when their planned times overlap; a shot that nobody
planned, or whose length nobody said, may fall on any other: then it is not known. K3 what is done needs nothing any more.
"""

from tailslate.day import cautions, figures, names, shown
from tailslate.day.edit import is_whole
from tailslate.day.figures import OVER, UNKNOWN, WITHIN, Facts
from tailslate.day.gathered import VALUE, Gathered
from tailslate.day.merge import LIVE

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.figures import Figure
    from tailslate.day.gathered import Records

    Need = tuple[str, int, int | None, int | None]  # shot, how many, from and to [min after the call]

DAY_MIN = 1440
OWNERS = (("owned", "Owned"), ("hired", "Hired"), ("household", "In the house"), ("", "Nobody said whose"))
NO_PLACE = "No place said"
LABEL = "Needed at once"
FLAME_RETARDANT = {"yes": "flame-retardant", "no": "not flame-retardant"}


def of_shot(shot: str, records: Gathered) -> "list[dict[str, Any]]":
    """Return what a shot needs of the kit: list of dict, keys record, title, figures, caution.

    Args:
        shot: record key.
        records: the shot, what it needs, and all that need the same.
    """
    found = []
    for booking in records.pointing("booking", "shot", shot):
        key = records.target(booking, "kit")
        if records.is_there(key):
            found.append(_thing(key, records))
    return sorted(found, key=lambda one: (one["title"], one["record"]))


def _thing(key: str, records: Gathered) -> "dict[str, Any]":
    return {
        "record": key,
        "title": names.name_of(key, records),
        "figures": [needed(key, records)],
        "caution": None if _is_lamp(key, records) else cautions.of_dressing(key, records),
    }


def _is_lamp(key: str, records: Gathered) -> bool:
    """Tell whether it is a lamp: of all else people ask whether it burns, and what nobody said is no yes."""
    return records.text(key, "type") == "lamp"


def needed(key: str, records: Gathered) -> "Figure":
    """Return how many of a piece of kit are needed at once, against how many are there.

    Args:
        key: record key of the kit.
        records: the kit, its bookings with their shots, and the day.
    """
    facts = Facts(key, records)
    there = facts.number("count", "count it: what nobody counted is never enough")
    needs = _needs(key, records)
    if not needs:
        said = str(int(there)) + " there" if there is not None else shown.NOT_KNOWN
        made = figures.plain(LABEL, "none", said + ", no open shot asks for it")
        return made if there is not None else figures.unknown(LABEL, facts.missing)
    certain, possible = _at_once(needs)
    least, most = _sum(certain), _sum(possible)
    if there is None:
        return figures.unknown(
            LABEL, facts.missing, words=str(least) + " at least", line=_line(certain, records)
        )
    state = OVER if least > there else UNKNOWN if most > there else WITHIN
    count = str(least if state == OVER else most) + " of " + str(int(there))
    if state == UNKNOWN:
        missing = [
            {"record": shot, "field": _field_missing(at, to), "sentence": _ask(shot, records)}
            for shot, _count, at, to in possible
            if at is None or to is None
        ]
        line = _line(possible, records) + "; not known whether at once"
        return figures.unknown(LABEL, missing, line, words=count)
    return figures.plain(LABEL, count, _line(certain if state == OVER else possible, records), state=state)


def _needs(key: str, records: Gathered) -> "list[Need]":
    found = []
    call = _call(records)
    for booking in records.pointing("booking", "kit", key):
        shot = records.target(booking, "shot")
        if not records.is_there(shot) or records.text(shot, "phase") == "done":
            continue
        at = _minutes(records.text(shot, "planned_roll_time"))
        if at is not None:
            at = (at - call) % DAY_MIN
        long = _long_min(shot, records)
        to = at + long if at is not None and long is not None else None
        found.append((shot, _how_many(booking, records), at, to))
    return sorted(found, key=lambda one: one[0])


def _how_many(booking: str, records: Gathered) -> int:
    """Return how many a shot needs: of two answers the larger, one when nobody said."""
    cell = records.cell(booking, "count")
    said = [entry[VALUE] for entry in cell[LIVE]] if cell else []
    most: int = max([one for one in said if is_whole(one)] + [1])
    return most


def _call(records: Gathered) -> int:
    days = records.of_kind("day")
    return (_minutes(records.text(days[0], "call_time")) if days else None) or 0


def _long_min(shot: str, records: Gathered) -> "int | None":
    """Return how long a shot keeps what it needs, its own or the day's usual length; None when nobody said."""
    own = records.whole(shot, "shooting_min")
    days = records.of_kind("day")
    return own if own is not None else records.whole(days[0], "shooting_min") if days else None


def _minutes(text: str) -> "int | None":
    return int(text[:2]) * 60 + int(text[3:5]) if len(text) == 5 else None


def _at_once(needs: "list[Need]") -> "tuple[list[Need], list[Need]]":
    """Return the needs that surely fall together at the worst moment, and those that may."""
    moments: list[int] = sorted({one[2] for one in needs if one[2] is not None})
    certain: list[list[Need]] = [[one] for one in needs]  # a shot needs its own at once, whenever it rolls
    possible = [[one for one in needs if one[2] is None]]
    for moment in moments:
        certain.append([one for one in needs if _is_on(one, moment, surely=True)])
        possible.append([one for one in needs if _is_on(one, moment, surely=False)])
    return _most(certain), _most(possible + certain)


def _is_on(need: "Need", moment: int, *, surely: bool) -> bool:
    _shot, _count, at, to = need
    if at is None:
        return not surely
    if to is None:
        return at == moment or (not surely and at < moment)
    return at <= moment < to or at == moment


def _most(groups: "list[list[Need]]") -> "list[Need]":
    return max(groups, key=lambda some: (_sum(some), len(some), [one[0] for one in some]))


def _sum(needs: "list[Need]") -> int:
    return sum([one[1] for one in needs])


def _line(needs: "list[Need]", records: Gathered) -> str:
    return ", ".join([_number(shot, records) + " " + str(count) for shot, count, _at, _to in needs])


def _number(shot: str, records: Gathered) -> str:
    return records.text(shot, "number") or names.name_of(shot, records)


def _field_missing(at: "int | None", to: "int | None") -> str:
    return "planned_roll_time" if at is None else "shooting_min"


def _ask(shot: str, records: Gathered) -> str:
    return "say when " + _number(shot, records) + " is planned to roll, and its minutes"


def truck_list(records: "Records", *, by: str) -> "list[dict[str, Any]]":
    """Return all kit in groups, as it is loaded and handed back.

    Args:
        records: all of the kinds kit, booking, shot and day.
        by: "owner" or "place".
    Returns: list of dict, keys title, rows: list of dict, keys record, title, count (text), owner, place, rating, cost,
        flame_retardant (words), figure, caution; over first among equals.
    """
    found = Gathered(records)
    labels = dict(OWNERS)
    groups: dict[str, list[dict[str, Any]]] = {}
    for key in found.of_kind("kit"):
        owner, place = found.text(key, "owner"), found.text(key, "place")
        count = found.whole(key, "count")
        thing = _thing(key, found)
        row = {"record": key, "title": thing["title"], "owner": labels.get(owner, owner), "place": place}
        row["count"] = "not counted" if count is None else str(count)
        row.update({"rating": found.text(key, "rating"), "cost": found.text(key, "cost")})
        known = found.text(key, "flame_retardant")
        unsaid = "" if _is_lamp(key, found) else "flame-retardant: not known"
        row["flame_retardant"] = FLAME_RETARDANT.get(known, unsaid)
        row.update({"figure": thing["figures"][0], "caution": thing["caution"]})
        name = labels.get(owner, owner) if by == "owner" else place or NO_PLACE
        groups.setdefault(name, []).append(row)
    order = [label for _owner, label in OWNERS]
    titles = sorted(
        groups, key=lambda name: (order.index(name) if name in order else 0, name == NO_PLACE, name)
    )
    return [{"title": one, "rows": sorted(groups[one], key=lambda row: _place_of(row))} for one in titles]


def _place_of(row: "dict[str, Any]") -> "tuple[bool, str, str]":
    return (row["figure"]["state"] != OVER, row["title"].lower(), row["record"])
