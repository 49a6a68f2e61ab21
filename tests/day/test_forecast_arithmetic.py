"""When a network of tasks is done: against counted runs (numpy), every order of a small crew, published examples."""

from __future__ import annotations

import math
from itertools import pairwise, permutations
from typing import Any

import numpy as np
import pytest

from tailslate.craft.crew_order import crew_order, handed_out
from tailslate.craft.forecast import ready_time
from tailslate.craft.network import critical_path, working_order
from tailslate.craft.odds import ready_by_ratio, three_point_min

CREWS = ("grip", "electric", "art")


def a_network(seed: int) -> tuple[list[dict[str, Any]], np.random.Generator]:
    """Six tasks and more with three times each; most wait for several others."""
    draw = np.random.default_rng(seed)
    tasks = []
    for number in range(int(draw.integers(6, 13))):
        low = int(draw.integers(1, 10))
        likely = low + int(draw.integers(1, 8))
        high = likely + int(draw.integers(1, 16))
        after = [f"t{before:02d}" for before in range(number) if draw.random() < 0.3]
        crew = CREWS[int(draw.integers(0, 3))]
        tasks.append({"id": f"t{number:02d}", "times": (low, likely, high), "after": after, "crew": crew})
    return tasks, draw


def counted(tasks: list[dict[str, Any]], after: dict[str, list[str]], draw: np.random.Generator) -> Any:
    """The last end in 40,000 runs; each time is a beta with the mean and variance that PERT takes for it.

    The shape comes from the two moments: D. G. Malcolm and others, Operations Research 7 (1959), from memory.
    """
    times = {task["id"]: task["times"] for task in tasks}
    ends: dict[str, Any] = {}
    for name in working_order(after, ids=list(after)):
        low, likely, high = times[name]
        share = ((low + 4 * likely + high) / 6 - low) / (high - low)
        weight = share * (1 - share) * 36 - 1
        drawn = low + (high - low) * draw.beta(share * weight, (1 - share) * weight, 40_000)
        start = np.max([ends[before] for before in after[name]], axis=0) if after[name] else 0.0
        ends[name] = start + drawn
    return np.max(list(ends.values()), axis=0)


def forecast_of(tasks: list[dict[str, Any]], after: dict[str, list[str]]) -> dict[str, Any]:
    measured: Any = []
    for task in tasks:
        low, likely, high = task["times"]
        estimate = three_point_min(low, likely_min=likely, latest_min=high)
        measured.append({"id": task["id"], **estimate, "after": after[task["id"]]})
    return ready_time(measured)


def with_crew(tasks: list[dict[str, Any]], capacity: dict[str, int]) -> dict[str, Any]:
    times: Any = [
        {
            "id": task["id"],
            "duration_min": (task["times"][0] + 4 * task["times"][1] + task["times"][2]) / 6,
            "after": task["after"],
            "crew": task["crew"],
        }
        for task in tasks
    ]
    return crew_order(times, capacity=capacity)


def merges(tasks: list[dict[str, Any]]) -> bool:
    return any(len(task["after"]) > 1 for task in tasks)


@pytest.mark.parametrize("limited", [False, True])
@pytest.mark.parametrize("seed", range(100))
def test_mean_and_odds_are_what_counted_runs_give(seed: int, limited: bool) -> None:
    tasks, draw = a_network(seed)
    after = {task["id"]: task["after"] for task in tasks}
    if limited:
        after = with_crew(tasks, {"grip": 2, "electric": 1, "art": 1})["after"]
    last = counted(tasks, after, draw)
    found = forecast_of(tasks, after)
    assert found["mean_min"] == pytest.approx(last.mean(), rel=0.03)
    for ratio in (0.1, 0.5, 0.9):
        due_min = float(np.quantile(last, ratio))
        odds = ready_by_ratio(due_min, mean_min=found["mean_min"], variance_min2=found["variance_min2"])
        assert odds == pytest.approx(ratio, abs=0.08)


def test_the_networks_have_paths_that_meet() -> None:
    assert sum(merges(a_network(seed)[0]) for seed in range(100)) > 90


@pytest.mark.parametrize("seed", range(20))
def test_how_far_a_task_moves_the_end_is_how_often_it_is_on_the_longest_path(seed: int) -> None:
    """One minute more of a task moves the mean by its chance to be critical; counted by running it again."""
    tasks, draw = a_network(seed)
    after = {task["id"]: task["after"] for task in tasks}
    found = forecast_of(tasks, after)
    state = draw.bit_generator.state
    before = counted(tasks, after, draw).mean()
    for task in tasks[::3]:
        draw.bit_generator.state = state  # the same luck, so that only the task differs
        longer = [
            {**one, "times": tuple(time + 0.5 for time in one["times"])} if one is task else one
            for one in tasks
        ]
        moved = (counted(longer, after, draw).mean() - before) / 0.5
        assert found["moves_ratio"].get(task["id"], 0.0) == pytest.approx(moved, abs=0.1)


# crews


