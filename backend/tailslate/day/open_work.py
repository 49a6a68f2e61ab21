"""What is open in a shot as a network: each standing word in place of its department's tasks, hands handed out.

Knows no records. A task begins when what it needs is done, when the shot before it is out of the way, and when a pair
of hands of its department is free. A pace is not known exactly and moves all tasks of its department at once.
"""

from tailslate.craft.crew_order import crew_order
from tailslate.craft.forecast import ready_time
from tailslate.craft.odds import three_point_min
from tailslate.craft.rounding import round_half_up
from tailslate.day.crew_today import Crew, moments_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    Time = dict[
        str, Any
    ]  # mean_min, variance_min2 (of the tasks), pull (department to minutes a unit of its pace)

SO_FAR = "the shot before it"
# Tasks placed in all the orders tried: many for the shot that is next, few for those after it. A day has many shots, and
# a phone has to wait for all of them.
NOW_PLACED, LATER_PLACED = 1200, 200
FIRST_ONES = 5  # tasks named as those to do first
LEAST_WON_MIN = 0.5  # less is not worth a name


class Network:
    """The network of one shot.

    Attributes: open (cell key to task); words (record key to word); measured (list of dict as ready_time takes).
    """

    def __init__(
        self,
        tasks: "list[dict[str, Any]]",
        said: "list[dict[str, Any]]",
        so_far: "Time | None",
        crew: Crew,
    ) -> None:
        """Link the tasks, then hand out the hands."""
        self.crew = crew
        self.so_far = so_far if so_far and so_far["mean_min"] > 0.0 else None
        self.open: dict[str, dict[str, Any]] = {}
        self.words: dict[str, dict[str, Any]] = {}
        self.measured: list[Any] = []
        in_place_of = {}  # a task of a department that gave its word waits in that word
        for word in said:
            if word["stands"]:
                self.words[word["record"]] = word
                low, likely, high = word["left"]
                moments = three_point_min(low, likely_min=likely, latest_min=high)
                self._add(word["record"], moments, [])
                for task in tasks:
                    if task["department"] == word["department"]:
                        in_place_of[task["cell"]] = word["record"]
        if self.so_far:
            self._add(SO_FAR, self.so_far, [])
        left = [task for task in tasks if task["cell"] not in in_place_of]
        known = set([task["cell"] for task in left] + sorted(in_place_of))
        for task in left:
            self.open[task["cell"]] = task
            after = sorted(set([in_place_of.get(need, need) for need in task["needs"] if need in known]))
            ratio = self._pace(task["department"])["ratio"]
            moments = moments_of(task["minutes"])
            moments = {
                "mean_min": moments["mean_min"] * ratio,
                "variance_min2": moments["variance_min2"] * ratio * ratio,
            }
            self._add(task["cell"], moments, after + ([SO_FAR] if self.so_far else []))
        self._hand_out()

    def _pace(self, department: str) -> "dict[str, Any]":
        return dict(self.crew.paces[department])

    def _add(self, name: str, moments: "dict[str, Any]", after: "list[str]") -> None:
        one = {"id": name, "mean_min": moments["mean_min"], "variance_min2": moments["variance_min2"]}
        one["after"] = after
        self.measured.append(one)

    def _hand_out(self) -> None:
        tasks: list[Any] = []
        for one in self.measured:
            crew = self.open[one["id"]]["department"] if one["id"] in self.open else ""
            tasks.append(
                {"id": one["id"], "duration_min": one["mean_min"], "after": one["after"], "crew": crew}
            )
        after = crew_order(
            tasks, capacity=self.crew.hands, most_placed=NOW_PLACED if self.so_far is None else LATER_PLACED
        )["after"]
        for one in self.measured:
            one["after"] = after[one["id"]]

    def ready(self) -> "Time":
        """Return when all is done: dict, keys mean_min, variance_min2, pull."""
        found = ready_time(self.measured)
        pull: dict[str, float] = {}
        if self.so_far:
            share = found["moves_ratio"].get(SO_FAR, 0.0)
            for name in self.so_far["pull"]:
                pull[name] = share * self.so_far["pull"][name]
        for one in self.measured:
            if one["id"] in self.open:
                name = self.open[one["id"]]["department"]
                share = found["moves_ratio"].get(one["id"], 0.0)
                pull[name] = pull.get(name, 0.0) + share * one["mean_min"]
        return {"mean_min": found["mean_min"], "variance_min2": found["variance_min2"], "pull": pull}

    def first(self) -> "list[dict[str, Any]]":
        """Return the tasks that can be begun now and the words that stand, those that move the end most first."""
        found = ready_time(self.measured)
        ranked = []
        for one in self.measured:
            task = self.open.get(one["id"])
            if one["id"] == SO_FAR or (task and [need for need in task["needs"] if need in self.open]):
                continue
            share = found["moves_ratio"].get(one["id"], 0.0)
            ranked.append((-round_half_up(share * one["mean_min"], 3), one["id"]))
        tried = []
        for _share, name in sorted(ranked)[:FIRST_ONES]:
            without = ready_time([_done(one) if one["id"] == name else one for one in self.measured])
            won = round_half_up(found["mean_min"] - without["mean_min"], 1)
            if won >= LEAST_WON_MIN:
                tried.append((-won, name))
        return [self._told(name, -won) for won, name in sorted(tried)]

    def _told(self, name: str, won_min: float) -> "dict[str, Any]":
        if name in self.words:
            word = self.words[name]
            told = {"record": name, "title": word["shown"], "department": word["department"]}
        else:
            task = self.open[name]
            told = {"record": task["record"], "title": task["title"], "department": task["department"]}
        told["minutes_won"] = won_min
        return told


def _done(one: "dict[str, Any]") -> "Any":
    return {"id": one["id"], "mean_min": 0.0, "variance_min2": 0.0, "after": one["after"]}


def variance_of(ready: "Time", crew: Crew) -> float:
    """Return the variance, with what is not known of the paces: each pace moves all tasks of its department at once."""
    variance: float = ready["variance_min2"]
    for name in sorted(ready["pull"]):
        off = ready["pull"][name] * crew.paces[name]["spread_ratio"]
        variance += off * off
    return variance
