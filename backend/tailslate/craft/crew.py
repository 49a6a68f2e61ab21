"""Who does it: an order of tasks that a crew of so many hands can work, and when it ends.

Serial scheduling, the task that must start first goes first. A good order, not always the best:
lower_bound_min says how far it could at most be shortened. Times are minutes of work.
"""

from .errors import RuleError
from .limits import at_least_zero
from .network import critical_path, working_order
from .rounding import compare, total

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, TypedDict

    class CrewTask(TypedDict):
        """A piece of work: id, time, the ids it waits for, and hands by crew."""

        id: str
        duration_min: float
        after: list[str]
        hands: dict[str, int]

    Booking = tuple[float, float, dict[str, int]]


def _check_hands(tasks: "list[CrewTask]", capacity: dict[str, int]) -> None:
    for task in tasks:
        for crew in sorted(task["hands"]):
            wanted = task["hands"][crew]
            at_least_zero(wanted, field="hands", unit="people", next_step="count the hands it takes")
            there = capacity.get(crew, 0)
            if wanted > there:
                sentence = (
                    f"'{task['id']}' takes {wanted} of {crew}, there are {there}; "
                    "split the task or bring more people"
                )
                raise RuleError(
                    "crew_too_small", sentence, id=task["id"], crew=crew, value=wanted, limit=there
                )


def _is_free(start: float, task: "CrewTask", booked: "list[Booking]", capacity: dict[str, int]) -> bool:
    """Return whether the hands for a task are free from start to its end."""
    end = start + task["duration_min"]
    overlapping = [entry for entry in booked if entry[0] < end and entry[1] > start]
    for moment in [start] + [entry[0] for entry in overlapping if entry[0] > start]:
        for crew in task["hands"]:
            busy = [entry[2].get(crew, 0) for entry in overlapping if entry[0] <= moment < entry[1]]
            if sum(busy) + task["hands"][crew] > capacity.get(crew, 0):
                return False
    return True


def _placed(
    order: list[str], by_id: "dict[str, CrewTask]", capacity: dict[str, int]
) -> "tuple[float, dict[str, float]]":
    """Return the end and each task's start when tasks are placed one by one, as early as they fit."""
    starts: dict[str, float] = {}
    booked: list[Booking] = []
    end = 0.0
    for name in order:
        task = by_id[name]
        earliest = max(
            [starts[before] + by_id[before]["duration_min"] for before in task["after"]], default=0.0
        )
        moments = sorted([earliest] + [entry[1] for entry in booked if entry[1] > earliest])
        start = next(moment for moment in moments if _is_free(moment, task, booked, capacity))
        starts[name] = start
        if task["duration_min"] > 0:
            booked.append((start, start + task["duration_min"], task["hands"]))
        end = max(end, start + task["duration_min"])
    return end, starts


def crew_schedule(tasks: "list[CrewTask]", *, capacity: dict[str, int]) -> "dict[str, Any]":
    """Return an order that the crews can work: smallest latest start first, then latest finish, then id.

    Args:
        tasks: list of dict, keys id, duration_min [min], after (ids), hands (dict crew -> people).
        capacity: people of each crew (a count).
    Returns: dict, keys length_min [min], starts (list of dict, keys id, start_min [min], by start then id),
        lower_bound_min [min] (no order is shorter).
    Raises: RuleError "not_a_number", "negative", "id_twice", "task_unknown", "cycle", "crew_too_small".
    Source: [schedule-5]

    >>> frame = {"id": "frame", "duration_min": 20.0, "after": [], "hands": {"grip": 2}}
    >>> flag = {"id": "flag", "duration_min": 10.0, "after": [], "hands": {"grip": 1}}
    >>> crew_schedule([frame, flag], capacity={"grip": 2})["length_min"]
    30.0
    """
    network = critical_path(tasks)  # type: ignore[arg-type]
    _check_hands(tasks, capacity)
    by_id, rank = {}, {}
    for task in tasks:
        by_id[task["id"]] = task
    for times in network["tasks"]:
        rank[times["id"]] = (times["latest_start_min"], times["latest_finish_min"], times["id"])
    order: list[str] = []
    while len(order) < len(tasks):
        ready = [name for name in by_id if name not in order and _is_ready(by_id[name], order)]
        order.append(min(ready, key=lambda name: rank[name]))
    length_min, starts = _placed(order, by_id, capacity)
    listed = [{"id": name, "start_min": starts[name]} for name in order]
    return {
        "length_min": length_min,
        "starts": sorted(listed, key=lambda entry: (entry["start_min"], entry["id"])),
        "lower_bound_min": lower_bound_min(tasks, capacity=capacity),
    }


