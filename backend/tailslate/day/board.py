"""The day's board: a fold over stored readiness, with how old each department's knowledge is.

Knows no records: only what was computed for each shot, and the time. B1 a 'ready' older than the limit
reads 'was ready' and is confirmed by voice. B2 an age that is not known is old. B3 an incomplete copy
calls nothing ready.
"""

from tailslate.day import kinds, readiness, shown
from tailslate.day.exchange import OLD_MS

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.place_clock import Offset

WAS_READY = "was_ready"


def board(
    shots: "list[dict[str, Any]]",
    *,
    last_words: "dict[str, int]",
    now_ms: int,
    incomplete: "list[str]",
    utc_offset_min: "Offset" = 0,
    old_ms: int = OLD_MS,
) -> "dict[str, Any]":
    """Return the board.

    Args:
        shots: list of dict, keys shot (id), readiness (its reasons are not needed, nor its departments by who does not
            show them); in the order of the day.
        last_words: department name to the time of its last edit, by the server's received time where it is
            known [ms since 1970 UTC].
        now_ms: now [ms since 1970 UTC].
        incomplete: sentences, why this copy is incomplete; empty when it is not.
        utc_offset_min: minutes that the place's clock is ahead of UTC.
        old_ms: age from which knowledge is old [ms].
    Returns: dict, keys rows (list of dict, keys shot, state, word, sentence, departments), departments (list of
        dict, keys name, label, short, age, old), old_ms.
    """
    old = {name: is_old(last_words.get(name, 0), now_ms, old_ms) for name in kinds.DEPARTMENT_NAMES}
    rows = []
    for one in shots:
        found = one["readiness"]
        row = {
            "shot": one["shot"],
            "state": found["state"],
            "word": found["word"],
            "sentence": found["sentence"],
        }
        if incomplete and found["state"] != readiness.DONE:
            row["state"], row["word"] = readiness.UNKNOWN, readiness.WORDS[readiness.UNKNOWN]
            row["sentence"] = incomplete[0]
        elif found["state"] == readiness.READY and is_old(found["as_of_ms"], now_ms, old_ms):
            row["state"] = WAS_READY
            row["word"] = "WAS READY at " + shown.clock(found["as_of_ms"], utc_offset_min)
            row["sentence"] = "Confirm by voice"
        row["departments"] = _departments(found, old)
        rows.append(row)
    heads = []
    for name, label, short in kinds.DEPARTMENTS:
        head = {"name": name, "label": label, "short": short, "old": old[name]}
        head["age"] = shown.age(last_words.get(name, 0), now_ms)
        heads.append(head)
    return {"rows": rows, "departments": heads, "old_ms": old_ms}


def _departments(found: "dict[str, Any]", old: "dict[str, bool]") -> "dict[str, dict[str, Any]]":
    made = {}
    for name in found.get("departments", ()):
        one = dict(found["departments"][name])
        one["old"] = old.get(name, True)
        if one["old"] and one["state"] == "done" and found["state"] != readiness.DONE:
            one["word"] = "was done"
        made[name] = one
    return made


def is_old(at_ms: int, now_ms: int, old_ms: int = OLD_MS) -> bool:
    """Tell whether knowledge is old: over the limit, from the future, or of no known time.

    Args:
        at_ms: when it was said [ms since 1970 UTC]; 0 is not known.
        now_ms: now [ms since 1970 UTC].
        old_ms: the limit [ms].
    """
    return at_ms <= 0 or now_ms - at_ms > old_ms or at_ms - now_ms > 120000
