"""What a phone downloads: small enough, complete, with the notices of what is in it."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

import hatch_build
from a_server import Here

LIMIT_BYTES = 450_000  # DEVELOPERS.md, "Decisions and why", says what it is made of
PRECACHED = re.compile(r'\{"revision":(?:null|"[0-9a-f]+"),"url":"([^"]+)"\}')


@pytest.fixture(scope="module")
def precached(built_pwa: Path) -> set[str]:
    """The files that the service worker keeps on the phone."""
    worker = (built_pwa / "sw.js").read_text(encoding="utf-8")
    found = set(PRECACHED.findall(worker))
    assert "index.html" in found, "the list of files in sw.js has another form than expected"
    return found


@pytest.mark.slow
def test_the_whole_app_fits_the_download_budget(here: Here, built_pwa: Path, precached: set[str]) -> None:
    """As gzip, which every browser takes; over https, where alone an app can be installed, brotli is smaller still."""
    phone = here.app.test_client()

    def fetched(name: str, encodings: str) -> int:
        return len(phone.get(f"/{name}", headers={"Accept-Encoding": encodings}).data)

    files = {*precached, "sw.js"}
    sizes = {name: fetched(name, "gzip, deflate") for name in files}
    listing = "\n".join(
        f"{size:8d} {name}" for name, size in sorted(sizes.items(), key=lambda item: -item[1])
    )
    assert min(sizes.values()) > 0
    assert sum(sizes.values()) <= LIMIT_BYTES, f"{sum(sizes.values())} bytes gzipped:\n{listing}"
    assert sum(fetched(name, "gzip, deflate, br") for name in files) < sum(sizes.values())


@pytest.mark.slow
def test_all_that_the_app_needs_offline_is_kept(built_pwa: Path, precached: set[str]) -> None:
    needed = {".js", ".css", ".html", ".wasm", ".packed"}
    built = {path.relative_to(built_pwa).as_posix() for path in built_pwa.rglob("*") if path.suffix in needed}
    assert built - precached == {"sw.js"}


@pytest.mark.slow
def test_the_notices_name_every_bundled_work(built_pwa: Path) -> None:
    text = (built_pwa / "notices.txt").read_text(encoding="utf-8")
    lock = json.loads((hatch_build.PWA / "package-lock.json").read_text(encoding="utf-8"))
    shipped = [
        path.split("node_modules/")[-1]
        for path, entry in lock["packages"].items()
        if path and not entry.get("dev")
    ]
    assert [name for name in shipped if f"\n{name} " not in text] == []
    for words in ("SIL OPEN FONT LICENSE", "Damien P. George", "Russ Cox", "Permission is hereby granted"):
        assert words in text
    assert "<year>" not in text
