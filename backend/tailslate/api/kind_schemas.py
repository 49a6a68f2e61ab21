"""Marshmallow schemas of the kinds of record, made from day/kinds.py.

They say what a value looks like; whether it is within its limits day/check.py says, in the words of the phone's forms.
"""

from __future__ import annotations

from functools import cache
from typing import Any

from marshmallow import Schema, ValidationError, fields, validates_schema

from tailslate.api.operation import plain_text
from tailslate.day import check, kinds
from tailslate.day.kinds import Field, Kind

_DESCRIPTIONS = {
    "quantity": "decimal text in the unit, then as typed",
    "tick": "false, or done for these: a list of fields with their values",
    "reference": "id of a record",
    "any_reference": "kind and id, such as source/s-1",
    "cells": "fields, such as layer/l-2/gap_m",
    "presence": "true, or removed with the ids it covers",
    "verdict": "out, parked or counts; code; reason",
    "time": "a time such as 07:12",
}


class Value(fields.Raw):
    """A value whose limits the rules check; `json_schema` describes it."""

    def __init__(self, one: Field) -> None:
        super().__init__(allow_none=True, validate=plain_text, metadata=json_schema(one))


def json_schema(one: Field) -> dict[str, Any]:
    """Return what the description of the API says of a field."""
    shapes: dict[str, dict[str, Any]] = {
        "text": {"type": "string", "maxLength": check.TEXT_LIMIT_BYTES},
        "long_text": {"type": "string", "maxLength": check.LONG_TEXT_LIMIT_BYTES},
        "choice": {"type": "string", "enum": list(one.choices)},
        "department": {"type": "string", "enum": list(kinds.DEPARTMENT_NAMES)},
        "departments": {"type": "array", "items": {"type": "string", "enum": list(kinds.DEPARTMENT_NAMES)}},
        "count": {"type": "integer", "minimum": one.low, "maximum": one.high},
        "quantity": {"type": "array", "items": {"type": "string"}, "minItems": 2, "maxItems": 2},
        "reference": {"type": "string"},
        "any_reference": {"type": "string"},
        "time": {"type": "string"},
        "cells": {"type": "array", "items": {"type": "string"}},
    }
    words = [one.label, _DESCRIPTIONS.get(one.type, ""), one.unit and f"unit {one.unit}"]
    if one.type == "quantity":
        words.append(f"from {one.low} to {one.high}")
    return {"description": "; ".join(word for word in words if word), **shapes.get(one.type, {})}


@cache
def kind_schema(name: str, only: tuple[str, ...] = ()) -> type[Schema]:
    """Return the schema of a kind, or of some of its fields."""
    kind = kinds.KINDS[name]
    chosen = [one for one in kind.fields if not only or one.name in only]
    members: dict[str, Any] = {one.name: Value(one) for one in chosen}
    members["within_limits"] = _limits_of(kind, [one.name for one in chosen])
    members["__doc__"] = kind.label
    return type(f"{_camel(name)}{'Part' if only else ''}", (Schema,), members)


def _limits_of(kind: Kind, names: list[str]) -> Any:
    @validates_schema
    def within_limits(_self: Schema, data: dict[str, Any], **_more: Any) -> None:
        reasons = check.faults(kind.name, {name: data[name] for name in names if name in data})
        if reasons:
            raise ValidationError({reason["field"]: [reason["sentence"]] for reason in reasons})

    return within_limits


def _camel(name: str) -> str:
    return "".join(part.capitalize() for part in name.split("_"))
