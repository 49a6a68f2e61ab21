"""Every refusal of the server, on any route: {"error": {code, sentence, request_id, ...}}.

The code is for programs, the sentence for people: field, value, limit and next step.
"""

from __future__ import annotations

import sqlite3
from typing import Any

import sqlalchemy.exc
from flask import Flask, Response, current_app, g, jsonify
from werkzeug.exceptions import HTTPException

from tailslate.craft.errors import RuleError
from tailslate.day.exchange import BODY_LIMIT_BYTES, EDITS_LIMIT
from tailslate.store.database import DatabaseBusy
from tailslate.store.intake import NoSuchDay, NoSuchEdit

LIMITS = {"body_bytes": BODY_LIMIT_BYTES, "edits": EDITS_LIMIT}
BUSY_S = 5
FULL_S = 60
POSTGRESQL_DISK_FULL = "53100"


class Refused(Exception):
    """A request that is refused: status, code, sentence, and facts that stand beside them."""

    def __init__(self, status: int, code: str, sentence: str, **facts: Any) -> None:
        super().__init__(sentence)
        self.status = status
        self.code = code
        self.sentence = sentence
        self.facts = facts


_HTTP_WORDS = {
    400: ("bad_request", "the request could not be read; update the app"),
    401: ("not_known", "this device is not known here; join again with a new code"),
    404: ("not_found", "there is nothing at this address; check it"),
    405: ("method_not_allowed", "this address does not take that method; see /api/openapi.json"),
    413: ("too_large", f"a request may have at most {BODY_LIMIT_BYTES} bytes; send fewer edits at once"),
    415: ("not_json", "the body must be application/json; set Content-Type"),
    429: ("too_many_tries", "too many tries; wait and try again"),
}


def answer(status: int, code: str, sentence: str, **facts: Any) -> Response:
    """Return a refusal as it travels."""
    retry_after_s = facts.pop("retry_after_s", 0)
    error = {"code": code, "sentence": sentence, "request_id": g.get("request_id", ""), **facts}
    response = jsonify({"error": error})
    response.status_code = status
    if retry_after_s:
        response.headers["Retry-After"] = str(retry_after_s)
    return response


def register(app: Flask) -> None:
    """Answer every exception of this app as JSON."""
    app.register_error_handler(
        Refused, lambda error: answer(error.status, error.code, error.sentence, **error.facts)
    )
    app.register_error_handler(RuleError, _of_the_rules)
    app.register_error_handler(HTTPException, _http)
    app.register_error_handler(
        NoSuchDay, lambda _error: answer(404, "no_such_day", "this server does not hold that day")
    )
    app.register_error_handler(
        NoSuchEdit, lambda _error: answer(404, "no_such_edit", "the day has no such edit")
    )
    app.register_error_handler(
        DatabaseBusy, lambda error: answer(503, "busy", str(error), retry_after_s=BUSY_S)
    )
    app.register_error_handler(sqlalchemy.exc.TimeoutError, lambda _error: _busy())
    app.register_error_handler(sqlalchemy.exc.OperationalError, _database)
    app.register_error_handler(Exception, _unexpected)


def _of_the_rules(error: RuleError) -> Response:
    facts = {
        name: str(value)
        for name, value in error.facts.items()
        if name not in ("code", "sentence", "request_id")
    }
    return answer(400, error.code, error.sentence, **facts)


def _http(error: HTTPException) -> Response:
    status = error.code or 500
    code, sentence = _HTTP_WORDS.get(status, ("http_" + str(status), error.name))
    response = answer(status, code, sentence, **({"limits": LIMITS} if status == 413 else {}))
    for name, value in error.get_headers():
        if name in ("Allow", "Location", "Retry-After"):
            response.headers[name] = value
    return response


def _busy() -> Response:
    return answer(
        503, "busy", "the server has too much to do; it is tried again by itself", retry_after_s=BUSY_S
    )


def _database(error: sqlalchemy.exc.OperationalError) -> Response:
    """Tell a full disk and a database that is away from a fault of ours."""
    cause = error.orig
    if getattr(cause, "sqlite_errorcode", None) == sqlite3.SQLITE_FULL or (
        getattr(cause, "sqlstate", None) == POSTGRESQL_DISK_FULL
    ):
        current_app.logger.error("the disk of the database is full: %s", cause)
        return answer(
            507,
            "disk_full",
            "the server's disk is full; everything stays on the phones",
            retry_after_s=FULL_S,
        )
    current_app.logger.warning("the database did not answer: %s", cause)
    return _busy()


def _unexpected(error: Exception) -> Response:
    current_app.logger.exception("request %s failed", g.get("request_id", ""), exc_info=error)
    return answer(
        500, "server_fault", "the server made a mistake; tell whoever runs it, with this request's id"
    )
