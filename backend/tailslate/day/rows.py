"""The rows of a shot: everything that can be ticked, with what it is for and why it asks again.

Knows no light and no readiness. W1 the order of rows depends on what people set as order and on ids,
never on a state: a row does not move when it is ticked. W2 a tick whose task is gone stays to be seen,
as 'no longer asked'.
"""

from tailslate.day import cautions, gathered, kinds, names, shown, ticks
from tailslate.day.gathered import kind_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered

    Row = dict[str, Any]
    Thing = dict[str, Any]

MARKS = {"key": "marks", "title": "Marks"}
LAST = 100001  # order of what nobody gave an order
OWNER = {"dressing": "art", "drink": "props", "food": "props", "mark": "camera", "rig": "grip"}
VERBS = {
    "dressing/in_place": "In place",
    "drink/round_done": "Allergy round done",
    "drink/mixed": "Mixed and filled",
    "food/round_done": "Allergy round done",
    "rig/safety_on": "Safety on",
}
FACTS = {
    "drink": (
        "mixed_from",
        "glass",
        "fill_l",
        "line_height_m",
        "glasses",
        "spares",
        "resets",
        "allergens",
        "mixed_time",
    ),
    "food": ("made_from", "portions", "allergens", "made_time"),
    "dressing": ("place", "material", "reflectance_ratio", "width_m", "depth_m", "flame_retardant"),
    "circuit": ("place", "breaker_a", "voltage_v", "mapped", "residual_current_protected"),
    "rig": (
        "load_kg",
        "offset_m",
        "stand_kg",
        "legs",
        "leg_radius_m",
        "bags",
        "bag_kg",
        "rating_kg",
        "overhead",
    ),
}


def row(key: str, field: str, records: "Gathered", **more: "Any") -> "Row":
    """Return one row.

    Args:
        key: record key of what is ticked.
        field: the tick's field.
        records: the record and what its tick relies on.
        more: keys of the row that are not at their usual value: title, second, department, must,
            amount, unit, caution, group, fold.
    Returns: dict, keys record, field, title, second, department, must, state, amount, unit, word, changes,
        by, at_ms, for_whom, how, value_if_ticked, painted, caution, order, group, fold (dict, keys key and
        title of the stand or glass that it is folded into; None), is_folded, derived (dict, keys template, from,
        when, minutes (low, likely, high), needs (cell keys of ticks that come first); None when people made it).
    """
    found = ticks.state(key, field, records)
    entry = found["entry"]
    order = records.whole(key, "order")
    return {
        "record": key,
        "field": field,
        "title": more.get("title") or names.name_of(key, records),
        "second": more.get("second", ""),
        "department": more.get("department", OWNER.get(kind_of(key), "")),
        "must": more.get("must", True),
        "state": found["state"],
        "amount": more.get("amount", ""),
        "unit": more.get("unit", ""),
        "word": ticks.WORDS[found["state"]],
        "changes": found["changes"],
        "by": entry[gathered.BY] if entry else "",
        "at_ms": entry[gathered.AT_MS] if entry else 0,
        "for_whom": entry[gathered.FOR_WHOM] if entry else "",
        "how": entry[gathered.HOW] if entry else "",
        "value_if_ticked": ticks.value_if_ticked(key, field, records),
        "painted": {field: records.painted(key, field)},
        "caution": more.get("caution"),
        "order": LAST if order is None else order,
        "group": more.get("group", ""),
        "fold": more.get("fold"),
        "is_folded": False,
        "derived": None,
    }


def in_order(rows: "list[dict[str, Any]]") -> "list[dict[str, Any]]":
    """Return rows, or things, by their order, then by record: the same on every copy."""
    placed = sorted([(one["order"], one["record"], at) for at, one in enumerate(rows)])
    return [rows[found[2]] for found in placed]


def tasks(shot: str, records: "Gathered") -> "list[Row]":
    """Return the rows of the tasks of a shot, and of those of its scene that name no shot.

    Args:
        shot: record key of the shot.
        records: the shot with what it reads.
    """
    scene = records.target(shot, "scene")
    found = []
    for key in records.of_kind("task"):
        on_shot, on_scene = records.target(key, "shot"), records.target(key, "scene")
        if on_shot == shot or (not on_shot and scene and on_scene == scene):
            found.append(_task(key, records))
    return in_order(found)


def _task(key: str, records: "Gathered") -> "Row":
    hazard = records.text(key, "hazard")
    made = row(
        key,
        "done",
        records,
        second=records.text(key, "place"),
        department=records.text(key, "department"),
        must=records.text(key, "must") != "nice",
        amount=records.text(key, "amount"),
        unit=records.text(key, "unit"),
        caution=cautions.of_hazard(hazard),
    )
    if not records.text(key, "title"):
        made["state"], made["word"], made["changes"] = ticks.OFF, ticks.WORDS[ticks.OFF], []
        made["must"] = False
    return made


def marks(shot: str, records: "Gathered") -> "list[Row]":
    """Return the rows of a shot's marks.

    Args:
        shot: record key of the shot.
        records: the shot with what it reads.
    """
    found = []
    for key in records.pointing("mark", "shot", shot):
        said = [records.text(key, name) for name in ("colour", "place")]
        second = ", ".join([one for one in said if one])
        title = "Mark, " + names.name_of(key, records)
        found.append(row(key, "laid", records, title=title, second=second, fold=MARKS))
    return in_order(found)


