"""Networks against networkx, forecasts against counted runs (numpy), crews against every order, odds against scipy."""

from __future__ import annotations

import math
from itertools import permutations
from typing import Any

import networkx as nx
import numpy as np
import pytest
from scipy.stats import norm

from tailslate.craft.crew import after_breaks_min, crew_schedule, lower_bound_min, shortest_found_min
from tailslate.craft.errors import RuleError
from tailslate.craft.forecast import ready_time_min
from tailslate.craft.network import critical_path
from tailslate.craft.odds import (
    all_ready_ratio,
    eight_in_ten_min,
    latest_mean_min,
    latest_of_two,
    normal_ratio,
    ready_by_ratio,
)


def random_tasks(seed: int, *, count: int, link: float) -> list[dict[str, Any]]:
    """Tasks in shuffled order; each may wait for any before it in a hidden order."""
    draw = np.random.default_rng(seed)
    tasks = [
        {
            "id": f"t{number:02d}",
            "duration_min": float(draw.integers(0, 40)),
            "after": [f"t{before:02d}" for before in range(number) if draw.random() < link],
        }
        for number in range(count)
    ]
    return [tasks[place] for place in draw.permutation(count)]


@pytest.mark.parametrize("seed", range(200))
def test_a_network_has_the_length_critical_tasks_and_floats_that_longest_paths_give(seed: int) -> None:
    tasks = random_tasks(seed, count=4 + seed % 17, link=0.25)
    graph: Any = nx.DiGraph()
    for task in tasks:
        graph.add_edge((task["id"], "start"), (task["id"], "end"), weight=task["duration_min"])
        graph.add_edge("begin", (task["id"], "start"), weight=0)
        graph.add_edge((task["id"], "end"), "done", weight=0)
        for before in task["after"]:
            graph.add_edge((before, "end"), (task["id"], "start"), weight=0)

    def longest(part: Any, source: Any, target: Any) -> float:
        """Longest path by its own recursion over networkx's order, not by craft's passes."""
        best = dict.fromkeys(part, -math.inf)
        best[source] = 0.0
        for node in nx.topological_sort(part):
            for _, after, weight in part.out_edges(node, data="weight"):
                best[after] = max(best[after], best[node] + weight)
        return best[target]

    found = critical_path(tasks)  # type: ignore[arg-type]
    length = nx.dag_longest_path_length(graph)
    assert found["length_min"] == pytest.approx(length)
    critical = []
    for task, times in zip(tasks, found["tasks"], strict=True):
        start = longest(graph, "begin", (task["id"], "start"))
        rest = longest(graph, (task["id"], "end"), "done")
        slack = length - start - task["duration_min"] - rest
        assert times["earliest_start_min"] == pytest.approx(start)
        assert times["slack_min"] == pytest.approx(slack)
        followers = [other["id"] for other in tasks if task["id"] in other["after"]]
        next_start = min([longest(graph, "begin", (name, "start")) for name in followers], default=length)
        assert times["free_slack_min"] == pytest.approx(next_start - start - task["duration_min"])
        if slack == 0:
            critical.append(task["id"])
    assert found["critical"] == critical


@pytest.mark.parametrize("seed", range(40))
def test_a_ring_is_refused_whenever_networkx_finds_one(seed: int) -> None:
    draw = np.random.default_rng(seed)
    names = [f"t{number}" for number in range(7)]
    tasks: Any = [
        {"id": name, "duration_min": 1.0, "after": [other for other in names if draw.random() < 0.12]}
        for name in names
    ]
    graph: Any = nx.DiGraph([(before, task["id"]) for task in tasks for before in task["after"]])
    graph.add_nodes_from(names)
    if nx.is_directed_acyclic_graph(graph):
        assert critical_path(tasks)["length_min"] >= 1
    else:
        with pytest.raises(RuleError) as refused:
            critical_path(tasks)
        assert refused.value.code == "cycle"


def test_the_two_kinds_of_random_network_both_occur() -> None:
    kinds = set()
    for seed in range(40):
        draw = np.random.default_rng(seed)
        links = [(a, b) for b in range(7) for a in range(7) if draw.random() < 0.12]
        graph: Any = nx.DiGraph(links)
        kinds.add(nx.is_directed_acyclic_graph(graph))
    assert kinds == {True, False}


