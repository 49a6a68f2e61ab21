"""What a route takes and gives, said once beside it: read from there by the route and by the description.

@operation("Join a day", takes=JoinRequest, gives=Joined, status=201, refuses=(400, 403, 429))
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from typing import Any

from flask import Response, current_app, request
from marshmallow import EXCLUDE, Schema, ValidationError
from werkzeug.exceptions import RequestEntityTooLarge

from tailslate.api.errors import Refused
from tailslate.day import edit as edits

ATTRIBUTE = "tailslate_operation"


@dataclass(frozen=True)
class Operation:
    """One method of one route."""

    summary: str
    takes: type[Schema] | None
    gives: type[Schema] | None
    status: int
    refuses: tuple[int, ...]
    needs_device: bool
    content_type: str
    takes_octets: bool


def operation(
    summary: str,
    *,
    takes: type[Schema] | None = None,
    gives: type[Schema] | None = None,
    status: int = 200,
    refuses: tuple[int, ...] = (),
    needs_device: bool = True,
    content_type: str = "application/json",
    loads: bool = True,
    takes_octets: bool = False,
) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Describe a view; what it `takes` is loaded and handed to it as `body`, what it returns is written as JSON.

    With `loads` false the view reads the body itself, because the rules check it; with
    `takes_octets` the body is bytes and no JSON.
    """

    def decorate(view: Callable[..., Any]) -> Callable[..., Any]:
        @wraps(view)
        def described(**path: str) -> Any:
            found = view(**path, body=load(takes)) if takes and loads else view(**path)
            return written(found, status) if gives else found

        setattr(
            described,
            ATTRIBUTE,
            Operation(summary, takes, gives, status, refuses, needs_device, content_type, takes_octets),
        )
        return described

    return decorate


def load(schema: type[Schema]) -> dict[str, Any]:
    """Return the body of the request as the schema reads it; unknown names are left out.

    Raises: Refused 400 or 415, naming the fields.
    """
    try:
        loaded: dict[str, Any] = schema().load(read_json(), unknown=EXCLUDE)
    except ValidationError as error:
        fields = _flat(error.messages)
        sentence = "; ".join(f"{field}: {words}" for field, words in fields)
        raise Refused(400, "bad_field", sentence, fields=dict(fields)) from error
    return loaded


def read_json() -> Any:
    """Return the parsed body.

    Raises: Refused 400 when it is not JSON in UTF-8, 415 when it does not say so.
    """
    if request.mimetype != "application/json":
        raise Refused(415, "not_json", "the body must be application/json; set Content-Type")
    octets = request.get_data(cache=False)
    if request.content_length is None and len(octets) >= current_app.config["MAX_CONTENT_LENGTH"]:
        raise RequestEntityTooLarge  # sent in chunks, and cut where the limit is
    try:
        return json.loads(octets.decode("utf-8"), parse_constant=_no_constant)
    except (ValueError, RecursionError) as error:
        raise Refused(400, "not_json", "the body is not whole JSON in UTF-8; send it again") from error


def written(found: Any, status: int = 200) -> Response:
    """Return an answer as JSON: as itself in UTF-8, escaped only where there is no other way."""
    try:
        octets = json.dumps(found, ensure_ascii=False, separators=(",", ":")).encode("utf-8")
    except UnicodeEncodeError:  # half a surrogate pair, echoed from a request
        octets = json.dumps(found, separators=(",", ":")).encode("ascii")
    return current_app.response_class(octets, status=status, mimetype="application/json")


def is_plain(text: Any) -> bool:
    """Tell whether a text holds only what every database and every phone keeps as it is."""
    if not isinstance(text, str):
        return False
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        return False
    return not any(letter < " " for letter in text)


def plain_text(text: Any) -> None:
    """Refuse, as a validator of a field, a text that not every phone and database keeps as it is."""
    if isinstance(text, str) and not is_plain(text):
        raise ValidationError("may not hold control characters or halves of characters; type it again")


def name_text(text: Any) -> None:
    """Refuse, as a validator of a field, what has not the form of an id."""
    if not is_name(text):
        raise ValidationError("is no id; take it from where it is shown")


def is_name(text: Any) -> bool:
    """Tell whether a text has the form of an id: nothing else is worth asking a database for."""
    return is_plain(text) and len(text) <= edits.RECORD_ID_LIMIT and edits.RECORD_ID.match(text) is not None


def _no_constant(name: str) -> Any:
    raise ValueError(name)


def _flat(messages: Any, field: str = "") -> list[tuple[str, str]]:
    if isinstance(messages, dict):
        return [
            row
            for name, inner in messages.items()
            for row in _flat(inner, f"{field}.{name}" if field else str(name))
        ]
    return [(field.replace("._schema", ""), " ".join(str(one) for one in messages))]
