"""How the server knows its own edits again when a phone brings them back, after a restore or from an office server.

The salt of an edit is eight characters of no meaning to anyone else. In an edit that a server writes they are
a keyed digest of all the rest (HMAC-SHA-256, RFC 2104), so a phone cannot write a verdict. Servers that hold
one day together share the key by starting from one database: the second restores a backup of the first.
"""

from __future__ import annotations

import base64
import hashlib
import hmac
import json
from typing import Any

from tailslate.day import edit as edits
from tailslate.day.edit import Edit

SALT_PART = 5
UNSEALED = "--------"


def make_sealed(secret: bytes, **parts: Any) -> Edit:
    """Return an edit written by this server; takes what `edit.make` takes, but by, how and salt."""
    unsealed = edits.make(salt=UNSEALED, by="", how="server", **parts)
    return edits.make(salt=_seal(secret, unsealed.text), by="", how="server", **parts)


def claims_a_server(edit: Edit) -> bool:
    """Tell whether an edit says that a server wrote it, or is of a kind that only a server writes."""
    return edit.how == "server" or edit.kind == "verdict"


def is_sealed(secret: bytes, edit: Edit) -> bool:
    """Tell whether a server with this key wrote the edit."""
    if edit.how != "server" or edit.by:
        return False
    parts = json.loads(edit.text)
    salt, parts[SALT_PART] = parts[SALT_PART], UNSEALED
    unsealed = json.dumps(parts, ensure_ascii=False, separators=(",", ":"))
    return hmac.compare_digest(salt.encode(), _seal(secret, unsealed).encode())


def _seal(secret: bytes, unsealed: str) -> str:
    digest = hmac.new(secret, unsealed.encode(), hashlib.sha256).digest()
    return base64.urlsafe_b64encode(digest[:6]).decode()
