"""What waits for what: the critical path and every task's slack. Minutes of work, no clock.

Forward: a task starts when the last of those before it ends. Backward: it may end when the first
of those after it must start. Slack absorbs delay; a task without slack moves the whole day.
"""

from .errors import RuleError
from .limits import at_least_zero
from .rounding import compare

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, TypedDict

    class Task(TypedDict):
        """A piece of work: its id, how long it takes, the ids of those that come before it."""

        id: str
        duration_min: float
        after: list[str]

    class Network(TypedDict):
        """The whole: how long, which tasks are critical, and each task's times."""

        length_min: float
        critical: list[str]
        tasks: list[dict[str, Any]]


def working_order(after: "dict[str, list[str]]", *, ids: list[str]) -> list[str]:
    """Return ids so that each comes after those it waits for; ties keep the order of ids.

    Args:
        after: for each id, the ids it waits for (no unit).
        ids: every id once (no unit).
    Returns: ids in a possible working order.
    Raises: RuleError "id_twice", "task_unknown", "cycle".
    Source: [schedule-1]

    >>> working_order({"dress": ["clear"], "clear": []}, ids=["dress", "clear"])
    ['clear', 'dress']
    """
    known: dict[str, bool] = {}
    for name in ids:
        if name in known:
            raise RuleError("id_twice", f"two tasks are called '{name}'; give one another id", id=name)
        known[name] = False
    for name in ids:
        for before in after[name]:
            if before not in known:
                sentence = f"'{name}' waits for '{before}', which is not in the list; add it or drop the link"
                raise RuleError("task_unknown", sentence, id=name, missing=before)
    order: list[str] = []
    waiting = list(ids)
    while waiting:
        ready = [name for name in waiting if all([known[before] for before in after[name]])]
        if not ready:
            sentence = f"these wait for each other in a ring: {', '.join(waiting)}; drop one of the links"
            raise RuleError("cycle", sentence, ids=waiting)
        for name in ready:
            known[name] = True
        order += ready
        waiting = [name for name in waiting if not known[name]]
    return order


def critical_path(tasks: "list[Task]") -> "Network":
    """Return the length of a network of tasks, its critical tasks, and each task's times and slack.

    Args:
        tasks: list of dict, keys id, duration_min [min] (0 or more), after (ids it waits for).
    Returns: dict, keys length_min [min], critical (ids without slack, in the order given), tasks (list
        of dict, keys id, earliest_start_min, earliest_finish_min, latest_start_min, latest_finish_min,
        slack_min, free_slack_min [min]).
    Raises: RuleError "not_a_number", "negative", "id_twice", "task_unknown", "cycle".
    Source: [schedule-1]

    >>> network = critical_path([
    ...     {"id": "rig", "duration_min": 25.0, "after": []},
    ...     {"id": "dress", "duration_min": 10.0, "after": []},
    ...     {"id": "meter", "duration_min": 5.0, "after": ["rig", "dress"]}])
    >>> network["length_min"], network["critical"]
    (30.0, ['rig', 'meter'])
    """
    duration, after, followers = {}, {}, {}
    for task in tasks:
        name = task["id"]
        next_step = "give a time of 0 min or more"
        duration[name] = at_least_zero(
            task["duration_min"], field="duration_min", unit="min", next_step=next_step
        )
        after[name] = task["after"]
        followers[name] = [other["id"] for other in tasks if name in other["after"]]
    ids = [task["id"] for task in tasks]
    order = working_order(after, ids=ids)
    finish: dict[str, float] = {}
    for name in order:
        finish[name] = max([finish[before] for before in after[name]], default=0.0) + duration[name]
    length_min = max([finish[name] for name in ids], default=0.0)
    latest: dict[str, float] = {}
    for index in range(len(order) - 1, -1, -1):
        name = order[index]
        latest[name] = min([latest[next_] - duration[next_] for next_ in followers[name]], default=length_min)
    times: list[dict[str, Any]] = []
    for name in ids:
        next_start = min([finish[next_] - duration[next_] for next_ in followers[name]], default=length_min)
        times.append(
            {
                "id": name,
                "earliest_start_min": finish[name] - duration[name],
                "earliest_finish_min": finish[name],
                "latest_start_min": latest[name] - duration[name],
                "latest_finish_min": latest[name],
                "slack_min": latest[name] - finish[name],
                "free_slack_min": next_start - finish[name],
            }
        )
    critical = [
        time["id"] for time in times if compare(time["latest_finish_min"], time["earliest_finish_min"]) <= 0
    ]
    return {"length_min": length_min, "critical": critical, "tasks": times}
