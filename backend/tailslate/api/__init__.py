"""Adapter: the day over HTTP. A route reads, calls the rules once, stores, answers.

One file a resource: exchange.py, join.py, crew.py, next_day.py, bell.py, kinds.py, pack.py, photographs.py, pages.py,
description.py. What they share: at_hand.py (the parts of this app), errors.py, credentials.py, operation.py, on_every_answer.py.
"""

from __future__ import annotations

from flask import Flask
from werkzeug.routing import BaseConverter

from tailslate.api import (
    bell,
    crew,
    description,
    errors,
    exchange,
    join,
    kinds,
    next_day,
    on_every_answer,
    pack,
    pages,
    photographs,
)
from tailslate.day.edit import RECORD_ID_LIMIT


class Name(BaseConverter):
    """An id in an address. Anything else is no address of ours, and never reaches a database."""

    regex = r"[A-Za-z0-9_.~:-]{1,%d}" % RECORD_ID_LIMIT  # noqa: UP031  # braces belong to the pattern


def register(app: Flask) -> None:
    """Give an app all the routes and what stands around every answer."""
    app.url_map.converters["name"] = Name
    errors.register(app)
    on_every_answer.register(app)
    for resource in (exchange, join, crew, next_day, bell, kinds, description, pack, photographs, pages):
        app.register_blueprint(resource.blueprint)