@pytest.mark.parametrize("seed", range(10))
def test_a_forecast_is_what_counted_runs_give(seed: int) -> None:
    draw = np.random.default_rng(seed)
    tasks: Any = []
    for number in range(9):
        low = float(draw.uniform(5, 20))
        tasks.append(
            {
                "id": f"t{number}",
                "earliest_min": low,
                "likely_min": low + float(draw.uniform(1, 8)),
                "latest_min": low + float(draw.uniform(10, 30)),
                "after": [f"t{before}" for before in range(number) if draw.random() < 0.3],
            }
        )
    count, ends = 200_000, {}
    for task in tasks:
        mean = (task["earliest_min"] + 4 * task["likely_min"] + task["latest_min"]) / 6
        spread = (task["latest_min"] - task["earliest_min"]) / 6
        start = np.max([ends[before] for before in task["after"]], axis=0) if task["after"] else 0.0
        ends[task["id"]] = start + draw.normal(mean, spread, count)
    last = np.max(list(ends.values()), axis=0)
    found = ready_time_min(tasks)
    # Clark takes each latest as normal again, which it is not quite: a fifth of a minute at these spreads.
    assert found["mean_min"] == pytest.approx(last.mean(), abs=0.2)
    assert math.sqrt(found["variance_min2"]) == pytest.approx(last.std(), rel=0.06)


def test_a_path_that_two_departments_share_is_not_counted_as_two_chances() -> None:
    def task(name: str, low: float, high: float, after: list[str]) -> Any:
        return {
            "id": name,
            "earliest_min": low,
            "likely_min": (low + high) / 2,
            "latest_min": high,
            "after": after,
        }

    truck = task("truck", 0.0, 120.0, [])
    shared = ready_time_min([truck, task("rig", 5.0, 5.0, ["truck"]), task("dress", 5.0, 5.0, ["truck"])])
    assert shared["mean_min"] == pytest.approx(65.0)
    assert shared["variance_min2"] == pytest.approx(400.0)


@pytest.mark.parametrize("seed", range(12))
def test_the_later_of_two_is_what_counted_pairs_give(seed: int) -> None:
    draw = np.random.default_rng(seed)
    spread, other_spread, shared = draw.uniform(1, 10), draw.uniform(1, 10), draw.uniform(-0.9, 0.9)
    mean, other_mean = draw.uniform(40, 60), draw.uniform(40, 60)
    covariance = shared * spread * other_spread
    pairs = draw.multivariate_normal(
        [mean, other_mean], [[spread**2, covariance], [covariance, other_spread**2]], 400_000
    ).max(axis=1)
    found = latest_of_two(
        {"mean_min": mean, "variance_min2": spread**2},
        other={"mean_min": other_mean, "variance_min2": other_spread**2},
        covariance_min2=covariance,
    )
    assert found["mean_min"] == pytest.approx(pairs.mean(), abs=0.08)
    assert found["variance_min2"] == pytest.approx(pairs.var(), rel=0.02)


@pytest.mark.parametrize(
    ("count", "deviations"),
    # Means of the largest of 2, 3 and 5 standard normal draws: order statistics, published tables.
    [(2, 0.56418958), (3, 0.84628438), (5, 1.16296447)],
)
def test_the_last_of_equal_departments_is_as_late_as_order_statistics_say(
    count: int, deviations: float
) -> None:
    one = {"mean_min": 60.0, "variance_min2": 100.0}
    assert latest_mean_min([one] * count) == pytest.approx(60 + 10 * deviations, abs=1e-3)


@pytest.mark.parametrize("deviations", [-5.0, -1.28, -0.1, 0.0, 0.7, 2.5, 6.0])
def test_odds_are_scipys(deviations: float) -> None:
    assert normal_ratio(deviations) == pytest.approx(norm.cdf(deviations), rel=1e-12)
    due = 60 + 10 * deviations
    assert ready_by_ratio(due, mean_min=60.0, variance_min2=100.0) == pytest.approx(
        norm.cdf(deviations), rel=1e-9
    )
    times = [{"mean_min": 60.0, "variance_min2": 100.0}, {"mean_min": 55.0, "variance_min2": 25.0}]
    product = norm.cdf(deviations) * norm.cdf((due - 55) / 5)
    assert all_ready_ratio(due, times=times) == pytest.approx(product, rel=1e-9)