def _is_ready(task: "CrewTask", order: list[str]) -> bool:
    return all([before in order for before in task["after"]])


def lower_bound_min(tasks: "list[CrewTask]", *, capacity: dict[str, int]) -> float:
    """Return a time that no order can beat: the critical path, or the work over the hands.

    Args:
        tasks: list of dict as in crew_schedule [min].
        capacity: people of each crew (a count).
    Returns: time [min].
    Raises: RuleError as crew_schedule.
    Source: [schedule-5]

    >>> frame = {"id": "frame", "duration_min": 20.0, "after": [], "hands": {"grip": 2}}
    >>> lower_bound_min([frame], capacity={"grip": 2})
    20.0
    """
    _check_hands(tasks, capacity)
    bound = critical_path(tasks)["length_min"]  # type: ignore[arg-type]
    for crew in sorted(capacity):
        work = total([task["duration_min"] * task["hands"].get(crew, 0) for task in tasks])
        if capacity[crew] > 0:
            bound = max(bound, work / capacity[crew])
    return bound


def shortest_found_min(
    tasks: "list[CrewTask]", *, capacity: dict[str, int], most_orders: int = 2000
) -> float:
    """Return the shortest time over many possible orders; over all of them when they are few.

    Args:
        tasks: list of dict as in crew_schedule [min].
        capacity: people of each crew (a count).
        most_orders: orders to try at most (a count), 1 or more.
    Returns: time [min].
    Raises: RuleError as crew_schedule.
    Source: [schedule-5]

    >>> frame = {"id": "frame", "duration_min": 20.0, "after": [], "hands": {"grip": 2}}
    >>> shortest_found_min([frame], capacity={"grip": 2})
    20.0
    """
    best = crew_schedule(tasks, capacity=capacity)
    shortest, bound = best["length_min"], best["lower_bound_min"]
    by_id, after = {}, {}
    for task in tasks:
        by_id[task["id"]], after[task["id"]] = task, task["after"]
    names = working_order(after, ids=[task["id"] for task in tasks])
    open_orders: list[list[str]] = [[]]
    while open_orders and most_orders > 0 and compare(shortest, bound) > 0:
        order = open_orders.pop()
        if len(order) == len(names):
            most_orders -= 1
            shortest = min(shortest, _placed(order, by_id, capacity)[0])
        for name in names:
            if name not in order and _is_ready(by_id[name], order):
                open_orders.append(order + [name])
    return float(shortest)


def after_breaks_min(working_min: float, *, breaks: list[tuple[float, float]]) -> float:
    """Return the time on the clock after so much work, with meals and turn-arounds left out.

    Args:
        working_min: minutes of work from the start [min], 0 or more.
        breaks: list of (start, length) on the same clock, from the start [min], not overlapping.
    Returns: minutes on the clock from the start [min].
    Raises: RuleError "not_a_number", "negative".
    Source: [schedule-6]

    >>> after_breaks_min(90.0, breaks=[(60.0, 30.0)]), after_breaks_min(60.0, breaks=[(60.0, 30.0)])
    (120.0, 60.0)
    """
    clock_min = at_least_zero(working_min, field="working_min", unit="min", next_step="add up the work")
    for start_min, length_min in sorted(breaks):
        at_least_zero(length_min, field="length_min", unit="min", next_step="how long is the break?")
        if compare(clock_min, start_min) > 0:
            clock_min += length_min
    return clock_min