def shortest_of_all(tasks: list[dict[str, Any]], capacity: dict[str, int]) -> float:
    """The shortest end over every order, minute by minute: another route than craft's."""
    by_id = {task["id"]: task for task in tasks}
    best = math.inf
    for order in permutations(by_id):
        ends: dict[str, int] = {}
        busy: dict[tuple[str, int], int] = {}
        for name in order:
            task = by_id[name]
            if any(before not in ends for before in task["after"]):
                break
            start = max([ends[before] for before in task["after"]], default=0)
            while any(
                busy.get((task["crew"], minute), 0) >= capacity[task["crew"]]
                for minute in range(start, start + task["duration_min"])
            ):
                start += 1
            for minute in range(start, start + task["duration_min"]):
                busy[task["crew"], minute] = busy.get((task["crew"], minute), 0) + 1
            ends[name] = start + task["duration_min"]
            if ends[name] >= best:
                break
        if len(ends) == len(by_id):
            best = min(best, max(ends.values()))
    return best


@pytest.mark.parametrize("seed", range(40))
def test_a_plan_beats_no_bound_and_is_within_a_tenth_of_the_best_of_all_orders(seed: int) -> None:
    draw = np.random.default_rng(seed)
    tasks: Any = [
        {
            "id": f"t{number}",
            "duration_min": int(draw.integers(2, 12)),
            "after": [f"t{before}" for before in range(number) if draw.random() < 0.2],
            "crew": CREWS[int(draw.integers(0, 2))],
        }
        for number in range(6)
    ]
    capacity = {"grip": int(draw.integers(1, 3)), "electric": 1}
    found = crew_order(tasks, capacity=capacity)
    best = shortest_of_all(tasks, capacity)
    assert found["lower_bound_min"] <= best <= found["length_min"] + 1e-9
    assert found["length_min"] <= best * 1.1


def test_who_takes_over_hands_waits_and_the_network_then_needs_no_crew() -> None:
    tasks, _draw = a_network(7)
    found = with_crew(tasks, {"grip": 1, "electric": 1, "art": 1})
    of_crew: dict[str, list[str]] = {}
    for task in tasks:
        of_crew.setdefault(task["crew"], []).append(task["id"])
    timed: Any = [
        {
            "id": task["id"],
            "duration_min": (task["times"][0] + 4 * task["times"][1] + task["times"][2]) / 6,
            "after": found["after"][task["id"]],
        }
        for task in tasks
    ]
    network = critical_path(timed)
    assert network["length_min"] == pytest.approx(found["length_min"])
    spans = {one["id"]: (one["earliest_start_min"], one["earliest_finish_min"]) for one in network["tasks"]}
    for names in of_crew.values():
        ordered = sorted(spans[name] for name in names)
        for one, following in pairwise(ordered):
            assert following[0] >= one[1] - 1e-9


# published


def test_the_pert_example_of_four_activities_is_the_published_one() -> None:
    """Taylor, Introduction to Management Science: mean 24, variance 5, .9633 by 28 with a rounded z (case 12-04)."""
    times = [(5, 8, 17), (3, 5, 7), (4, 6, 8), (3, 4, 5)]
    tasks = [{"id": str(place), "times": three} for place, three in enumerate(times)]
    found = forecast_of(tasks, {str(place): [str(place - 1)] if place else [] for place in range(len(times))})
    assert found["mean_min"] == pytest.approx(24)
    assert found["variance_min2"] == pytest.approx(5)
    assert ready_by_ratio(28, mean_min=24, variance_min2=5) == pytest.approx(0.9631809, abs=0.001)
    assert set(found["moves_ratio"].values()) == {1.0}


def test_a_network_without_spread_is_the_published_critical_path() -> None:
    """Taylor, Introduction to Management Science: seven arcs, 20 (case 12-01); slack moves nothing."""
    arcs = [(1, 2, 7), (1, 3, 10), (2, 4, 6), (3, 4, 5), (3, 5, 4), (4, 5, 3), (5, 6, 2)]
    tasks: Any = [
        {
            "id": f"{start}-{end}",
            "mean_min": float(length),
            "variance_min2": 0.0,
            "after": [f"{a}-{b}" for a, b, _ in arcs if b == start],
        }
        for start, end, length in arcs
    ]
    found = ready_time(tasks)
    assert found["mean_min"] == 20
    assert {name for name, ratio in found["moves_ratio"].items() if ratio == 1.0} == {
        "1-3",
        "3-4",
        "4-5",
        "5-6",
    }


def test_the_last_of_three_equal_departments_is_as_late_as_order_statistics_say() -> None:
    """Three at 60 min with 10: 60 + 0.8463 x 10 by quadrature (case 12-06); Clark folds two by two, within 0.1."""
    tasks: Any = [
        {"id": name, "mean_min": 60.0, "variance_min2": 100.0, "after": []} for name in ("a", "b", "c")
    ]
    assert ready_time(tasks)["mean_min"] == pytest.approx(68.46284, abs=0.1)


def test_a_day_of_ten_tasks_with_hands_enough_takes_its_critical_path() -> None:
    """65 min, D with slack 10, G with 20 (case 12-03, networkx)."""
    work = {
        "A": (20, ""), "B": (25, ""), "C": (15, "AB"), "D": (30, ""), "E": (25, ""), "F": (20, "CD"), "G": (15, "D"),
        "H": (20, "ED"), "I": (5, "F"), "J": (0, "IGH"),
    }  # fmt: skip
    tasks: Any = [
        {"id": name, "duration_min": float(length), "after": list(after), "crew": "all"}
        for name, (length, after) in work.items()
    ]
    found = crew_order(tasks, capacity={"all": 4})
    assert (found["length_min"], found["lower_bound_min"]) == (65.0, 65.0)
    alone = handed_out(list(work), tasks, capacity={"all": 1})
    assert alone["length_min"] == sum(length for length, _ in work.values())
