"""GET /api/kinds: the table of kinds as this server knows it."""

from __future__ import annotations

from typing import Any

from flask import Blueprint
from marshmallow import Schema, fields

from tailslate.api.operation import operation
from tailslate.day import kinds

blueprint = Blueprint("kinds", __name__)


class Kinds(Schema):
    """The version of the rules, the departments, the kinds with their fields."""

    rules = fields.Integer(required=True)
    departments = fields.List(fields.Dict(), required=True)
    kinds = fields.List(fields.Dict(), required=True)


@blueprint.get("/api/kinds")
@operation("The kinds of record", gives=Kinds, needs_device=False)
def table() -> dict[str, Any]:
    """Return the table, as the phone has it too."""
    departments = [{"name": name, "label": label, "short": short} for name, label, short in kinds.DEPARTMENTS]
    return {"rules": kinds.RULES, "departments": departments, "kinds": kinds.table()}
