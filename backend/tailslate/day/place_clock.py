"""The place's clock: how far it is ahead of UTC at a moment, also through the night in which clocks are changed.

Knows no time zones: the phone and the server read them from their own tables. C1 a time is told by the clock that hung
on the wall then, not by the one that hangs there now. C2 what falls into an hour that a clock skips is an hour later;
what is there twice is the first of the two.
"""

TYPE_CHECKING = False
if TYPE_CHECKING:
    # Minutes ahead of UTC; or [from [ms since 1970 UTC], minutes] in the order of time, the first from ever.
    Offset = int | list[list[int]]

MINUTE_MS = 60000


def ahead_min(at_ms: int, offset: "Offset") -> int:
    """Return how many minutes the clock is ahead of UTC at a moment.

    Args:
        at_ms: time [ms since 1970 UTC].
        offset: minutes, or minutes from a time on.

    >>> ahead_min(5000, [[0, 120], [5000, 60]]), ahead_min(4999, [[0, 120], [5000, 60]]), ahead_min(0, 60)
    (60, 120, 60)
    """
    if isinstance(offset, int):
        return offset
    found = offset[0][1]
    for from_ms, minutes in offset:
        if from_ms <= at_ms:
            found = minutes
    return found


def later_ms(near_ms: int, minutes: int, offset: "Offset") -> int:
    """Return when the hands of the clock have moved so many minutes from where they stood.

    Args:
        near_ms: time from which on [ms since 1970 UTC].
        minutes: of the clock's hands, negative for before.
        offset: minutes ahead of UTC, or minutes from a time on.
    Returns: time [ms since 1970 UTC].
    """
    there_ms = near_ms + minutes * MINUTE_MS
    before = ahead_min(near_ms, offset)
    turned = ahead_min(there_ms, offset) - before
    moved_ms = there_ms - turned * MINUTE_MS
    if ahead_min(moved_ms, offset) - before == turned:
        return moved_ms
    return max(there_ms, moved_ms) if turned > 0 else min(there_ms, moved_ms)
