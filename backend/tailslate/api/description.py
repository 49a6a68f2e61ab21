"""GET /api/openapi.json: the API as OpenAPI 3.1, made from the routes and their schemas."""

from __future__ import annotations

import re
from http import HTTPStatus
from typing import Any

from apispec import APISpec
from apispec.ext.marshmallow import MarshmallowPlugin
from flask import Blueprint, Flask, Response, current_app
from marshmallow import Schema, fields

from tailslate import __version__
from tailslate.api.kind_schemas import kind_schema
from tailslate.api.operation import ATTRIBUTE, Operation, operation, written
from tailslate.day import kinds

blueprint = Blueprint("description", __name__)


class ErrorBody(Schema):
    """A refusal."""

    code = fields.String(required=True, metadata={"description": "for programs"})
    sentence = fields.String(required=True, metadata={"description": "for people, with the next step"})
    request_id = fields.String(required=True)


class Error(Schema):
    """What every route answers when it refuses."""

    error = fields.Nested(ErrorBody, required=True)


@blueprint.get("/api/openapi.json")
@operation("This description", needs_device=False)
def openapi() -> Response:
    """Return the description of this server."""
    return written(describe(current_app))


def describe(app: Flask) -> dict[str, Any]:
    """Return the OpenAPI description of an app's routes under /api/."""
    spec = APISpec("Tailslate", __version__, "3.1.0", plugins=[MarshmallowPlugin()])
    spec.components.security_scheme("device", {"type": "http", "scheme": "bearer"})
    spec.components.schema("Error", schema=Error)
    for name in sorted(kinds.KINDS):
        spec.components.schema(f"{kind_schema(name).__name__}Record", schema=kind_schema(name))
    for rule in sorted(app.url_map.iter_rules(), key=lambda one: one.rule):
        view = app.view_functions[rule.endpoint]
        described: Operation | None = getattr(view, ATTRIBUTE, None)
        if described:
            methods = (rule.methods or set()) - {"HEAD", "OPTIONS"}
            path = re.sub(r"<(?:\w+:)?(\w+)>", r"{\1}", rule.rule)
            spec.path(
                path, operations={method.lower(): _operation(rule, view, described) for method in methods}
            )
    return spec.to_dict()


def _operation(rule: Any, view: Any, described: Operation) -> dict[str, Any]:
    content: dict[str, Any] = {described.content_type: {"schema": described.gives or {}}}
    responses: dict[str, Any] = {
        str(described.status): {"description": HTTPStatus(described.status).phrase, "content": content}
    }
    for status in described.refuses:
        responses[str(status)] = {
            "description": HTTPStatus(status).phrase,
            "content": {"application/json": {"schema": Error}},
        }
    found: dict[str, Any] = {
        "operationId": rule.endpoint.replace(".", "_"),
        "summary": described.summary,
        "description": (view.__doc__ or "").strip(),
        "responses": responses,
        "security": [{"device": []}] if described.needs_device else [],
        "parameters": [
            {"name": name, "in": "path", "required": True, "schema": {"type": "string"}}
            for name in sorted(rule.arguments)
        ],
    }
    if described.takes:
        found["requestBody"] = {
            "required": True,
            "content": {"application/json": {"schema": described.takes}},
        }
    if described.takes_octets:
        bytes_ = {"schema": {"type": "string", "format": "binary"}}
        found["requestBody"] = {"required": True, "content": {"application/octet-stream": bytes_}}
    return found
