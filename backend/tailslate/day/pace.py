"""How fast a department works today: the time between its ticks against the time that was expected.

Knows no shot. E1 fewer than five ticks say nothing: four gaps leave a mean uncertain by about a half (1 / root of 4,
for gaps that scatter as widely as they are long), and with fewer a range would hold anything. E2 a long gap is waiting
or a forgotten tick, not slow work: it counts as the limit. E3 what is not yet seen keeps the range wide.
"""

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    Pace = dict[str, Any]

ENOUGH_TICKS = 5
LONGEST_GAP_MIN = 30.0  # chosen: common practice, no source
EXPECTED_MIN = (
    20.0  # minutes as expected that stand beside what is seen, so that one slow task is no law (chosen)
)
MINUTE_MS = 60000


def of_ticks(
    ticks: "list[tuple[int, float]]", *, hands: int, meal: "tuple[int, int] | None" = None
) -> "Pace":
    """Return a department's pace.

    Args:
        ticks: when each was made [ms since 1970 UTC], and the minutes expected for its task [min].
        hands: people of the department on the day (a count), 1 or more.
        meal: start and end of the meal [ms since 1970 UTC], None without one.
    Returns: dict, keys ratio (time it takes over time expected), spread_ratio (its standard deviation over it),
        ticks (a count), is_enough.

    >>> as_expected = [(minute * 60000, 10.0) for minute in range(0, 60, 10)]
    >>> of_ticks(as_expected, hands=1)["ratio"]
    1.0
    """
    ordered = sorted(ticks)
    taken, expected = 0.0, 0.0
    for place in range(1, len(ordered)):
        before, now = ordered[place - 1], ordered[place]
        gap_ms = now[0] - before[0]
        if meal:
            gap_ms -= max(0, min(meal[1], now[0]) - max(meal[0], before[0]))
        taken += min(LONGEST_GAP_MIN, gap_ms / MINUTE_MS)
        expected += now[1] / hands
    ratio = (EXPECTED_MIN + taken) / (EXPECTED_MIN + expected)
    return {
        "ratio": min(3.0, max(1.0 / 3.0, ratio)),
        "spread_ratio": max(1, len(ordered) - 1) ** -0.5,
        "ticks": len(ordered),
        "is_enough": len(ordered) >= ENOUGH_TICKS,
    }
