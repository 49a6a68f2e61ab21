"""The files of `craft` and `day` hold nothing that the phone's Python lacks, and their arrows do not turn back."""

import ast
from pathlib import Path

import pytest

from micropython.interpreter import MicroPython, MicroPythonError
from micropython.rules_lint import PhoneNames, complaints, place_of
from rules_bundle import rules_files, shipped

# Each fails on the phone, and the lint must say so before it gets there.
FAILS_LOUDLY = [
    "match 1:\n    case 1: pass",
    "def f(a, /): pass",
    "a = [1]\nb = [*a, 2]",
    "a = {}\nb = {**a}",
    "def f(x):\n    return 1, *x",
    "with (open('x') as f): pass",
    "try:\n    pass\nexcept* ValueError:\n    pass",
    "x = list[int]",
    "x = int | None",
    "isinstance(1, int | str)",
    "class A(metaclass=type): pass",
    "{1}.union({2}, {3})",
    "{1: 2}.keys() & {1}",
    "sum([1], start=2)",
    "list(zip([1], [2], strict=True))",
    "format(1.0, '.2f')",
    "vars(1)",
    "'abc'[::-1]",
    "'a'.casefold()",
    "'a'.removeprefix('a')",
    "'a'.zfill(3)",
    "'a'.title()",
    "(5).bit_length()",
    "(5.0).is_integer()",
    "from collections import Counter",
    "import collections\nP = collections.namedtuple('P', ('a',), defaults=(1,))",
    "import collections\ncollections.namedtuple('P', ('a',))(1)._replace(a=2)",
    "import functools\nfunctools.lru_cache",
    "from itertools import groupby",
    "import json\njson.dumps({}, sort_keys=True)",
    "import json\njson.JSONDecodeError",
    "import re\nre.findall('a', 'a')",
    "import re\nre.match('(?P<x>a)', 'a')",
    "import hashlib\nhashlib.sha256(b'').hexdigest()",
    "raise RecursionError('deep')",
    "import typing",
    "import dataclasses",
    "from __future__ import annotations",
    "import decimal",
]
# Each runs on the phone and gives something else than on the server.
DIFFERS_SILENTLY = [
    "round(2.675, 2)",
    "f'{0.125:.2f}'",
    "f'{1234567:,.2f}'",
    "'%.2f' % 0.125",
    "'{:.2f}'.format(0.125)",
    "{1: 2}.keys() == {1}",
    "import re\nre.match('a{2}', 'aa')",
]
# Each is fine, and must stay so.
IS_FINE = [
    "def f(*, a: int | None, b: list[int]) -> dict[str, int]:\n    c: list[int] = []\n    return {'a': a} | {'b': len(b)}",
    "TYPE_CHECKING = False\nif TYPE_CHECKING:\n    from typing import TypedDict",
    "a, *b = [1, 2, 3]\nprint(*b, 2)",
    "from collections import OrderedDict, namedtuple\nimport heapq, hashlib, binascii, re, json",
    "import json\njson.dumps({}, separators=(',', ':'))",
    "import re\nre.match('(?:a)+b', 'ab')",
    "f'{3:03d} {\"a\":>5} {4}'",
    "'a' in {'a': 1}.keys()",
    "print(sorted([2, 1], key=lambda x: -x), max([], default=3))",
]
OUTWARD = [
    ("craft/light.py", "import json"),
    ("craft/light.py", "from tailslate.day import merge"),
    ("craft/light.py", "from ..day import merge"),
    ("day/merge.py", "from tailslate.store import database"),
    ("day/merge.py", "import flask"),
    ("day/merge.py", "import time"),
    ("day/merge.py", "import random"),
    ("day/merge.py", "from .. import app"),
]


@pytest.fixture(scope="session")
def phone(micropython: MicroPython) -> PhoneNames:
    return PhoneNames.of(micropython)


@pytest.mark.parametrize("path", rules_files(), ids=place_of)
def test_a_rules_file_holds_nothing_the_phone_lacks(path: Path, phone: PhoneNames) -> None:
    assert complaints(path.read_text(encoding="utf-8"), place_of(path), phone) == []


@pytest.mark.parametrize("source", FAILS_LOUDLY)
def test_what_fails_on_the_phone_is_found_in_the_syntax_tree(
    source: str, phone: PhoneNames, micropython: MicroPython
) -> None:
    with pytest.raises(MicroPythonError):
        micropython.run(source.replace("'x'", "'/lib/tailslate/__init__.py'"))
    assert complaints(source, "day/sample.py", phone)


@pytest.mark.parametrize("source", DIFFERS_SILENTLY)
def test_what_differs_silently_is_found_in_the_syntax_tree(source: str, phone: PhoneNames) -> None:
    assert complaints(source, "day/sample.py", phone)


@pytest.mark.parametrize("source", IS_FINE)
def test_what_runs_alike_is_left_alone(source: str, phone: PhoneNames, micropython: MicroPython) -> None:
    micropython.run(source)
    assert complaints(source, "day/sample.py", phone) == []


@pytest.mark.parametrize(("place", "source"), OUTWARD)
def test_an_import_against_the_arrows_is_found(place: str, source: str, phone: PhoneNames) -> None:
    assert complaints(source, place, phone)


@pytest.mark.parametrize("path", rules_files(), ids=place_of)
def test_shipping_keeps_every_name_that_others_call(path: Path) -> None:
    source = path.read_text(encoding="utf-8")
    kept = _callable_by_others(shipped(source))
    assert [one for one in _callable_by_others(source) if one not in kept] == []


@pytest.mark.parametrize("path", rules_files(), ids=place_of)
def test_no_file_takes_what_is_another_files_own(path: Path) -> None:
    taken = [
        one.name
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ImportFrom)
        for one in node.names
    ]
    assert [name for name in taken if name.startswith("_")] == []


def test_shipping_leaves_out_what_only_people_read() -> None:
    source = '"""Module."""\n\n\nclass A(Exception):\n    """Sé, ünïcode."""  # why\n\n\ndef f(a: "int") -> "str":\n    """One."""\n    return "# kept"\n'
    assert shipped(source) == "class A(Exception):0\ndef f(a):return'# kept'"


def _callable_by_others(source: str) -> list[tuple[str, list[str], list[str]]]:
    """Return name, arguments and keywords of what others call: functions, and methods (without self), in order.

    What begins with an underscore is the file's own.
    """
    found = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Module | ast.ClassDef):
            for one in node.body:
                if isinstance(one, ast.FunctionDef) and (
                    isinstance(node, ast.ClassDef) or not one.name.startswith("_")
                ):
                    arguments = [argument.arg for argument in one.args.args]
                    arguments = arguments[1:] if isinstance(node, ast.ClassDef) else arguments
                    found.append((one.name, arguments, [argument.arg for argument in one.args.kwonlyargs]))
    return found
