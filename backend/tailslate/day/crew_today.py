"""The crew as it works today: people and pace by department, the clock, and the limit of what is old.

Knows no order of tasks.
"""

from tailslate.craft.odds import three_point_min
from tailslate.day import kinds, pace
from tailslate.day.day_clock import MINUTE_MS, DayClock
from tailslate.day.exchange import OLD_MS

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.work import Work

CLOCKS_DIFFER_MS = 120000  # a tick from farther ahead than clocks differ has no known age


def moments_of(minutes: "list[int]") -> "dict[str, float]":
    """Return mean and variance of three times [min], in any order: keys mean_min, variance_min2."""
    low, likely, high = sorted(minutes)
    return three_point_min(float(low), likely_min=float(likely), latest_min=float(high))


class Crew:
    """The crew of a day, now.

    Attributes: clock (DayClock); day (as work.of_day gives it); old_ms; hands (department to people); paces
    (department to dict as pace.of_ticks).
    """

    def __init__(self, shots: "list[Work]", day: "dict[str, Any]", clock: DayClock) -> None:
        """Learn each department's pace from the ticks of all shots."""
        self.clock = clock
        self.day = day
        self.old_ms = day["old_after_min"] * MINUTE_MS if day["old_after_min"] else OLD_MS
        self.hands: dict[str, int] = {}
        made: dict[str, list[tuple[int, float]]] = {}
        seen = set()
        for one in shots:
            for tick in one["ticks"]:
                if tick["cell"] not in seen and tick["at_ms"] <= clock.now_ms + CLOCKS_DIFFER_MS:
                    seen.add(tick["cell"])
                    made.setdefault(tick["department"], []).append(
                        (tick["at_ms"], moments_of(tick["minutes"])["mean_min"])
                    )
        self.paces: dict[str, Any] = {}
        for name in kinds.DEPARTMENT_NAMES:
            there = self.hands[name] = max(1, day["crew"].get(name, 0))
            self.paces[name] = pace.of_ticks(made.get(name, []), hands=there, meal=clock.meal)

    def add(self, hands: "dict[str, int]") -> None:
        """Take more people, or fewer, in some departments; one stays."""
        for name in hands:
            self.hands[name] = max(1, self.hands.get(name, 1) + hands[name])

    def is_enough(self, department: str) -> bool:
        """Tell whether a department has ticked enough for a pace."""
        return department in self.paces and bool(self.paces[department]["is_enough"])
