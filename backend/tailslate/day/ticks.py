"""What a tick was ticked for, whether it still holds, and what changed since.

Knows one tick at a time. T1 a tick keeps the stored values of its inputs, never a computed figure.
T2 it is stale when an input now differs by its field's step or more, is gone, or has two answers.
T3 of several done ticks one fresh one is enough; not done wins. T4 while the shot rolls, and
once it is done, nothing asks again.
"""

from tailslate.craft.rounding import compare
from tailslate.day import derived, gathered, kinds, merge, names
from tailslate.day.gathered import kind_of, number_of
from tailslate.day.keys import ends_of, joined, record_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Entry, Gathered

OPEN, DONE, AGAIN, TWO, OFF = "open", "done", "again", "two", "off"
WORDS = {OPEN: "", DONE: "done", AGAIN: "again", TWO: "two", OFF: "no longer asked"}
# What each tick is for, on its own record; a task adds what it relies on.
INPUTS = {
    "task/done": ("title", "amount", "unit", "place"),
    "dressing/in_place": ("place", "material", "reflectance_ratio", "width_m", "depth_m"),
    "drink/round_done": ("mixed_from", "allergens"),
    "drink/mixed": ("mixed_from", "glass", "fill_l", "glasses", "spares", "resets"),
    "food/round_done": ("made_from", "allergens"),
    "mark/laid": ("title", "colour", "place"),
    "rig/safety_on": ("load_kg", "offset_m", "overhead", "source"),
    "hold/cleared": ("why", "type", "on", "shot", "scene"),
}
# What a tick is for on the parts of its record, by the kind of the part.
INPUTS_OF_PARTS = {
    "drink/round_done": ("ingredient", "drink", ("title", "allergens")),
    "drink/mixed": ("ingredient", "drink", ("title", "parts")),
}
# How a quantity moves, in the words of the floor: (when it falls, when it rises).
MOVES = {
    "distance_m": ("moved in", "moved back"),
    "gap_m": ("moved in", "moved out"),
    "height_m": ("lowered", "raised"),
    "camera_height_m": ("lowered", "raised"),
    "camera_distance_m": ("moved in", "moved back"),
}


def inputs(key: str, field: str, records: "Gathered") -> "list[str]":
    """Return the cell keys that a tick is for.

    Args:
        key: record key.
        field: the tick's field.
        records: the record and what its tick relies on.
    """
    kept: dict[str, list[str]] = records.worked_out.setdefault(field, {})
    if key not in kept:
        kept[key] = _inputs(key, field, records)
    return kept[key]


def _inputs(key: str, field: str, records: "Gathered") -> "list[str]":
    name = joined(kind_of(key), field)
    found = derived.inputs(key, records) if name == "task/done" else None
    cells = [joined(key, one) for one in INPUTS.get(name, ())] if found is None else found
    if name in INPUTS_OF_PARTS:
        part_kind, end, fields = INPUTS_OF_PARTS[name]
        for part in records.pointing(part_kind, end, key):
            cells.extend([joined(part, one) for one in fields])
    if kind_of(key) == "task":
        for one in relies_on(key, records):
            if one not in cells:
                cells.append(one)
    return cells


def relies_on(task: str, records: "Gathered") -> "list[str]":
    """Return the cell keys that a person said a task relies on."""
    found = records.value(task, "relies_on")
    return (
        [one for one in found if isinstance(one, str) and one.count("/") == 2]
        if isinstance(found, list)
        else []
    )


def value_if_ticked(key: str, field: str, records: "Gathered") -> "list[Any]":
    """Return the value of a tick made now: done, for the stored values of its inputs.

    Of a derived task what nobody has filled in is left out: its id says what else it is for.

    Args:
        key: record key.
        field: the tick's field.
        records: the record and what its tick relies on.
    """
    pairs = []
    is_derived = derived.read(key, records) is not None
    for cell_key in inputs(key, field, records):
        record, name = ends_of(cell_key)
        value = records.value(record, name)
        if value is not None or not is_derived:
            pairs.append([cell_key, value])
    return ["done", pairs]


