"""What things, people and moments are called in sentences: the one place that joins words of records.

Knows no state. N1 ordinary acts name a department and a time; N2 nothing is called by its id while it
has a title.
"""

from tailslate.day import derived, gathered, kinds, shown
from tailslate.day.gathered import id_of, kind_of, record_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Entry, Gathered

DEPARTMENT_LABELS = {name: label for name, label, _short in kinds.DEPARTMENTS}
# Whose title a record takes when it has none of its own.
BORROWED = {
    "word": "shot",
    "booking": "kit",
    "level": "source",
    "serves": "dressing",
    "reading": "point",
    "allergy": "performer",
}
TITLE_FIELDS = {
    "hold": "why",
    "request": "ask",
    "note": "text",
    "incident": "what",
    "person": "role",
    "photograph": "says",
}


def name_of(key: str, records: "Gathered") -> str:
    """Return what a record is called: its title, that of what it belongs to, or its kind.

    Args:
        key: record key.
        records: the record and what it borrows its title from.
    """
    known = records.names.get(key)
    if known is None:
        known = records.names[key] = _name(key, records)
    return known


def _name(key: str, records: "Gathered") -> str:
    kind = kind_of(key)
    if kind in BORROWED:
        return name_of(records.target(key, BORROWED[kind]) or (BORROWED[kind] + "/"), records)
    name = records.text(key, TITLE_FIELDS.get(kind, "title"))
    if kind in ("shot", "scene"):
        number = records.text(key, "number") or id_of(key)
        return number + (" " + name if name else "")
    if name:
        return name
    found = derived.read(key, records) if kind == "task" else None
    if found:
        return found[0].title.replace("{}", name_of(found[1][-1], records))
    known = kinds.KINDS.get(kind)
    return (known.label if known else kind) + " without a title"


def cell_name(cell_key: str, records: "Gathered") -> str:
    """Return what a field of a record is called: "Lamp over the table, height to the lens"."""
    record, field = record_of(cell_key), cell_key[cell_key.rfind("/") + 1 :]
    known = kinds.field_of(kind_of(record), field)
    if (kind_of(record), field) == ("task", "done"):
        return name_of(record, records)
    return name_of(record, records) + ", " + (known.label if known else field)


def value_words(key: str, field: str, held: "Any", records: "Gathered") -> str:
    """Return a value in words; a reference by the title of what it points to.

    Args:
        key: record key.
        field: name of the field.
        held: the value, of now or of an earlier moment.
        records: the record and what it points to.
    """
    known = kinds.field_of(kind_of(key), field)
    if known and known.type in ("reference", "any_reference") and isinstance(held, str):
        return name_of(gathered.pointed_at(kind_of(key), field, held)[0], records)
    return shown.value(kind_of(key), field, held, records.units)


def answers(key: str, field: str, records: "Gathered") -> str:
    """Return a field in words; every answer when there are several that count, "not known" when there is none.

    Args:
        key: record key.
        field: name of the field.
        records: the record and what it points to.
    """
    cell = records.cell(key, field)
    said: list[str] = []
    for entry in cell[gathered.LIVE] if cell else []:
        one = value_words(key, field, entry[gathered.VALUE], records)
        if one not in said:
            said.append(one)
    if len(said) > 1 and kinds.rule_of(kind_of(key), field) == "plain":
        said = said[:1]
    return "TWO ANSWERS: " + " or ".join(said) if len(said) > 1 else "".join(said) or shown.NOT_KNOWN


def department(entry: "Entry | None", records: "Gathered") -> str:
    """Return the department name of whoever made an edit, "" when it is not known."""
    found = records.people_of(entry) if entry else []
    return found[0] if found else ""


def who(entry: "Entry | None", records: "Gathered") -> str:
    """Return who made an edit in the words of ordinary acts: a department, or "someone"."""
    name = department(entry, records)
    return DEPARTMENT_LABELS.get(name, name) or "someone"


def signed(sentence: str, entry: "Entry | None", records: "Gathered") -> str:
    """Return a sentence with who and when behind it: "... Electric 14:09".

    Args:
        sentence: without a full stop.
        entry: the live entry that did it, None when there is none.
        records: with the person who made it.
    """
    if not entry:
        return sentence
    return (
        sentence
        + ". "
        + who(entry, records)
        + " "
        + shown.clock(entry[gathered.AT_MS], records.utc_offset_min)
    )
