"""Whether values are within what the table of kinds allows, in the words that people read.

K2 a value is checked here alone, so that a form, the server and an import refuse in the same words.
K3 what is of a newer version is kept and relayed, never judged: whoever asks looks at the version first.
"""

import re

from tailslate.day import edit as edits
from tailslate.day.kinds import DEPARTMENT_NAMES, KINDS, Field, is_done

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

DECIMAL = re.compile("^-?(0|[1-9][0-9]*)([.][0-9]+)?$")
TIME_OF_DAY = re.compile("^[0-2][0-9]:[0-5][0-9]$")
REFERENCE = re.compile("^[a-z][a-z_]*/[A-Za-z0-9_.~:-]+$")
CELL = re.compile("^[a-z][a-z_]*/[A-Za-z0-9_.~:-]+/[a-z][a-z_]*$")
TEXT_LIMIT_BYTES = 200
LONG_TEXT_LIMIT_BYTES = 4000


def faults(kind: str, changes: "dict[str, Any]") -> "list[dict[str, str]]":
    """Return why these changes are out, in the words that a form shows; an empty list when they are not.

    Args:
        kind: kind of the record.
        changes: field to value.
    Returns: list of dict, keys field, code, sentence.
    """
    known = KINDS.get(kind)
    if not known:
        sentence = "no kind of record is called {}; update, or choose another".format(kind)
        return [{"field": "", "code": "unknown_kind", "sentence": sentence}]
    reasons = []
    for name in sorted(changes):
        one = known.field(name)
        if one is None:
            code, sentence = "unknown_field", "a {} has no field {}".format(known.name, name)
        else:
            code, sentence = _fault(one, changes[name])
        if code:
            reasons.append({"field": name, "code": code, "sentence": sentence})
    return reasons


_NO_FAULT = ("", "")


def _fault(one: Field, value: "Any") -> "tuple[str, str]":
    """Return code and sentence of what is wrong with a value, or two empty texts."""
    if value is None and one.type not in ("tick", "presence", "verdict"):
        return _NO_FAULT  # nothing: the field is cleared, which is 'unknown', never zero
    return _FAULTS[one.type](one, value)


def _wrong_type(one: Field, wanted: str, value: "Any") -> "tuple[str, str]":
    return "wrong_type", "{} must be {}, got {}".format(one.label, wanted, _quoted(value))


def _quoted(value: "Any") -> str:
    if isinstance(value, str):
        return '"' + (value if len(value) <= 40 else value[:37] + "...") + '"'
    if value is True or value is False:
        return "yes" if value else "no"
    if value is None:
        return "nothing"
    return str(value) if edits.is_whole(value) else "a list"


def _text_fault(one: Field, value: "Any") -> "tuple[str, str]":
    if not isinstance(value, str):
        return _wrong_type(one, "text", value)
    limit_bytes = TEXT_LIMIT_BYTES if one.type == "text" else LONG_TEXT_LIMIT_BYTES
    size_bytes = len(value.encode("utf-8"))
    if size_bytes > limit_bytes:
        return "too_long", "{} may have at most {} bytes, this has {}; shorten it".format(
            one.label, limit_bytes, size_bytes
        )
    return _NO_FAULT


def _choice_fault(one: Field, value: "Any") -> "tuple[str, str]":
    choices = DEPARTMENT_NAMES if one.type == "department" else one.choices
    if value in choices:
        return _NO_FAULT
    return "not_a_choice", "{} must be one of {}, got {}".format(
        one.label, ", ".join(choices), _quoted(value)
    )


def _out_of_range(one: Field, shown: str) -> "tuple[str, str]":
    return "out_of_range", "{} must be from {} to {}, got {}".format(
        one.label, _limit(one, one.low), _limit(one, one.high), shown
    )


def _limit(one: Field, limit: "float | None") -> str:
    words = "{}".format(limit)
    if words.endswith(".0"):
        words = words[:-2]
    return words + " " + one.unit if one.unit and one.unit != "ratio" else words


