"""Turns: so many at once, first come, first served, and none is lost."""

from __future__ import annotations

import threading
from collections.abc import Callable

import pytest

from tailslate.store.turns import TurnNotCome, Turns

LONG_S = 30


def comer(turns: Turns, name: str, served: list[str], goes: threading.Event) -> threading.Thread:
    """Start a thread that takes a turn, notes its name and keeps the turn until it may go."""

    def come() -> None:
        with turns.taken(LONG_S):
            served.append(name)
            goes.wait(LONG_S)

    thread = threading.Thread(target=come)
    thread.start()
    return thread


def until(holds: Callable[[], bool]) -> None:
    """Wait until a condition holds."""
    pause = threading.Event()
    for _look in range(3000):
        if holds():
            return
        pause.wait(0.01)
    raise AssertionError("it never came about")


def waiting(turns: Turns) -> int:
    """Return how many stand in the row."""
    return len(turns._waiting)


def test_who_comes_first_is_served_first() -> None:
    turns, served, goes = Turns(1), [], threading.Event()
    threads = []
    with turns.taken(LONG_S):
        for count, name in enumerate("abcde", 1):
            threads.append(comer(turns, name, served, goes))
            until(lambda count=count: waiting(turns) == count)
        assert served == []
    goes.set()
    for thread in threads:
        thread.join(LONG_S)
    assert served == list("abcde")


def test_no_more_than_its_number_hold_a_turn_at_once() -> None:
    turns, served, goes = Turns(2), [], threading.Event()
    threads = [comer(turns, name, served, goes) for name in "abc"]
    until(lambda: waiting(turns) == 1 and len(served) == 2)
    goes.set()
    for thread in threads:
        thread.join(LONG_S)
    assert sorted(served) == list("abc")


def test_whoever_gives_up_waiting_takes_no_turn_along() -> None:
    turns = Turns(1)
    with turns.taken(LONG_S), pytest.raises(TurnNotCome), turns.taken(0.01):
        raise AssertionError("two at once")
    with turns.taken(0.01):
        assert not turns._waiting


def test_a_turn_comes_back_when_its_block_fails() -> None:
    turns = Turns(1)
    with pytest.raises(ValueError, match="broken"), turns.taken(LONG_S):
        raise ValueError("broken")
    with turns.taken(0.01):
        pass
