"""A department's own word on a shot: 'ready', '10 more', 'stuck'. It outranks any model, while it stands.

Knows no tasks. O1 a word is as old as the live edit that says it; older than the limit, of no known time, or
overrun, it stands no more. O2 'stuck' stands until somebody says otherwise, however old. O3 of several answers the
most careful counts, with the most minutes.
"""

from tailslate.day import board, gathered, kinds, merge, names, shown

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered
    from tailslate.day.place_clock import Offset

    Word = dict[str, Any]

STUCK, MORE, READY = "stuck", "more", "ready"
# What people say in minutes is overrun more often than undercut: common practice, no source.
LOW_RATIO, HIGH_RATIO = 0.8, 1.5
MINUTE_MS = 60000


def of_shot(shot: str, records: "Gathered") -> "list[Word]":
    """Return the words on a shot, in the order of the departments.

    Args:
        shot: record key of the shot.
        records: the shot with what it reads.
    Returns: list of dict, keys record, department, said (stuck, more, ready; stuck when nobody can read it),
        minutes (None when not said), at_ms.
    """
    found = []
    for key in records.pointing("word", "shot", shot):
        entry, department = records.entry(key, "said"), records.text(key, "department")
        if not entry or entry[gathered.VALUE] is None or department not in kinds.DEPARTMENT_NAMES:
            continue
        said = records.text(key, "said")
        cell = records.cell(key, "minutes")
        minutes = [one[gathered.VALUE] for one in cell[merge.LIVE]] if cell else []
        counts = [one for one in minutes if isinstance(one, int) and one is not True and one is not False]
        found.append(
            {
                "record": key,
                "department": department,
                "said": said if said in (MORE, READY) else STUCK,
                "minutes": max(counts) if counts and said == MORE else None,
                "at_ms": entry[gathered.AT_MS],
            }
        )
    return sorted(
        found, key=lambda one: (kinds.DEPARTMENT_NAMES.index(one["department"]), str(one["record"]))
    )


def told(word: "Word", *, now_ms: int, old_ms: int, utc_offset_min: "Offset") -> "Word":
    """Return a word as it stands now.

    Args:
        word: as `of_shot` gives it.
        now_ms: now [ms since 1970 UTC].
        old_ms: age from which it is old [ms].
        utc_offset_min: minutes that the place's clock is ahead of UTC.
    Returns: dict with the word's keys and label, stands (whether it outranks the model), old, left (low, likely
        and high minutes from now; None when it does not say), shown.
    """
    made = dict(word)
    made["label"] = names.DEPARTMENT_LABELS[word["department"]]
    made["old"] = board.is_old(word["at_ms"], now_ms, old_ms)
    made["left"] = _left(word, now_ms)
    over = word["said"] == MORE and (made["left"] is None or made["left"][2] <= 0.0)
    made["stands"] = word["said"] != STUCK and not made["old"] and not over
    made["shown"] = _sentence(made, over, utc_offset_min)
    return made


def _left(word: "Word", now_ms: int) -> "list[float] | None":
    if word["said"] == READY:
        return [0.0, 0.0, 0.0]
    if word["said"] == STUCK or word["minutes"] is None:
        return None
    since = max(0, now_ms - word["at_ms"]) / MINUTE_MS
    total = float(word["minutes"])
    return [max(0.0, part * total - since) for part in (LOW_RATIO, 1.0, HIGH_RATIO)]


def _sentence(word: "Word", over: bool, utc_offset_min: "Offset") -> str:
    name: str = word["label"]
    at = shown.clock(word["at_ms"], utc_offset_min)
    if word["said"] == STUCK:
        return name + " is stuck, said at " + at
    if word["said"] == READY:
        if word["old"]:
            return name + " was ready at " + at + ", confirm by voice"
        return name + " says ready, at " + at
    if word["minutes"] is None:
        return name + " needs more, said at " + at + " without minutes: ask how many"
    due = shown.clock(word["at_ms"] + word["minutes"] * MINUTE_MS, utc_offset_min)
    said = name + " said " + str(word["minutes"]) + " more at " + at
    if over:
        return said + ", over since " + due + ": ask again"
    if word["old"]:
        return said + ": old, ask again"
    return said + ", so about " + due
