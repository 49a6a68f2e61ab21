"""README.md and DEVELOPERS.md say what is so: commands run, rules have tests, folders exist, nothing leaks."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from rules_bundle import REPOSITORY
from server_process import TAILSLATE, command

DOCUMENTS = [REPOSITORY / "README.md", REPOSITORY / "DEVELOPERS.md"]
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "pyproject.toml", "backend", "pwa", "tests", "seed_data"}
CODE = re.compile(r"```.*?```|`[^`\n]+`", re.DOTALL)
COMMAND = re.compile(r"(?:^|[\s`/])tailslate ([a-z][a-z-]+)", re.MULTILINE)
RULE = re.compile(r"^\s*(?:[-*|#]+\s*)?[*`]{0,2}([A-Z]\d+)\b", re.MULTILINE)
FOLDER = re.compile(r"`((?:backend|pwa|tests|seed_data)(?:/[\w.-]+)*/?)`")
# Each pattern is written so that it does not find itself.
LEAKS = {
    "a path of one machine": re.compile(r"(?<![\w.])/(?:wor[k]|roo[t]|hom[e]|Us[e]rs)/\w|/tm[p]/"),
    "a host of a package registry": re.compile(
        r"registry\.np[m]js|pypi\.or[g]/simple|pythonhoste[d]|/artifactor[y]/"
    ),
    "a folder outside the repository": re.compile(r"\.\./share[d]"),
}


def code_in(document: Path) -> str:
    return "\n".join(CODE.findall(document.read_text(encoding="utf-8")))


def tracked_files() -> list[Path]:
    """Every file that the project keeps: git's list, or, without git, all but what is built or begins with a dot."""
    if shutil.which("git"):
        listed = subprocess.run(["git", "ls-files", "-z"], cwd=REPOSITORY, capture_output=True)
        if listed.returncode == 0:
            names = listed.stdout.decode().split("\0")
            return [REPOSITORY / name for name in names if name and (REPOSITORY / name).is_file()]
    built = {"node_modules", "generated", "static", "__pycache__"}

    def is_kept(path: Path) -> bool:
        folders = path.relative_to(REPOSITORY).parts[:-1]
        return not any(name in built or (name.startswith(".") and name != ".ci") for name in folders)

    return [path for path in REPOSITORY.rglob("*") if path.is_file() and is_kept(path)]


def test_the_commands_in_the_documents_exist_and_have_help() -> None:
    named = {name for document in DOCUMENTS for name in COMMAND.findall(code_in(document))}
    assert "serve" in named
    for name in sorted(named):
        assert "usage" in command(name, "--help").lower()


def test_every_command_is_in_a_document() -> None:
    # As installed: the name in the path, not the code behind it.
    overview = subprocess.run([TAILSLATE, "--help"], capture_output=True, text=True, check=True).stdout
    listed = re.findall(r"^  ([a-z][a-z-]+) ", overview.split("Commands:")[1], re.MULTILINE)
    assert listed, "tailslate --help lists no commands"
    text = "\n".join(document.read_text(encoding="utf-8") for document in DOCUMENTS)
    assert [name for name in listed if f"tailslate {name}" not in text] == []


def test_every_numbered_rule_has_a_test_named_by_it() -> None:
    rules = set(RULE.findall((REPOSITORY / "DEVELOPERS.md").read_text(encoding="utf-8")))
    assert rules, "DEVELOPERS.md numbers no rules"
    tests = "\n".join(path.read_text(encoding="utf-8") for path in (REPOSITORY / "tests").rglob("test_*.py"))
    names = "\n".join(re.findall(r"^\s*def (test_\w+)", tests, re.MULTILINE))
    untested = [
        rule for rule in sorted(rules) if not re.search(rf"_{rule.lower()}(?:_|$)", names, re.MULTILINE)
    ]
    assert untested == []


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda document: document.name)
def test_every_folder_and_file_named_exists(document: Path) -> None:
    named = FOLDER.findall(document.read_text(encoding="utf-8"))
    built = {"backend/tailslate/static", "pwa/node_modules", "pwa/generated"}
    assert [
        name for name in named if not (REPOSITORY / name).exists() and name.rstrip("/") not in built
    ] == []


def test_the_top_level_stays_small() -> None:
    tops = {path.relative_to(REPOSITORY).parts[0] for path in tracked_files()}
    assert {top for top in tops if not top.startswith(".")} <= TOP_LEVEL


def test_no_tracked_file_names_a_machine_or_a_registry() -> None:
    found = []
    for path in tracked_files():
        if path.suffix in {".png", ".jpg", ".woff2", ".wasm"}:
            continue
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1):
            found += [
                f"{path.relative_to(REPOSITORY)}:{number}: {what}"
                for what, p in LEAKS.items()
                if p.search(line)
            ]
    assert found == []
