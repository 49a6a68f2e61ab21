"""The app itself and the few plain pages beside it: /reset, /certificate, /healthz.

The app is built by pwa/ into static/. Its files under assets/ carry a hash in their name and never change; all
else is asked for again each time, sw.js above all.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from flask import Blueprint, Response, current_app, request, send_file, send_from_directory
from marshmallow import Schema, fields
from sqlalchemy import text
from werkzeug.security import safe_join

from tailslate import __version__
from tailslate.api.at_hand import parts
from tailslate.api.errors import Refused
from tailslate.api.operation import operation

blueprint = Blueprint("pages", __name__)

STATIC = Path(__file__).resolve().parent.parent / "static"
PLAIN = Path(__file__).resolve().parent / "plain_pages"
TYPES = {  # said explicitly: what a machine's own table of types says differs, and workers and WebAssembly mind
    ".js": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".html": "text/html; charset=utf-8",
    ".json": "application/json",
    ".webmanifest": "application/manifest+json",
    ".packed": "application/octet-stream",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".woff2": "font/woff2",
    ".txt": "text/plain; charset=utf-8",
}
ENCODINGS = (("br", ".br"), ("gzip", ".gz"))  # pwa/compressed.py made them
A_YEAR = "public, max-age=31536000, immutable"
ASK_AGAIN = "no-cache"


class Health(Schema):
    """The server answers and its database too."""

    ok = fields.Boolean(required=True)
    version = fields.String(required=True)


@blueprint.get("/")
@blueprint.get("/join")
def app_page() -> Response:
    """Send the app. Where in it the person is stands after the #, which no server sees."""
    if not (STATIC / "index.html").is_file():
        sentence = "the app was not built into this server; run `python pwa/hatch_build.py`, then reload"
        raise Refused(503, "app_not_built", sentence)
    return _file(STATIC, "index.html", ASK_AGAIN)


@blueprint.get("/sw.js")
def service_worker() -> Response:
    """Send the service worker, or the one that takes itself and its caches away."""
    if current_app.config["WITHDRAW_WORKER"]:
        return _file(PLAIN, "withdraw_worker.js", ASK_AGAIN)
    return _file(STATIC, "sw.js", ASK_AGAIN)


@blueprint.get("/reset")
def reset() -> Response:
    """Send a page that removes the service worker and its caches, and leaves what people wrote."""
    return _file(PLAIN, "reset.html", "no-store")


@blueprint.get("/plain/<path:name>")
def plain_file(name: str) -> Response:
    """Send what the plain pages need."""
    return _file(PLAIN, name, ASK_AGAIN)


@blueprint.get("/certificate")
def certificate_page() -> Response:
    """Send the page that says how to trust this server's own certificate authority."""
    _certificate_file()
    return _file(PLAIN, "certificate.html", ASK_AGAIN)


@blueprint.get("/certificate/tailslate-authority.crt")
def certificate() -> Response:
    """Send the certificate of the local authority; its key never leaves the server."""
    return send_file(
        _certificate_file(),
        mimetype="application/x-x509-ca-cert",
        as_attachment=True,
        download_name="tailslate-authority.crt",
    )


@blueprint.get("/healthz")
@operation("Whether the server works", gives=Health, needs_device=False, refuses=(503,))
def healthz() -> dict[str, Any]:
    """Ask the database one question."""
    with parts().database.reading() as session:
        session.execute(text("SELECT 1"))
    return {"ok": True, "version": __version__}


@blueprint.get("/<path:name>")
def static_file(name: str) -> Response:
    """Send a file of the app. No page stands in for a file that is not there."""
    return _file(STATIC, name, A_YEAR if name.startswith("assets/") else ASK_AGAIN)


def _file(folder: Path, name: str, cache_control: str) -> Response:
    encoding, suffix = _best_encoding(folder, name)
    response = send_from_directory(folder, name + suffix)
    response.vary.add("Accept-Encoding")
    if encoding:
        response.headers["Content-Encoding"] = encoding
    response.headers["Content-Type"] = TYPES.get(Path(name).suffix, "application/octet-stream")
    response.headers["Cache-Control"] = cache_control
    return response


def _best_encoding(folder: Path, name: str) -> tuple[str, str]:
    """Return the encoding that the browser takes and the build made, smallest first, with its file's ending."""
    for encoding, suffix in ENCODINGS:
        made = safe_join(str(folder), name + suffix)
        if request.accept_encodings.quality(encoding) > 0 and made and Path(made).is_file():
            return encoding, suffix
    return "", ""


def _certificate_file() -> Path:
    file = current_app.config["CERTIFICATE_AUTHORITY"]
    if not file:
        raise Refused(
            404, "no_authority", "this server has no certificate authority of its own; start it with --tls"
        )
    return Path(file)
