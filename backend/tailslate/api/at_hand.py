"""The parts that a route may use, joined in app.py and kept with the app: no module-level state."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from flask import current_app

from tailslate.api.ring import Bell
from tailslate.api.slow_down import SlowDown
from tailslate.store.database import Database
from tailslate.store.intake import Office

KEY = "tailslate"


@dataclass(frozen=True)
class Parts:
    """Everything that create_app made."""

    database: Database
    office: Office
    bell: Bell
    failed_joins: SlowDown
    now_ms: Callable[[], int]


def parts() -> Parts:
    """Return the parts of the app that answers this request."""
    found: Parts = current_app.extensions[KEY]
    return found
