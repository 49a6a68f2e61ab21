"""Every public function of craft says its units, limits, refusals and source, and its sources are listed once."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import tailslate

CRAFT = Path(tailslate.__file__).parent / "craft"
KEY = re.compile(r"\[([a-z]+-\d+)\]")
# A unit in brackets, or in words that there is none, or that it is the caller's.
UNIT = re.compile(r"\[[^\]]+\]|no unit|a count|in (?:unit|any unit|that unit|the same unit)")
QUANTITY = re.compile(r"float|int\b|Range|Vector|Lamp|Layer|Passage|Subject|Task|Network|Any")


def functions() -> Iterator[tuple[str, ast.FunctionDef]]:
    for path in sorted(CRAFT.glob("*.py")):
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
                yield path.stem, node


FUNCTIONS = [pytest.param(module, node, id=f"{module}.{node.name}") for module, node in functions()]


def section(doc: str, name: str) -> str:
    """The text after `name:` up to the next section, without the indentation."""
    found = re.search(rf"^{name}:(.*?)(?=^(?:Args|Returns|Raises|Source):|^>>>|\Z)", doc, re.M | re.S)
    return found.group(1) if found else ""


def documented(doc: str) -> dict[str, str]:
    """Argument -> its text."""
    entries = re.split(r"^    (?=\w+: )", section(doc, "Args"), flags=re.M)[1:]
    return {entry.split(":", 1)[0]: entry.split(":", 1)[1].strip() for entry in entries}


@pytest.mark.parametrize(("module", "node"), FUNCTIONS)
def test_the_arguments_are_those_of_the_signature(module: str, node: ast.FunctionDef) -> None:
    doc = ast.get_docstring(node) or ""
    names = [argument.arg for argument in [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]]
    assert list(documented(doc)) == names


@pytest.mark.parametrize(("module", "node"), FUNCTIONS)
def test_what_comes_in_and_out_has_a_unit(module: str, node: ast.FunctionDef) -> None:
    doc = ast.get_docstring(node) or ""
    returned = section(doc, "Returns").strip()
    assert returned, "no Returns:"
    assert node.returns is not None
    if QUANTITY.search(ast.unparse(node.returns)):
        assert UNIT.search(returned), f"Returns has no unit: {returned}"
    texts = documented(doc)
    for argument in [*node.args.args, *node.args.kwonlyargs]:
        assert argument.annotation is not None
        if QUANTITY.search(ast.unparse(argument.annotation)):
            assert UNIT.search(texts[argument.arg]), f"{argument.arg} has no unit: {texts[argument.arg]}"


@pytest.mark.parametrize(("module", "node"), FUNCTIONS)
def test_refusals_source_and_an_example_are_given(module: str, node: ast.FunctionDef) -> None:
    doc = ast.get_docstring(node) or ""
    assert section(doc, "Raises").strip()
    assert KEY.search(section(doc, "Source")), "no source key"
    assert ">>>" in doc, "no example"


def used_keys() -> set[str]:
    return {key for path in CRAFT.glob("*.py") for key in KEY.findall(path.read_text(encoding="utf-8"))}


def listed_keys() -> list[str]:
    text = (CRAFT / "SOURCES.md").read_text(encoding="utf-8")
    return re.findall(r"^\| ([a-z]+-\d+) \|", text, re.M)


def test_every_source_is_listed_once_and_used() -> None:
    listed = listed_keys()
    assert len(listed) == len(set(listed))
    assert used_keys() == set(listed)


def test_every_source_says_what_it_is_and_how_far_it_was_followed_up() -> None:
    text = (CRAFT / "SOURCES.md").read_text(encoding="utf-8")
    ways = ("read 20", "date not noted", "from memory", "arithmetic", "common practice, no source")
    for line in text.splitlines():
        if re.match(r"\| [a-z]+-\d+ \|", line):
            key, title, part, followed = [cell.strip() for cell in line.strip("|").split("|")]
            assert title, key
            assert part, key
            assert any(way in followed for way in ways), f"{key}: {followed}"


CONSTANT = re.compile(r"^[A-Z][A-Z0-9_]+ = [-\d].*$")


def test_every_constant_says_its_unit_and_its_source() -> None:
    silent = [
        f"{path.name}: {line}"
        for path in sorted(CRAFT.glob("*.py"))
        for line in path.read_text(encoding="utf-8").splitlines()
        if CONSTANT.match(line) and "#" not in line
    ]
    assert not silent


def test_a_docstring_without_a_unit_would_be_noticed() -> None:
    assert not UNIT.search("the illuminance, not rounded.")
    assert UNIT.search("the illuminance [lx], not rounded.")
    assert documented("Do.\n\nArgs:\n    one: first [m].\n    two: second [s].\nReturns: it [m].") == {
        "one": "first [m].",
        "two": "second [s].",
    }