def test_eight_in_ten_lie_in_the_range() -> None:
    found = eight_in_ten_min(60.0, variance_min2=100.0)
    assert norm.cdf((found["high"] - 60) / 10) - norm.cdf((found["low"] - 60) / 10) == pytest.approx(0.8)


def random_crew_tasks(seed: int) -> list[dict[str, Any]]:
    draw = np.random.default_rng(seed)
    tasks = random_tasks(seed, count=6, link=0.2)
    for task in tasks:
        task["duration_min"] = float(draw.integers(5, 30))
        task["hands"] = {"grip": int(draw.integers(0, 3)), "electric": int(draw.integers(0, 2))}
    return tasks


def overlaps_beyond(tasks: list[dict[str, Any]], starts: dict[str, float], capacity: dict[str, int]) -> bool:
    """Whether at some minute more hands are at work than there are."""
    for minute in np.arange(0.0, 200.0, 0.5):
        for crew_name, there in capacity.items():
            busy = sum(
                task["hands"][crew_name]
                for task in tasks
                if starts[task["id"]] <= minute < starts[task["id"]] + task["duration_min"]
            )
            if busy > there:
                return True
    return False


def placed_one_by_one(order: Any, tasks: list[dict[str, Any]], capacity: dict[str, int]) -> float | None:
    """End of a serial schedule in whole minutes, None where the order breaks a link: another route than craft's."""
    by_id = {task["id"]: task for task in tasks}
    ends: dict[str, float] = {}
    starts: dict[str, float] = {}
    for name in order:
        task = by_id[name]
        if any(before not in ends for before in task["after"]):
            return None
        start = max([ends[before] for before in task["after"]], default=0.0)
        while True:
            busy_until = None
            for minute in np.arange(start, start + task["duration_min"]):
                for crew_name, there in capacity.items():
                    at_work = [n for n in starts if starts[n] <= minute < ends[n]]
                    if sum(by_id[n]["hands"][crew_name] for n in at_work) + task["hands"][crew_name] > there:
                        busy_until = minute + 1
            if busy_until is None:
                break
            start = busy_until
        starts[name], ends[name] = start, start + task["duration_min"]
    return max(ends.values())


@pytest.mark.parametrize("seed", range(8))
def test_a_crew_is_never_asked_for_more_hands_than_it_has_and_the_shortest_order_is_found(seed: int) -> None:
    tasks: Any = random_crew_tasks(seed)
    capacity = {"grip": 2, "electric": 1}
    found = crew_schedule(tasks, capacity=capacity)
    starts = {entry["id"]: entry["start_min"] for entry in found["starts"]}
    assert not overlaps_beyond(tasks, starts, capacity)
    for task in tasks:
        for before in task["after"]:
            duration = next(other["duration_min"] for other in tasks if other["id"] == before)
            assert starts[task["id"]] >= starts[before] + duration
    every_end = [
        end
        for order in permutations([task["id"] for task in tasks])
        if (end := placed_one_by_one(order, tasks, capacity)) is not None
    ]
    shortest = shortest_found_min(tasks, capacity=capacity)
    assert shortest == min(every_end)
    assert lower_bound_min(tasks, capacity=capacity) <= shortest <= found["length_min"] <= max(every_end)


def test_a_task_for_three_is_refused_to_a_crew_of_two() -> None:
    frame: Any = {"id": "frame", "duration_min": 20.0, "after": [], "hands": {"grip": 3}}
    with pytest.raises(RuleError) as refused:
        crew_schedule([frame], capacity={"grip": 2})
    assert refused.value.code == "crew_too_small"
    assert refused.value.facts == {"id": "frame", "crew": "grip", "value": 3, "limit": 2}


def test_a_meal_moves_what_comes_after_it_and_nothing_before() -> None:
    lunch = [(240.0, 60.0), (540.0, 30.0)]
    assert [after_breaks_min(work, breaks=lunch) for work in (100.0, 240.0, 241.0, 480.0, 481.0)] == [
        100.0,
        240.0,
        301.0,
        540.0,
        571.0,
    ]
