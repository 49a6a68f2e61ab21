"""Every file of the rules starts on the phone. Runs before all else: when this fails, most else does."""

import pytest

from micropython.interpreter import MicroPython, MicroPythonError
from rules_bundle import REPOSITORY, rules_files

MODULES = [
    ".".join(path.relative_to(REPOSITORY / "backend").with_suffix("").parts).removesuffix(".__init__")
    for path in rules_files()
]


def test_the_interpreter_is_micropython_and_says_what_it_printed(micropython: MicroPython) -> None:
    assert micropython.run("import sys; print(sys.implementation.name, 1 + 1)") == "micropython 2\n"


def test_an_exception_on_the_phone_reaches_the_test(micropython: MicroPython) -> None:
    with pytest.raises(MicroPythonError) as caught:
        micropython.run("print('before')\n{}['absent']")
    assert (caught.value.type, caught.value.stdout) == ("KeyError", "before\n")


@pytest.mark.parametrize("module", MODULES)
def test_micropython_imports(module: str, micropython: MicroPython) -> None:
    micropython.run(f"import {module}")
