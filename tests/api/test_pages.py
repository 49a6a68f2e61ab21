"""What a browser gets: the app, files with their types and ages, plain pages, and the headers around them all."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from a_server import Here
from people import DAY, GRIP
from tailslate.api import pages

POLICY = (
    "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; "
    "connect-src 'self' blob:; worker-src 'self'; manifest-src 'self'; object-src 'none'; base-uri 'none'; "
    "form-action 'self'; frame-ancestors 'none'"
)


@pytest.fixture
def client(here: Here, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> FlaskClient:
    """A browser on a server whose app is a few small files."""
    static = tmp_path / "static"
    (static / "assets").mkdir(parents=True)
    for name in (
        "index.html",
        "sw.js",
        "manifest.webmanifest",
        "icon.svg",
        "assets/main-x.js",
        "assets/rules-x.packed",
    ):
        (static / name).write_text(name)
    monkeypatch.setattr(pages, "STATIC", static)
    return here.app.test_client()


@pytest.mark.parametrize(
    ("path", "content_type", "cache_control"),
    [
        ("/", "text/html; charset=utf-8", "no-cache"),
        ("/join", "text/html; charset=utf-8", "no-cache"),
        ("/sw.js", "text/javascript; charset=utf-8", "no-cache"),
        ("/manifest.webmanifest", "application/manifest+json", "no-cache"),
        ("/icon.svg", "image/svg+xml", "no-cache"),
        ("/assets/main-x.js", "text/javascript; charset=utf-8", "public, max-age=31536000, immutable"),
        ("/assets/rules-x.packed", "application/octet-stream", "public, max-age=31536000, immutable"),
        ("/reset", "text/html; charset=utf-8", "no-store"),
        ("/plain/reset.js", "text/javascript; charset=utf-8", "no-cache"),
        ("/api/kinds", "application/json", "no-store"),
        ("/api/nothing", "application/json", "no-store"),
    ],
)
def test_each_file_has_its_type_and_its_age(
    client: FlaskClient, path: str, content_type: str, cache_control: str
) -> None:
    response = client.get(path)
    assert (response.headers["Content-Type"], response.headers["Cache-Control"]) == (
        content_type,
        cache_control,
    )


def test_the_smallest_form_that_the_browser_takes_is_sent(client: FlaskClient) -> None:
    for suffix in (".br", ".gz"):
        (pages.STATIC / f"assets/main-x.js{suffix}").write_text(suffix)
    sent = {}
    for accepted in ("gzip, deflate, br, zstd", "gzip", "br;q=0, gzip", "identity", ""):
        response = client.get("/assets/main-x.js", headers={"Accept-Encoding": accepted})
        assert response.headers["Content-Type"] == "text/javascript; charset=utf-8"
        assert response.headers["Vary"] == "Accept-Encoding"
        sent[accepted] = (response.headers.get("Content-Encoding"), response.text)
    plain, zipped = (None, "assets/main-x.js"), ("gzip", ".gz")
    assert list(sent.values()) == [("br", ".br"), zipped, zipped, plain, plain]
    packed = client.get("/assets/rules-x.packed", headers={"Accept-Encoding": "br"})
    assert "Content-Encoding" not in packed.headers


def test_every_route_s_every_answer_carries_the_headers(here: Here, client: FlaskClient) -> None:
    paths = [rule.rule for rule in here.app.url_map.iter_rules()]
    assert len(paths) > 15
    for rule in [*paths, "/nothing", "/api/nothing"]:
        path = (
            rule.replace("<name:day_id>", DAY)
            .replace("<name:device_id>", "x")
            .replace("<name:invitation_id>", "x")
        )
        for method in ("GET", "POST", "DELETE"):
            response = client.open(path.replace("<path:name>", "x"), method=method)
            assert response.headers["Content-Security-Policy"] == POLICY
            assert response.headers["Referrer-Policy"] == "no-referrer"
            assert response.headers["X-Content-Type-Options"] == "nosniff"
            assert len(response.headers["X-Request-Id"]) == 16
            assert response.headers["X-Tailslate"] == "server"
            assert response.status_code < 500
            assert "Access-Control-Allow-Origin" not in response.headers
            assert "Set-Cookie" not in response.headers
            if response.status_code >= 400:
                error = response.get_json()["error"]
                assert error["request_id"] == response.headers["X-Request-Id"]
                assert error["code"]
                assert error["sentence"]


@pytest.mark.parametrize(
    "path",
    [
        "/shots",
        "/assets/gone.js",
        "/index.htm",
        "/assets/",
        "/../app.py",
        "/%2e%2e/app.py",
        "/assets/%00",
        "/plain/x",
    ],
)
def test_no_page_stands_in_for_what_is_not_there(client: FlaskClient, path: str) -> None:
    response = client.get(path)
    assert response.status_code == 404
    assert response.get_json()["error"]["code"] == "not_found"


def test_plain_pages_need_no_inline_script_or_style() -> None:
    found = sorted(pages.PLAIN.glob("*.html"))
    assert len(found) == 2
    for page in found:
        text = page.read_text()
        assert "<script>" not in text
        assert "<style" not in text
        assert " style=" not in text
        assert " onclick" not in text


def test_the_reset_page_and_the_withdrawing_worker_leave_what_people_wrote() -> None:
    for name in ("reset.js", "withdraw_worker.js"):
        code = (pages.PLAIN / name).read_text()
        assert "unregister" in code
        assert "caches.delete" in code
        assert "indexedDB" not in code
        assert "localStorage" not in code


def test_a_worker_that_went_wrong_can_be_withdrawn(tmp_path: Path) -> None:
    here = Here(str(tmp_path / "day.sqlite3"), WITHDRAW_WORKER=True)
    response = here.app.test_client().get("/sw.js")
    assert b"unregister" in response.data
    assert response.headers["Cache-Control"] == "no-cache"


def test_without_a_built_app_the_page_says_what_to_run(
    here: Here, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pages, "STATIC", tmp_path)
    response = here.app.test_client().get("/")
    assert response.status_code == 503
    assert response.json
    assert response.json["error"]["code"] == "app_not_built"


def test_the_authority_is_offered_only_where_there_is_one(here: Here, tmp_path: Path) -> None:
    for path in ("/certificate", "/certificate/tailslate-authority.crt"):
        assert here.app.test_client().get(path).get_json()["error"]["code"] == "no_authority"
    file = tmp_path / "authority.crt"
    file.write_text("certificate")
    there = Here(str(tmp_path / "other.sqlite3"), CERTIFICATE_AUTHORITY=str(file))
    response = there.app.test_client().get("/certificate/tailslate-authority.crt")
    assert (response.mimetype, response.data) == ("application/x-x509-ca-cert", b"certificate")


def test_a_fault_of_the_server_is_json_with_the_request_s_id(
    here: Here, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def breaks(*_arguments: Any, **_more: Any) -> None:
        raise RuntimeError("broken on purpose")

    phone = here.phone_of(GRIP)
    monkeypatch.setattr(type(here.parts.office), "read", breaks)
    reply = phone.ask(
        "POST",
        f"/api/days/{DAY}/exchange",
        {
            "protocol": "tailslate-exchange-1",
            "nonce": "n",
            "rules": 1,
            "epoch": None,
            "sets": {"floor": {"place": 0, "edits": ["x"]}},
        },
    )
    assert (reply.status, reply.json["error"]["code"]) == (500, "server_fault")
    assert "broken on purpose" not in reply.octets.decode()
    assert reply.json["error"]["request_id"] in caplog.text