def glasses(shot: str, records: "Gathered") -> "list[Thing]":
    """Return the drinks and the food of a shot's scene, each with its facts and rows.

    A drink is cleared only by an allergy round that is done and fresh; until then it says so.

    Args:
        shot: record key of the shot.
        records: the shot with what it reads.
    """
    scene = records.target(shot, "scene")
    things = []
    for kind in ("drink", "food"):
        for key in records.pointing(kind, "scene", scene) if scene else ():
            made = _thing(key, ("round_done", "mixed") if kind == "drink" else ("round_done",), records)
            made["caution"] = of_glass(key, records)
            for one in made["rows"]:
                one["caution"] = made["caution"]
            things.append(made)
    return in_order(things)


def of_glass(key: str, records: "Gathered") -> "dict[str, str]":
    """Return the caution of a drink or a food: not cleared without an allergy round that is done and fresh.

    Args:
        key: record key of the drink or the food.
        records: the record with its ingredients.
    """
    cleared = ticks.state(key, "round_done", records)["state"] == ticks.DONE
    return cautions.caution("food" if cleared else "not_cleared")


def dressing(shot: str, records: "Gathered") -> "list[Thing]":
    """Return the dressing that serves a shot, each with its facts and rows.

    Args:
        shot: record key of the shot.
        records: the shot with what it reads.
    """
    things = []
    for serves in records.pointing("serves", "shot", shot):
        key = records.target(serves, "dressing")
        if records.is_there(key):
            made = _thing(key, ("in_place",), records)
            use = records.text(serves, "use")
            made["facts"].insert(
                0, {"label": "serves as", "shown": use or shown.NOT_KNOWN, "field": "use", "record": serves}
            )
            made["rows"][0]["second"] = ", ".join([one for one in (records.text(key, "place"), use) if one])
            made["caution"] = cautions.of_dressing(key, records)
            things.append(made)
    return in_order(things)


def rigs(shot: str, records: "Gathered") -> "list[Thing]":
    """Return the rigs of the sources in a shot; a safety is asked unless someone said 'not over people'.

    Args:
        shot: record key of the shot.
        records: the shot with what it reads.
    """
    things = []
    for key in rig_keys(shot, records):
        fields = () if records.text(key, "overhead") == "no" else ("safety_on",)
        made = _thing(key, fields, records)
        made["caution"] = cautions.of_rig(key, records)
        for one in made["rows"]:
            one["caution"] = made["caution"]
        things.append(made)
    return in_order(things)


def circuits(shot: str, records: "Gathered") -> "list[Thing]":
    """Return the circuits that feed the sources in a shot, each with its facts; none has a tick.

    Args:
        shot: record key of the shot.
        records: the shot with what it reads.
    """
    keys = set([records.target(source, "circuit") for source in sources(shot, records)])
    things = []
    for key in sorted(keys):
        if records.is_there(key):
            made = _thing(key, (), records)
            made["caution"] = cautions.of_circuit(key, records)
            things.append(made)
    return in_order(things)


def rig_keys(shot: str, records: "Gathered") -> "list[str]":
    """Return the keys of the rigs that hold the sources in a shot, or what stands before them, sorted."""
    keys = set()
    for source in sources(shot, records):
        keys.update(records.pointing("rig", "source", source))
        held_by = [records.target(layer, "rig") for layer in records.pointing("layer", "source", source)]
        keys.update([key for key in held_by if records.is_there(key)])
    return sorted(keys)


def sources(shot: str, records: "Gathered") -> "list[str]":
    """Return the keys of the sources that are in a shot and burn in it or may, sorted."""
    keys = set()
    for level in records.pointing("level", "shot", shot):
        source = records.target(level, "source")
        if records.is_there(source) and records.text(level, "on") != "no":
            keys.add(source)
    return sorted(keys)


def _thing(key: str, fields: "tuple[str, ...]", records: "Gathered") -> "Thing":
    kind, name = kind_of(key), names.name_of(key, records)
    fold = None if kind == "dressing" else {"key": key, "title": name}
    rows = []
    for field in fields:
        verb = VERBS[kind + "/" + field]
        rows.append(
            row(key, field, records, title=name + ": " + verb[0].lower() + verb[1:], group=name, fold=fold)
        )
    facts = []
    for field in FACTS[kind]:
        facts.append(fact(key, field, records))
    order = records.whole(key, "order")
    return {
        "record": key,
        "title": name,
        "facts": facts,
        "rows": rows,
        "caution": None,
        "order": LAST if order is None else order,
    }


def fact(key: str, field: str, records: "Gathered") -> "dict[str, str]":
    """Return one fact as a sheet lists it: keys label, shown, field, record."""
    known = kinds.field_of(kind_of(key), field)
    words = names.value_words(key, field, records.value(key, field), records)
    return {"label": known.label if known else field, "shown": words, "field": field, "record": key}


def all_rows(rows: "dict[str, list[dict[str, Any]]]") -> "list[Row]":
    """Return every row of a sheet's `rows`, those inside things too, in their order."""
    found = list(rows["tasks"])
    for name in ("glasses", "dressing", "rigs"):
        for thing in rows[name]:
            found.extend(thing["rows"])
    found.extend(rows["marks"])
    return found
