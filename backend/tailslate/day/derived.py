"""A derived task by its id alone: its template, what its tick is for, what it is called, when that has moved.

Knows no quantities and no rows. D1 everything follows from the id and the records that it names, so every
copy holds a tick to the same inputs. D2 a template of a production is a record: whoever lacks it knows no input.
"""

from tailslate.day import kinds, task_id, templates
from tailslate.day.gathered import id_of, kind_of
from tailslate.day.keys import joined
from tailslate.day.templates import Template

TYPE_CHECKING = False
if TYPE_CHECKING:
    from tailslate.day.gathered import Gathered


def read(key: str, records: "Gathered") -> "tuple[Template, list[str]] | None":
    """Return the template and the records of a derived task; None when a person made it, or nobody knows the template.

    Args:
        key: record key of a task.
        records: with the template, when a production added it.
    """
    if key not in records.worked_out:
        found = task_id.parse(key)
        template = _called(found[0], records) if found else None
        records.worked_out[key] = (template, found[1]) if found and template else None
    known: tuple[Template, list[str]] | None = records.worked_out[key]
    return known


def _called(name: str, records: "Gathered") -> "Template | None":
    if name.startswith(task_id.OWN):
        return of_record("template/" + name[len(task_id.OWN) :], records)
    return templates.BY_NAME.get(name)


def of_record(key: str, records: "Gathered") -> "Template | None":
    """Return a production's own template, None when it is not there or lacks its title.

    Args:
        key: record key of the template.
        records: the template.
    """
    over, title = records.text(key, "over"), records.text(key, "title")
    if not records.is_there(key) or not over or not title:
        return None
    known = kinds.KINDS[over]
    fields = []
    for word in records.text(key, "asks_again_by").replace(",", " ").split():
        field, _colon, step = word.partition(":")
        found = known.field(field)
        if found and (not step or (found.type == "quantity" and _is_step(step))):
            fields.append(word)
    minutes = [records.whole(key, name) for name in ("low_min", "likely_min", "high_min")]
    likely = minutes[1] or 4
    hazard = records.text(key, "hazard")
    return Template(
        task_id.OWN + id_of(key),
        records.text(key, "department"),
        title,
        over,
        ((over, " ".join(fields)),) if fields else (),
        must=records.text(key, "must") != "nice",
        when=records.text(key, "when") or templates.BEFORE,
        minutes=(minutes[0] or likely, likely, minutes[2] or likely),
        caution=hazard if hazard != "none" else "",
    )


def _is_step(text: str) -> bool:
    return bool(text) and text.replace(".", "", 1).isdigit() and text != "."


def inputs(key: str, records: "Gathered") -> "list[str] | None":
    """Return the cell keys that the tick of a derived task is for, None for a task that a person made.

    Args:
        key: record key of the task.
        records: what its id names, and what the template's paths reach from there.
    """
    found = read(key, records)
    return _cells(found[0], found[1], records) if found else None


def _cells(template: "Template", named: "list[str]", records: "Gathered") -> "list[str]":
    cells: list[str] = []
    for path, fields in template.inputs:
        for record in _reach(path, named, records):
            cells.extend([joined(record, field) for field in fields])
    return cells


def _reach(steps: "list[tuple[str, str, str]]", named: "list[str]", records: "Gathered") -> "list[str]":
    found: list[str] = []
    for sign, first, last in steps:
        if sign == "=":
            found = [key for key in named if kind_of(key) == first][:1]
        elif sign == "@":
            found = [
                key for key in records.pointing(first, "shot", named[0]) if _has_end(key, named, records)
            ]
        elif sign == "<":
            reached: list[str] = []
            for key in found:
                reached.extend(records.pointing(first, last, key))
            found = reached
        elif sign == ">":
            reached = []
            for key in found:
                one = records.target(key, first)
                if one and one not in reached and records.is_there(one):
                    reached.append(one)
            found = reached
        else:
            values = last.split(",")
            found = [key for key in found if records.text(key, first) in values]
    return found


def _has_end(level: str, named: "list[str]", records: "Gathered") -> bool:
    return records.target(level, "source") in named


def steps(key: str, records: "Gathered") -> "dict[str, str]":
    """Return how far an input may move before the task asks again, where it is not its field's own step.

    Args:
        key: record key of a task.
        records: with the template, when a production added it.
    Returns: kind/field to step.
    """
    found = read(key, records)
    return found[0].steps if found else {}
