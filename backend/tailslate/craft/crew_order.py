"""Who does what after what: tasks of one pair of hands each, handed out to the people of each crew.

A list says who is served first; a person who ends a task begins the next one. Several lists are tried, then
pairs of places in the best are exchanged, until the bound that no order can beat is met or the tries are used
up. Where two tasks share hands, the later waits for the earlier: so a plan is a network again.
"""

from .crew import lower_bound_min
from .errors import RuleError
from .network import critical_path
from .rounding import compare

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, TypedDict

    from .crew import CrewTask

    class HandTask(TypedDict):
        """A piece of work for one pair of hands: id, time, the ids it waits for, and its crew ("" takes no hands)."""

        id: str
        duration_min: float
        after: list[str]
        crew: str

    class Plan(TypedDict):
        """length_min [min]; ends (id to end [min]); after (id to the ids it waits for, hands included)."""

        length_min: float
        ends: dict[str, float]
        after: dict[str, list[str]]


def handed_out(order: list[str], tasks: "list[HandTask]", *, capacity: dict[str, int]) -> "Plan":
    """Return the plan in which tasks are begun as early as links and hands let them, first come first served.

    Args:
        order: every id once; a task whose links come later in it waits for its turn.
        tasks: list of dict, keys id, duration_min [min], after (ids), crew.
        capacity: people of each crew (a count).
    Returns: dict, keys length_min [min], ends (dict id to minutes [min]), after (dict id to ids).
    Raises: RuleError "cycle".
    Source: [schedule-5], one pair of hands a task

    >>> flags = [{"id": name, "duration_min": 10.0, "after": [], "crew": "grip"} for name in ("a", "b", "c")]
    >>> plan = handed_out(["a", "b", "c"], flags, capacity={"grip": 2})
    >>> plan["length_min"], plan["after"]["c"]
    (20.0, ['a'])
    """
    by_id: dict[str, HandTask] = {}
    free: dict[str, list[tuple[float, str]]] = {}  # for each person: since when, and the task that ended then
    for task in tasks:
        by_id[task["id"]] = task
    for crew in capacity:
        free[crew] = [(0.0, "")] * capacity[crew]
    ends: dict[str, float] = {}
    after: dict[str, list[str]] = {}
    waiting = list(order)
    while waiting:
        name = ""
        for one in waiting:
            for before in by_id[one]["after"]:
                if before not in ends:
                    break
            else:
                name = one
                break
        if not name:
            raise RuleError(
                "cycle",
                "these wait for each other in a ring: " + ", ".join(waiting) + "; drop one of the links",
            )
        waiting.remove(name)
        task = by_id[name]
        start, after[name] = max([ends[before] for before in task["after"]], default=0.0), list(task["after"])
        if task["crew"]:
            people = free[task["crew"]]
            # whoever has been free for the shortest time: the others stay for what can begin sooner
            in_time = [one for one in people if one[0] <= start]
            person = max(in_time) if in_time else min(people)
            people.remove(person)
            start = max(start, person[0])
            if person[1] and person[1] not in after[name]:
                after[name].append(person[1])
            people.append((start + task["duration_min"], name))
        ends[name] = start + task["duration_min"]
    length_min = max([ends[name] for name in ends], default=0.0)
    return {"length_min": length_min, "ends": ends, "after": after}


def crew_order(
    tasks: "list[HandTask]", *, capacity: dict[str, int], most_placed: int = 1200
) -> "dict[str, Any]":
    """Return the shortest plan found for crews of so many people.

    Args:
        tasks: list of dict, keys id, duration_min [min], after (ids), crew ("" takes no hands).
        capacity: people of each crew (a count).
        most_placed: tasks to place at most in all the plans tried (a count): a phone has to wait for them.
    Returns: dict, keys length_min [min], lower_bound_min (no order is shorter) [min], after (dict id to the
        ids it waits for, those whose hands it takes over included).
    Raises: RuleError "not_a_number", "negative", "id_twice", "task_unknown", "cycle", "crew_too_small".
    Source: [schedule-5]

    >>> frame = {"id": "frame", "duration_min": 20.0, "after": [], "crew": "grip"}
    >>> crew_order([frame], capacity={"grip": 1})["length_min"]
    20.0
    """
    with_hands: list[CrewTask] = []
    for task in tasks:
        hands = {task["crew"]: 1} if task["crew"] else {}
        with_hands.append(
            {
                "id": task["id"],
                "duration_min": task["duration_min"],
                "after": task["after"],
                "hands": hands,
            }
        )
    bound = lower_bound_min(with_hands, capacity=capacity)
    best, order, tried = None, [], 0
    most_tries = most_placed // max(1, len(tasks))
    for listed in _lists(tasks):
        plan = handed_out(listed, tasks, capacity=capacity)
        tried += 1
        if best is None or compare(plan["length_min"], best["length_min"]) < 0:
            best, order = plan, listed
    while best and compare(best["length_min"], bound) > 0 and tried < most_tries:
        better, used = _exchanged(order, best, tasks, capacity, most_tries - tried)
        tried += used
        if better is None:
            break
        order = better
        best = handed_out(order, tasks, capacity=capacity)
    return {
        "length_min": best["length_min"] if best else 0.0,
        "lower_bound_min": bound,
        "after": best["after"] if best else {},
    }


def _lists(tasks: "list[HandTask]") -> list[list[str]]:
    """Return lists by latest start, by latest finish, by least slack, and by the longest task first."""
    rank = {}
    for times in critical_path(tasks)["tasks"]:  # type: ignore[arg-type]
        rank[times["id"]] = times
    lists = []
    for name in ("latest_start_min", "latest_finish_min", "slack_min"):
        lists.append(_by([(rank[task["id"]][name], task["id"]) for task in tasks]))
    lists.append(_by([(-task["duration_min"], task["id"]) for task in tasks]))
    return lists


def _by(ranked: "list[tuple[float, str]]") -> list[str]:
    return [pair[1] for pair in sorted(ranked)]


def _exchanged(
    order: list[str], best: "Plan", tasks: "list[HandTask]", capacity: dict[str, int], most_tries: int
) -> "tuple[list[str] | None, int]":
    """Return the first list with two places exchanged that is shorter, None without one; and the plans tried."""
    tried = 0
    for last in range(1, len(order)):
        for first in range(last):
            if tried >= most_tries:
                return None, tried
            listed = list(order)
            listed[first], listed[last] = listed[last], listed[first]
            tried += 1
            plan = handed_out(listed, tasks, capacity=capacity)
            if compare(plan["length_min"], best["length_min"]) < 0:
                return listed, tried
    return None, tried