def state(key: str, field: str, records: "Gathered") -> "dict[str, Any]":
    """Return how a tick stands.

    Args:
        key: record key.
        field: the tick's field.
        records: the record and what its tick relies on.
    Returns: dict, keys state (open, done, again, two), entry (the live entry that says so, or None),
        changes (list of sentences: why it asks again).
    """
    cell = records.cell(key, field)
    live = cell[merge.LIVE] if cell else []
    if not live:
        return {"state": OPEN, "entry": None, "changes": []}
    if not kinds.is_done(live[0][gathered.VALUE]):
        is_split = bool(cell) and cell is not None and cell[merge.MARK] == merge.CAREFUL
        return {"state": TWO if is_split else OPEN, "entry": live[0], "changes": []}
    if not records.asks_again:  # T4
        return {"state": DONE, "entry": live[0], "changes": []}
    best: list[str] | None = None
    holder = live[0]
    for entry in live:
        found = changes(key, field, entry, records)
        if best is None or len(found) < len(best):
            best, holder = found, entry
    if best:
        return {"state": AGAIN, "entry": holder, "changes": best}
    return {"state": DONE, "entry": holder, "changes": []}


def changes(key: str, field: str, entry: "Entry", records: "Gathered") -> "list[str]":
    """Return in sentences what differs now from what a tick was ticked for, [] when it is fresh.

    Args:
        key: record key.
        field: the tick's field.
        entry: the live entry, its value done.
        records: the record and what its tick relies on.
    """
    sentences, known = [], set()
    steps = derived.steps(key, records)
    is_derived = derived.read(key, records) is not None
    for cell_key, was in entry[gathered.VALUE][1]:
        known.add(cell_key)
        if _is_as_it_was(cell_key, was, records):
            continue
        own_step = steps.get(kind_of(cell_key) + "/" + ends_of(cell_key)[1], "") if steps else ""
        sentence = _change(cell_key, was, records, own_step)
        if sentence:
            sentences.append(sentence)
    for cell_key in inputs(key, field, records):
        if cell_key in known or record_of(cell_key) == key:
            continue
        if records.value(*ends_of(cell_key)) is not None:
            if is_derived:
                sentences.append(_change(cell_key, None, records, ""))
            else:
                sentences.append("it now relies on " + names.cell_name(cell_key, records) + " as well")
    return sentences


def _is_as_it_was(cell_key: str, was: "Any", records: "Gathered") -> bool:
    """Tell in one look whether an input is untouched, as most are; what may have changed is looked at closely."""
    record, field = ends_of(cell_key)
    fields = records.records.get(record)
    cell = fields.get(field) if fields and "present" not in fields else None
    if not cell or not cell[merge.LIVE] or cell[merge.MARK] in (merge.TWO, merge.CAREFUL):
        return False
    return bool(cell[merge.LIVE][0][gathered.VALUE] == was)


def _change(cell_key: str, was: "Any", records: "Gathered", step: str) -> str:
    record, field = ends_of(cell_key)
    if record in records.records and not records.is_there(record):
        entry = records.entry(record, "present")
        return names.signed(names.name_of(record, records) + " is no longer on the day", entry, records)
    cell = records.cell(record, field)
    if cell and cell[merge.MARK] in (merge.TWO, merge.CAREFUL):
        return names.cell_name(cell_key, records) + " has two answers: pick one first"
    now = cell[merge.LIVE][0][gathered.VALUE] if cell and cell[merge.LIVE] else None
    if was == now:
        return ""
    kind = kind_of(record)
    if not has_moved(kind, field, was, now, step):
        return ""
    entry, name = records.entry(record, field), names.name_of(record, records)
    said = (
        names.value_words(record, field, was, records)
        + ", now "
        + names.value_words(record, field, now, records)
    )
    return names.signed(_lead(name, kind, field, was, now) + ": " + said, entry, records)


def has_moved(kind: str, field: str, was: "Any", now: "Any", step: str = "") -> bool:
    """Tell whether a value differs from another by the field's step or more.

    Args:
        kind: kind of the record.
        field: name of the field.
        was: stored value then.
        now: stored value now.
        step: of the task's template, in place of the field's; "" for the field's own.
    """
    if was == now:
        return False
    known = kinds.field_of(kind, field)
    if not known or was is None or now is None:
        return True
    if known.type == "quantity":
        first, last = number_of(was), number_of(now)
        if first is None or last is None:
            return True
        if not step and not known.step:
            return compare(first, last) != 0
        return compare(abs(first - last), float(step or known.step)) >= 0
    return bool(kinds.comparable(kind, field, was) != kinds.comparable(kind, field, now))


def _lead(name: str, kind: str, field: str, was: "Any", now: "Any") -> str:
    first, last = number_of(was), number_of(now)
    if field in MOVES and first is not None and last is not None:
        return name + " " + MOVES[field][0 if compare(last, first) < 0 else 1]
    known = kinds.field_of(kind, field)
    return name + ", " + (known.label if known else field)
