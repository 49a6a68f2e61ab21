"""The rules as the phone gets them: `craft` and `day` minified, for every kilobyte is a wait at the door of a set.

A traceback on a phone still names the file and the function; the line is that of the minified text.
"""

from __future__ import annotations

import json
from pathlib import Path

from python_minifier import minify

REPOSITORY = Path(__file__).resolve().parent.parent
BUNDLE = REPOSITORY / "pwa" / "generated" / "rules.json"
PACKAGES = ("craft", "day")


def rules_files(backend: Path = REPOSITORY / "backend") -> list[Path]:
    """Return every Python file of `craft` and `day`, sorted by path."""
    return sorted(path for package in PACKAGES for path in (backend / "tailslate" / package).rglob("*.py"))


def shipped(source: str) -> str:
    """Return the source as the phone runs it: no docstrings, comments or annotations, short local names."""
    return minify(
        source,
        remove_literal_statements=True,
        remove_annotations=True,
        rename_locals=True,
        rename_globals=False,  # the files import from one another by name
        hoist_literals=False,  # gzip does it better
    )


def rules_bundle(backend: Path = REPOSITORY / "backend") -> dict[str, str]:
    """Return path under /lib -> source as shipped, for every rules file and the package above them."""
    files = {"tailslate/__init__.py": ""}
    for path in rules_files(backend):
        files[path.relative_to(backend).as_posix()] = shipped(path.read_text(encoding="utf-8"))
    return files


def write_bundle() -> Path:
    """Write the bundle where the front end's build imports it, and return that path."""
    BUNDLE.parent.mkdir(exist_ok=True)
    text = json.dumps(rules_bundle(), ensure_ascii=False, indent=0, sort_keys=True) + "\n"
    if not BUNDLE.exists() or BUNDLE.read_text(encoding="utf-8") != text:
        BUNDLE.write_text(text, encoding="utf-8")
    return BUNDLE


if __name__ == "__main__":
    print(write_bundle().relative_to(REPOSITORY))
