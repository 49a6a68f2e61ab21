"""The id of a derived task: its template, all its records and an ordinal, so two phones make the same one.

    rig_stand~rig:stand-1~1        place_source~shot:12c~source:key~1        template:smoke~scene:13~1

Knows no template. J1 the first record named is the one through which a copy finds the task (`reads`).
J2 inside an id, ":" is written "::" and "~" is written ":-", so that any id can be named.
"""

from tailslate.day.keys import room

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

_made: "dict[tuple[Any, ...], str]" = {}
_first: "dict[str, str]" = {}
_parsed: "dict[str, tuple[str, list[str]] | None]" = {}
OWN = "template:"  # begins the name of a template that a production added


def make(template: str, records: "list[str]", ordinal: int = 1) -> str:
    """Return the record key of a derived task.

    Args:
        template: name of the template, or "template:" and the id of a production's own.
        records: record keys that it is for, in the order of the template.
        ordinal: which of several alike, from 1.

    >>> make("rig_stand", ["rig/stand-1"])
    'task/rig_stand~rig:stand-1~1'
    """
    named = tuple([template, ordinal] + records)
    if named not in _made:
        room(_made, 500)
        _made[named] = _make(template, records, ordinal)
    return _made[named]


def _make(template: str, records: "list[str]", ordinal: int) -> str:
    parts = [_escaped(template) if template.startswith(OWN) else template]
    for key in records:
        kind, _slash, record = key.partition("/")
        parts.append(kind + ":" + _written(record))
    return "task/" + "~".join(parts) + "~" + str(ordinal)


def _escaped(template: str) -> str:
    return OWN + _written(template[len(OWN) :])


def _written(record: str) -> str:
    return record.replace(":", "::").replace("~", ":-")


def _read(written: str) -> str:
    parts = [part.replace(":-", "~") for part in written.split("::")]
    return ":".join(parts)


def parse(key: str) -> "tuple[str, list[str]] | None":
    """Return the template and the records of a derived task, None when a person made the task.

    Args:
        key: record key of a task.

    >>> parse("task/place_source~shot:12c~source:a:-b~1")
    ('place_source', ['shot/12c', 'source/a~b'])
    """
    if key not in _parsed:
        room(_parsed, 1000)
        _parsed[key] = _parse(key)
    return _parsed[key]


def _parse(key: str) -> "tuple[str, list[str]] | None":
    parts: list[Any] = key[key.find("/") + 1 :].split("~")
    if not key.startswith("task/") or len(parts) < 3 or not parts[-1].isdigit():
        return None
    records = []
    for part in parts[1:-1]:
        kind, colon, record = part.partition(":")
        if not kind or not colon or not record:
            return None
        records.append(kind + "/" + _read(record))
    template = parts[0]
    return (OWN + _read(template[len(OWN) :]) if template.startswith(OWN) else template), records


def first_named(key: str) -> str:
    """Return the record key that a derived task names first, "" when a person made the task."""
    if key not in _first:
        room(_first, 1000)
        _first[key] = _first_named(key)
    return _first[key]


def _first_named(key: str) -> str:
    begins = key.find("~") + 1
    ends = key.find("~", begins)
    if begins <= 0 or ends < 0 or not key.startswith("task/"):
        return ""
    kind, colon, record = key[begins:ends].partition(":")
    return kind + "/" + _read(record) if kind and colon and record else ""
