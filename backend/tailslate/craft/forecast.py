"""When all is ready: a network of uncertain tasks to one time with its spread.

Clark's latest-of-two, folded over each meeting point, with the covariances that shared tasks
cause. Crew limits are in crew.py; a department's own word outranks both.
"""

from .network import working_order
from .odds import latest_of_two, three_point_min

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import TypedDict

    class UncertainTask(TypedDict):
        """A piece of work with three times; after: the ids it waits for."""

        id: str
        earliest_min: float
        likely_min: float
        latest_min: float
        after: list[str]


class _Finish:
    """A finish time: its mean and variance, and its covariance with each finish before it."""

    def __init__(self, mean_min: float, variance_min2: float, shared: dict[str, float]) -> None:
        self.mean_min = mean_min
        self.variance_min2 = variance_min2
        self.shared = shared

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
        latest = _Finish(both["mean_min"], both["variance_min2"], shared)
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
    after, estimates = {}, {}
    for task in tasks:
        after[task["id"]] = task["after"]
        estimates[task["id"]] = three_point_min(
            task["earliest_min"], likely_min=task["likely_min"], latest_min=task["latest_min"]
        )
    finishes: dict[str, _Finish] = {}
    for name in working_order(after, ids=[task["id"] for task in tasks]):
        nothing: dict[str, float] = {}
        for known in finishes:
            nothing[known] = 0.0
        start = _later(after[name], finishes) if after[name] else _Finish(0.0, 0.0, nothing)
        shared: dict[str, float] = {}
        for known in sorted(finishes):
            shared[known] = start.shared[known]
            finishes[known].shared[name] = start.shared[known]
        mean_min = start.mean_min + estimates[name]["mean_min"]
        variance_min2 = start.variance_min2 + estimates[name]["variance_min2"]
        shared[name] = variance_min2
        finishes[name] = _Finish(mean_min, variance_min2, shared)
    waited_for = [before for task in tasks for before in task["after"]]
    last = [task["id"] for task in tasks if task["id"] not in waited_for]
    return _later(last, finishes).moments() if last else {"mean_min": 0.0, "variance_min2": 0.0}
