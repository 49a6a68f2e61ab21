"""One cell of a brought list -> the value of its field, or why not and what to do. Knows no record.

C1 a cell is text: one that begins as a formula is never run. C2 what could be read in two ways is asked, not guessed.
C3 a blank cell, a question mark and the like say nothing: the field stays unknown.
"""

import re

from tailslate.craft.errors import RuleError
from tailslate.day import check, edit, shown

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.kinds import Field

BARE = re.compile("^[-+]?[0-9][0-9 .,/]*$")
COUNT = re.compile("^x? *([0-9]+) *(x|pcs|pc|off|min)?$")
CLOCK = re.compile("^([0-9][0-9]?)[:.h]([0-9][0-9])$")
NOTHING = ("", "-", "?", "n/a", "tbc", "tba", "tbd", "unknown")
FORMULA = ("=", "+", "-", "@")
SAID = {
    "yes": "yes y true x 1",
    "no": "no n false 0",
    "owned": "owned own ours",
    "hired": "hired hire rented rental rent",
    "household": "household house home borrowed",
}


def begins_as_formula(cell: str) -> bool:
    """Tell whether a spreadsheet would take a cell for a formula; a plain number is none."""
    return cell[:1] in FORMULA and len(cell) > 1 and not BARE.match(cell)


def unmarked(cell: str) -> str:
    """Return a cell without the one mark that keeps a spreadsheet from running it, as our own tables write it."""
    return cell[1:] if cell[:1] == "'" and cell[1:2] in FORMULA + ("\t", "\r") else cell


def value(kind: str, field: "Field", cell: str, *, unit: str, units: str) -> "Any":
    """Return the value that a cell sets, None when it says nothing.

    Args:
        kind: kind of the record.
        field: of that kind.
        cell: as it stands in the list.
        unit: in which a bare figure is meant, "" for the usual one of `units`, "?" when nobody can say.
        units: "metric" or "imperial".
    Raises: RuleError with what is wrong, the limit and what to do.
    """
    typed = unmarked(cell.strip())
    if typed.lower() in NOTHING and not (field.type in ("text", "long_text") and typed not in ("", "-", "?")):
        return None
    made = _READ[field.type](kind, field, typed, unit, units) if field.type in _READ else typed
    for fault in check.faults(kind, {field.name: made}):
        raise RuleError(fault["code"], fault["sentence"])
    return made


def _quantity(kind: str, field: "Field", typed: str, unit: str, units: str) -> "Any":
    if begins_as_formula(typed):
        raise RuleError("formula", "this is a formula and not a figure; paste the value that it shows")
    if BARE.match(typed):
        if unit == "?" and field.unit in shown.IMPERIAL:
            sentence = "is {} in {} or {}? The column holds both; write the unit behind it"
            raise RuleError("unit_missing", sentence.format(typed, field.unit, shown.IMPERIAL[field.unit]))
        if unit and unit != "?":
            typed += " " + unit
    try:
        return shown.read_typed(kind, field.name, typed, units)["value"]
    except RuleError as error:
        if error.code != "unit_not_for_field" or field.unit in shown.TYPED_UNITS:
            raise
        sentence = "'{}' is no figure in {}; write it in {}".format(typed, field.unit, field.unit)
        raise RuleError(error.code, sentence)


def _count(_kind: str, _field: "Field", typed: str, _unit: str, _units: str) -> "Any":
    found = COUNT.match(typed.lower())
    return int(found.group(1)) if found else typed


def _choice(_kind: str, field: "Field", typed: str, _unit: str, _units: str) -> str:
    word = typed.lower()
    for choice in field.choices:
        if word == choice or word in SAID.get(choice, "").split():
            return choice
    return typed


def _time(_kind: str, _field: "Field", typed: str, _unit: str, _units: str) -> str:
    found = CLOCK.match(typed)
    return "{:02d}:{}".format(int(found.group(1)), found.group(2)) if found else typed


_READ = {"quantity": _quantity, "count": _count, "choice": _choice, "time": _time}


def unit_of_column(field: "Field", unit: str, cells: "list[str]", units: str) -> str:
    """Return in which unit bare figures of a column are meant: its heading's, else the usual one.

    Args:
        field: that the column holds.
        unit: of the heading, or as the person set it; "" when neither says.
        cells: of the column.
        units: "metric" or "imperial".
    Returns: "?" when other cells name units of both systems or of the other one.
    """
    if unit or field.type != "quantity" or field.unit not in shown.IMPERIAL:
        return unit
    usual = shown.IMPERIAL[field.unit] if units == "imperial" else field.unit
    for cell in cells:
        if not BARE.match(cell) and _is_imperial(cell) != (units == "imperial"):
            return "?"
    return usual


def _is_imperial(cell: str) -> bool:
    return any([mark in cell.lower() for mark in ("'", '"', "ft", "in", "feet", "lb", "\u2032", "\u2033")])


def digest(*parts: str) -> str:
    """Return the id that a record takes from what names it in a list, so that every phone makes the same one."""
    return "list-" + edit.id_digest("\n".join(parts).encode("utf-8"))