def _count_fault(one: Field, value: "Any") -> "tuple[str, str]":
    if not edits.is_whole(value):
        return _wrong_type(one, "a whole number", value)
    if (one.low is not None and value < one.low) or (one.high is not None and value > one.high):
        return _out_of_range(one, str(value))
    return _NO_FAULT


def _quantity_fault(one: Field, value: "Any") -> "tuple[str, str]":
    wanted = "a decimal number with what was typed"
    if not isinstance(value, list) or len(value) != 2:
        return _wrong_type(one, wanted, value)
    number, typed = value
    if not isinstance(number, str) or not isinstance(typed, str):
        return _wrong_type(one, wanted, value)
    if len(number) > 24 or len(typed) > 60 or not edits.matches(DECIMAL, number):
        return _wrong_type(one, "a decimal number", number)
    amount = float(number)
    if (one.low is not None and amount < one.low) or (one.high is not None and amount > one.high):
        return _out_of_range(one, typed or number)
    return _NO_FAULT


def _tick_fault(one: Field, value: "Any") -> "tuple[str, str]":
    if value is False or value is None:
        return _NO_FAULT
    if not is_done(value) or not isinstance(value[1], list):
        return _wrong_type(one, "not done, or done for these", value)
    for pair in value[1]:
        if not isinstance(pair, list) or len(pair) != 2 or not _matches(CELL, pair[0]):
            return _wrong_type(one, "done for a list of fields with their values", value)
    return _NO_FAULT


def _matches(pattern: "Any", value: "Any") -> bool:
    return isinstance(value, str) and len(value) <= 300 and edits.matches(pattern, value)


def _reference_fault(one: Field, value: "Any") -> "tuple[str, str]":
    if _matches(edits.RECORD_ID, value):
        return _NO_FAULT
    return _wrong_type(one, "the id of a {}".format(one.kind), value)


def _any_reference_fault(one: Field, value: "Any") -> "tuple[str, str]":
    if _matches(REFERENCE, value):
        return _NO_FAULT
    return _wrong_type(one, "a kind and an id, such as source/s-1", value)


def _departments_fault(one: Field, value: "Any") -> "tuple[str, str]":
    if not isinstance(value, list) or not value or not all(v in DEPARTMENT_NAMES for v in value):
        return "not_a_choice", "{} must be one or more of {}, got {}".format(
            one.label, ", ".join(DEPARTMENT_NAMES), _quoted(value)
        )
    return _NO_FAULT


def _time_fault(one: Field, value: "Any") -> "tuple[str, str]":
    if _matches(TIME_OF_DAY, value) and value < "24:00":
        return _NO_FAULT
    return _wrong_type(one, "a time such as 07:12", value)


def _cells_fault(one: Field, value: "Any") -> "tuple[str, str]":
    if isinstance(value, list) and all(_matches(CELL, part) for part in value):
        return _NO_FAULT
    return _wrong_type(one, "a list of fields, such as layer/l-2/gap_m", value)


def _presence_fault(one: Field, value: "Any") -> "tuple[str, str]":
    if value is True:
        return _NO_FAULT
    if isinstance(value, list) and len(value) == 2 and value[0] == "removed":
        if isinstance(value[1], list) and all(edits.is_id(part) for part in value[1]):
            return _NO_FAULT
    return _wrong_type(one, "yes, or removed with the ids it covers", value)


def _verdict_fault(one: Field, value: "Any") -> "tuple[str, str]":
    if isinstance(value, list) and len(value) == 3 and value[0] in one.choices:
        if isinstance(value[1], str) and isinstance(value[2], str):
            return _NO_FAULT
    return _wrong_type(one, "out, parked or counts with code and reason", value)


_FAULTS = {
    "text": _text_fault,
    "long_text": _text_fault,
    "choice": _choice_fault,
    "department": _choice_fault,
    "count": _count_fault,
    "quantity": _quantity_fault,
    "tick": _tick_fault,
    "reference": _reference_fault,
    "any_reference": _any_reference_fault,
    "departments": _departments_fault,
    "time": _time_fault,
    "cells": _cells_fault,
    "presence": _presence_fault,
    "verdict": _verdict_fault,
}
