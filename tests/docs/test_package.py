"""What pip installs: the source archive builds the wheel, and the wheel carries all that the server needs."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

import hatch_build
from rules_bundle import REPOSITORY


def build(kind: str, source: Path, into: Path) -> Path:
    """Build one archive without the front end's tools and return it."""
    environment = {**os.environ, hatch_build.SKIP: "1"}
    command = [sys.executable, "-m", "hatchling", "build", "-t", kind, "-d", into]
    finished = subprocess.run(command, cwd=source, env=environment, capture_output=True, text=True)
    assert finished.returncode == 0, finished.stderr
    (archive,) = into.iterdir()
    return archive


@pytest.mark.slow
def test_the_wheel_carries_rules_seed_data_licence_and_front_end(built_pwa: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(build("wheel", REPOSITORY, tmp_path)) as wheel:
        names = wheel.namelist()
    for wanted in ("tailslate/craft/errors.py", "tailslate/day/merge.py", "tailslate/static/index.html"):
        assert wanted in names
    for folder in ("tailslate/seed_data/", "tailslate/static/assets/"):
        assert any(name.startswith(folder) for name in names), folder
    assert any(name.endswith("LICENSE.txt") for name in names)


@pytest.mark.slow
def test_the_source_archive_is_enough_to_build_a_wheel_from(tmp_path: Path) -> None:
    archive = build("sdist", REPOSITORY, tmp_path / "archive")
    shutil.unpack_archive(archive, tmp_path)
    with tarfile.open(archive) as opened:
        names = opened.getnames()
    assert [
        name for name in names if "/node_modules/" in name or "/static/" in name or "/generated/" in name
    ] == []
    (source,) = tmp_path.glob("tailslate-*")
    assert (source / "pwa" / "package-lock.json").is_file()
    build("wheel", source, tmp_path / "wheel")
