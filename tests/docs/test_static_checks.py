"""The checkers find nothing: mypy (strict), ruff, tsc and biome."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

import hatch_build
from micropython.interpreter import NODE
from rules_bundle import REPOSITORY


def finished_clean(*command: str | Path, folder: Path = REPOSITORY) -> None:
    """Run a checker; when it complains, the test fails with its words."""
    finished = subprocess.run(
        command, cwd=folder, text=True, stdout=subprocess.PIPE, stderr=subprocess.STDOUT
    )
    if finished.returncode != 0:
        pytest.fail(finished.stdout, pytrace=False)


@pytest.mark.slow
def test_mypy_strict() -> None:
    finished_clean(sys.executable, "-m", "mypy")


def test_ruff_check() -> None:
    finished_clean(sys.executable, "-m", "ruff", "check", ".")


def test_ruff_format() -> None:
    finished_clean(sys.executable, "-m", "ruff", "format", "--check", ".")


def test_typescript(pwa_packages: Path) -> None:
    finished_clean(NODE, "node_modules/typescript/bin/tsc", "--noEmit", folder=pwa_packages)


def test_biome(pwa_packages: Path) -> None:
    finished_clean(
        NODE, "node_modules/@biomejs/biome/bin/biome", "check", "--error-on-warnings", folder=pwa_packages
    )


def test_the_lock_file_names_no_registry() -> None:
    lock = (hatch_build.PWA / "package-lock.json").read_text(encoding="utf-8")
    assert '"resolved"' not in lock
    assert '"integrity"' in lock
