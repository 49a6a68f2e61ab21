"""The records that a sheet was handed, read by field: the value shown, its ends, what points where.

Knows nothing of what a shot needs. G1 what is removed is not read, save a hold. G2 a value that is not
of its field's type (a newer version wrote it) reads as not known, never as a number.
"""

from tailslate.day import check, keys, kinds, merge
from tailslate.day.keys import joined
from tailslate.day.keys import kind_of as kind_of
from tailslate.day.keys import record_of as record_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.merge import Cell
    from tailslate.day.place_clock import Offset

    Records = dict[str, dict[str, Cell]]
    Entry = list[Any]

LIVE = merge.LIVE
_numbers: "dict[str, float | None]" = {}  # text -> number: read once
VALUE, AT_MS, BY, FOR_WHOM, HOW = 1, 2, 3, 4, 5  # places in a live entry


class Gathered:
    """Records by key, and how their values are to be told.

    Attributes: records (record key to field to cell); units ("metric" or "imperial");
    utc_offset_min (minutes that the place's clock is ahead of UTC, for times in sentences);
    asks_again (no while a shot rolls, and once it is done: then nothing re-opens); worked_out (what a rule
    found for a record, kept for the length of one call: the records do not change in it); names (the same of what
    records are called, record key to name).
    """

    def __init__(self, records: "Records", *, units: str = "metric", utc_offset_min: "Offset" = 0) -> None:
        """Index the records by kind."""
        self.records = records
        self.units = units
        self.utc_offset_min = utc_offset_min
        self.asks_again = True
        self.worked_out: dict[Any, Any] = {}
        self.names: dict[str, str] = {}
        self._targets: dict[str, dict[str, str]] = {}
        self._of_kind: dict[str, list[str]] = {}
        for key in sorted(records):
            self._of_kind.setdefault(kind_of(key), []).append(key)
        self._parts: dict[str, list[str]] = {}
        for name, kind in kinds.KINDS.items():
            for key in self._of_kind.get(name, []) if kind.part_of else []:
                self._parts.setdefault(self.target(key, kind.part_of), []).append(key)
        self._there: dict[str, bool] = {}
        self._pointing: dict[tuple[str, str], dict[str, list[str]]] = {}

    def cell(self, key: str, field: str) -> "Cell | None":
        """Return the cell of a field, None when nobody has set it."""
        return self.records.get(key, {}).get(field)

    def entry(self, key: str, field: str) -> "Entry | None":
        """Return the live entry shown for a field, None when there is none."""
        fields = self.records.get(key)
        cell = fields.get(field) if fields else None
        return cell[LIVE][0] if cell and cell[LIVE] else None

    def value(self, key: str, field: str) -> "Any":
        """Return the value shown for a field, None when it is not known."""
        fields = self.records.get(key)  # read some thousand times a sheet, by three of these: no call within
        cell = fields.get(field) if fields else None
        return cell[LIVE][0][VALUE] if cell and cell[LIVE] else None

    def text(self, key: str, field: str) -> str:
        """Return a text or a choice, "" when it is not known."""
        fields = self.records.get(key)
        cell = fields.get(field) if fields else None
        value = cell[LIVE][0][VALUE] if cell and cell[LIVE] else None
        return value if isinstance(value, str) else ""

    def whole(self, key: str, field: str) -> "int | None":
        """Return a count, None when it is not known."""
        value = self.value(key, field)
        return value if isinstance(value, int) and value is not True and value is not False else None

    def number(self, key: str, field: str) -> "float | None":
        """Return a quantity in its field's unit, None when it is not known."""
        fields = self.records.get(key)
        cell = fields.get(field) if fields else None
        return number_of(cell[LIVE][0][VALUE]) if cell and cell[LIVE] else None

    def is_split(self, key: str, field: str) -> bool:
        """Tell whether a field has two answers that differ."""
        cell = self.cell(key, field) if key else None
        return cell is not None and cell[merge.MARK] in (merge.TWO, merge.CAREFUL)

    def painted(self, key: str, field: str) -> "list[str]":
        """Return the ids of the live edits of a field: what an act on it has seen."""
        cell = self.cell(key, field)
        return [entry[0] for entry in cell[LIVE]] if cell else []

    def keys_of(self, kind: str) -> "list[str]":
        """Return the keys of a kind that were handed in, removed ones too, sorted."""
        return self._of_kind.get(kind, [])

    def of_kind(self, kind: str) -> "list[str]":
        """Return the keys of a kind that are on the day, sorted."""
        return [key for key in self.keys_of(kind) if self.is_there(key)]

    def pointing(self, kind: str, field: str, target: str) -> "list[str]":
        """Return the keys of a kind whose field points to a record, sorted."""
        index = self._pointing.get((kind, field))
        if index is None:
            index = self._pointing[(kind, field)] = {}
            for key in self.of_kind(kind):
                index.setdefault(self.target(key, field), []).append(key)
        return index.get(target, [])

    def target(self, key: str, field: str) -> str:
        """Return the key of the record that a reference points to, "" when it points nowhere."""
        of_field = self._targets.get(field)
        if of_field is None:
            of_field = self._targets[field] = {}
        known = of_field.get(key)
        if known is None:
            found = pointed_at(kind_of(key), field, self.value(key, field))
            known = of_field[key] = found[0] if found else ""
        return known

    def is_there(self, key: str) -> bool:
        """Tell whether a record was handed in and is not removed."""
        if key not in self._there:
            fields = self.records.get(key)
            there = bool(fields)
            if fields and "present" in fields:
                with_parts = {part: self.records[part] for part in self._parts.get(key, [])}
                with_parts[key] = fields
                there = merge.presence(key, with_parts) != "removed"
            self._there[key] = there
        return self._there[key]

    def people_of(self, entry: "Entry") -> "list[str]":
        """Return the departments of the person who made an edit, [] when they are not known."""
        found = self.value("person/" + (entry[FOR_WHOM] or entry[BY]), "departments")
        return [one for one in found if isinstance(one, str)] if isinstance(found, list) else []


def id_of(key: str) -> str:
    """Return the id in a record key."""
    return key[key.find("/") + 1 :]


def number_of(value: "Any") -> "float | None":
    """Return the number of a quantity's value, None when it is no such value."""
    if not isinstance(value, list) or len(value) != 2 or not isinstance(value[0], str):
        return None
    text = value[0]
    known = _numbers.get(text)
    if known is None and text not in _numbers:
        keys.room(_numbers)
        known = _numbers[text] = float(text) if check.DECIMAL.match(text) else None
    return known


def pointed_at(kind: str, field: str, value: "Any") -> "list[str]":
    """Return the keys of the records that a field's value points to.

    Args:
        kind: kind of the record whose field it is.
        field: a reference (an id), an any_reference (kind and id), cells or a tick (cell keys).
        value: the value shown.
    """
    known = None if value is None else kinds.field_of(kind, field)
    if not known:
        return []
    if known.type == "reference" and isinstance(value, str):
        return [joined(known.kind, value)]
    if known.type == "any_reference" and isinstance(value, str):
        return [value]
    if known.type == "cells" and isinstance(value, list):
        return [record_of(cell_key) for cell_key in value if isinstance(cell_key, str)]
    if known.type == "tick" and kinds.is_done(value):
        return [record_of(pair[0]) for pair in value[1]]
    return []
