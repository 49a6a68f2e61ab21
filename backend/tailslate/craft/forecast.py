"""When all is ready: a network of uncertain tasks to one time with its spread.

Clark's latest-of-two, folded over each meeting point, with the covariances that shared tasks
cause. Crew limits are in crew.py; a department's own word outranks both.
"""

from .network import working_order
from .odds import latest_of_two, three_point_min

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, TypedDict

    class UncertainTask(TypedDict):
        """A piece of work with three times; after: the ids it waits for."""

        id: str
        earliest_min: float
        likely_min: float
        latest_min: float
        after: list[str]

    class MeasuredTask(TypedDict):
        """A piece of work by mean and variance; after: the ids it waits for."""

        id: str
        mean_min: float
        variance_min2: float
        after: list[str]


class _Finish:
    """A finish time: its mean and variance, its covariance with each finish before it, and how far the
    mean moves with the mean of each task behind it."""

    def __init__(
        self, mean_min: float, variance_min2: float, shared: dict[str, float], moves: dict[str, float]
    ) -> None:
        self.mean_min = mean_min
        self.variance_min2 = variance_min2
        self.shared = shared
        self.moves = moves

    def moments(self) -> dict[str, float]:
        """Return mean [min] and variance [min2]."""
        return {"mean_min": self.mean_min, "variance_min2": self.variance_min2}


def _later(names: list[str], finishes: "dict[str, _Finish]") -> _Finish:
    """Return the latest of several finishes; sorted by mean, so the order given does not matter."""
    names = sorted(names, key=lambda name: (finishes[name].mean_min, name))
    latest = finishes[names[0]]
    for name in names[1:]:
        other = finishes[name]
        covariance = latest.shared[name]
        both = latest_of_two(latest.moments(), other=other.moments(), covariance_min2=covariance)
        first = both["first_ratio"]
        shared: dict[str, float] = {}
        for known in finishes:
            shared[known] = latest.shared[known] * first + other.shared[known] * (1.0 - first)
        moves: dict[str, float] = {}  # [schedule-3]: the derivative of the mean by either mean is its chance
        for known in set(list(latest.moves) + list(other.moves)):
            moves[known] = latest.moves.get(known, 0.0) * first + other.moves.get(known, 0.0) * (1.0 - first)
        latest = _Finish(both["mean_min"], both["variance_min2"], shared, moves)
    return latest


def ready_time_min(tasks: "list[UncertainTask]") -> dict[str, float]:
    """Return mean and variance of the time when the last of a network of uncertain tasks is done.

    Args:
        tasks: list of dict, keys id, earliest_min, likely_min, latest_min [min], after (ids); not empty.
    Returns: dict, keys mean_min [min], variance_min2 [min2].
    Raises: RuleError "not_a_number", "negative", "order_wrong", "id_twice", "task_unknown", "cycle".
    Source: [schedule-3]

    >>> ready_time_min([{"id": "rig", "earliest_min": 4.0, "likely_min": 6.0, "latest_min": 8.0, "after": []}])["mean_min"]
    6.0
    """
    measured: list[MeasuredTask] = []
    for task in tasks:
        estimate = three_point_min(
            task["earliest_min"], likely_min=task["likely_min"], latest_min=task["latest_min"]
        )
        measured.append(
            {
                "id": task["id"],
                "mean_min": estimate["mean_min"],
                "variance_min2": estimate["variance_min2"],
                "after": task["after"],
            }
        )
    found = ready_time(measured)
    return {"mean_min": found["mean_min"], "variance_min2": found["variance_min2"]}


def ready_time(tasks: "list[MeasuredTask]") -> "dict[str, Any]":
    """Return when the last of a network of tasks is done, and how much each task moves that time.

    Args:
        tasks: list of dict, keys id, mean_min [min], variance_min2 [min2], after (ids).
    Returns: dict, keys mean_min [min], variance_min2 [min2], moves_ratio (dict id to the minutes by which
        the mean moves with one minute of that task: the chance that it is on the longest path).
    Raises: RuleError "id_twice", "task_unknown", "cycle".
    Source: [schedule-3]

    >>> ready_time([{"id": "rig", "mean_min": 6.0, "variance_min2": 1.0, "after": []}])["moves_ratio"]
    {'rig': 1.0}
    """
    by_id, after = {}, {}
    for task in tasks:
        by_id[task["id"]], after[task["id"]] = task, task["after"]
    finishes: dict[str, _Finish] = {}
    for name in working_order(after, ids=[task["id"] for task in tasks]):
        nothing: dict[str, float] = {}
        for known in finishes:
            nothing[known] = 0.0
        start = _later(after[name], finishes) if after[name] else _Finish(0.0, 0.0, nothing, {})
        shared: dict[str, float] = {}
        for known in sorted(finishes):
            shared[known] = start.shared[known]
            finishes[known].shared[name] = start.shared[known]
        mean_min = start.mean_min + by_id[name]["mean_min"]
        variance_min2 = start.variance_min2 + by_id[name]["variance_min2"]
        shared[name] = variance_min2
        moves = dict(start.moves)
        moves[name] = 1.0
        finishes[name] = _Finish(mean_min, variance_min2, shared, moves)
    waited_for = set([before for task in tasks for before in task["after"]])
    last = [task["id"] for task in tasks if task["id"] not in waited_for]
    if not last:
        return {"mean_min": 0.0, "variance_min2": 0.0, "moves_ratio": {}}
    end = _later(last, finishes)
    return {"mean_min": end.mean_min, "variance_min2": end.variance_min2, "moves_ratio": end.moves}
