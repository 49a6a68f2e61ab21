"""The examples in the docstrings of `craft` and `day` hold."""

import doctest
import importlib

import pytest

from rules_bundle import REPOSITORY, rules_files

MODULES = [".".join(path.relative_to(REPOSITORY / "backend").with_suffix("").parts) for path in rules_files()]


@pytest.mark.parametrize("name", [name for name in MODULES if not name.endswith("__init__")])
def test_the_examples_hold(name: str) -> None:
    outcome = doctest.testmod(importlib.import_module(name), report=False)
    assert outcome.failed == 0, (
        f"{outcome.failed} of {outcome.attempted} examples in {name}; they are printed above"
    )
