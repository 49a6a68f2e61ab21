"""Hours of the day beside the forecast: meal, wrap with what runs over it, rest before the next call, under age.

Knows no shot's tasks. H1 a limit that nobody typed is not known, never kept. H2 'within' is arithmetic on what was
typed; local rules and contracts decide. H3 an end that nobody can say keeps no limit.
"""

from tailslate.craft.odds import eight_in_ten_min
from tailslate.day import cautions, readiness, shown
from tailslate.day.crew_today import Crew
from tailslate.day.day_clock import DAY_MIN, MINUTE_MS

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.open_work import Time

    Line = dict[str, Any]

LATEST_MEAL_MIN = 360  # from the call: common practice, no source
NO_RANGE = " (no range)"
WITHIN, OVER, UNKNOWN = "within", "over", "unknown"


def end_of(end: "Time | None", variance_min2: float, crew: Crew) -> "dict[str, Any] | None":
    """Return when the last shot is shot: dict, keys low_ms, high_ms, shown; None when nobody can say.

    Args:
        end: of the last shot, as forecast has it.
        variance_min2: its variance, paces included [min2].
        crew: the crew today.
    """
    if end is None:
        return None
    clock = crew.clock
    reach = eight_in_ten_min(end["mean_min"], variance_min2=variance_min2)
    low_ms = clock.after_work_ms(reach["low"], side=-1)
    high_ms = clock.after_work_ms(reach["high"], side=1)
    told = shown.clock(low_ms, clock.utc_offset_min) + " to " + shown.clock(high_ms, clock.utc_offset_min)
    return {"low_ms": low_ms, "high_ms": high_ms, "shown": told}


def of_day(answers: "list[dict[str, Any]]", end: "dict[str, Any] | None", crew: Crew) -> "list[Line]":
    """Return the lines of the day's hours: meal, rest, then each performer under age.

    Args:
        answers: shots as forecast tells them.
        end: as `end_of` gives it.
        crew: the crew today, with the day's facts.
    Returns: list of dict, keys what (meal, rest, under_age), state (within, over, unknown), shown, field (of
        the day, to fill in; "" for none), caution (None but for the last).
    """
    lines = [_meal(crew), _rest(end, crew)] + [_under_age(one, answers, crew) for one in crew.day["minors"]]
    for line in lines:
        line["caution"] = None
    lines[-1]["caution"] = cautions.caution("hours")
    return lines


def past(at_ms: int, answers: "list[dict[str, Any]]") -> "list[str]":
    """Return the shots that are not ready before a time, or of which nobody can say when, in words.

    Args:
        at_ms: the time [ms since 1970 UTC].
        answers: shots as forecast tells them.
    """
    found = []
    for one in answers:
        if one["phase"] in (readiness.DONE, "rolling"):
            continue
        if one["when"] is None and one["is_open"]:
            found.append(one["number"] + NO_RANGE)
        elif one["when"] is not None and one["when"]["high_ms"] > at_ms:
            found.append(one["number"] + " (" + one["when"]["shown"] + ")")
    return found


def _line(what: str, state: str, sentence: str, field: str = "") -> "Line":
    return {"what": what, "state": state, "shown": sentence, "field": field}


def _meal(crew: Crew) -> "Line":
    clock, day = crew.clock, crew.day
    at_ms, call_ms = clock.at_ms(day["meal"]), clock.at_ms(day["call"])
    if at_ms is None or clock.meal is None:
        return _line(
            "meal", UNKNOWN, "No meal with its minutes is set: the forecast leaves none out", "meal_time"
        )
    said = "Meal " + day["meal"] + " to " + shown.clock(clock.meal[1], clock.utc_offset_min)
    if call_ms is None:
        return _line("meal", UNKNOWN, said + ". No call is set", "call_time")
    after_min = (at_ms - call_ms) // MINUTE_MS
    said += ", " + _length(after_min) + " after the call"
    if after_min > LATEST_MEAL_MIN:
        return _line("meal", OVER, said + ": later than " + _length(LATEST_MEAL_MIN))
    return _line("meal", WITHIN, said)


def _rest(end: "dict[str, Any] | None", crew: Crew) -> "Line":
    clock, day = crew.clock, crew.day
    wrap_ms, next_ms = clock.at_ms(day["wrap"]), clock.at_ms(day["next_call"])
    if wrap_ms is None or next_ms is None:
        missing = "next call" if wrap_ms is not None else "wrap"
        said = "No " + missing + " is set: the rest before the next call is not known"
        return _line("rest", UNKNOWN, said, missing.replace(" ", "_") + "_time")
    if next_ms <= wrap_ms:
        next_ms += DAY_MIN * MINUTE_MS
    owed = day["rest_min"]
    by_plan = (next_ms - wrap_ms) // MINUTE_MS
    said = "Rest from wrap " + day["wrap"] + " to the next call " + day["next_call"] + ": " + _length(by_plan)
    least = by_plan
    if end is not None and end["high_ms"] > wrap_ms:
        least = (next_ms - end["high_ms"]) // MINUTE_MS
        said += ". By the forecast (last shot shot " + end["shown"] + ") as little as " + _length(least)
    if owed is None:
        return _line("rest", UNKNOWN, said + ". Nobody said how much is owed", "rest_min")
    said += ". " + _length(owed) + " owed"
    if least < owed:
        call_ms = next_ms + (owed - least) * MINUTE_MS
        said += ": call not before " + shown.clock(call_ms, clock.utc_offset_min)
        return _line("rest", OVER, said)
    if end is None:
        return _line("rest", UNKNOWN, said + ". Nobody can say when the last shot is shot")
    return _line("rest", WITHIN, said)


def _under_age(one: "dict[str, Any]", answers: "list[dict[str, Any]]", crew: Crew) -> "Line":
    clock = crew.clock
    if not one["is_known"]:
        return _line("under_age", UNKNOWN, one["title"] + ": nobody said whether under age")
    said = one["title"] + ", under age"
    limits = []
    arrived_ms, away_ms = clock.at_ms(one["arrived"]), clock.at_ms(one["away"])
    if arrived_ms is not None:
        said += ", here since " + one["arrived"]
    if one["allowed_min"] is not None:
        said += ", " + _length(one["allowed_min"]) + " allowed"
        if arrived_ms is not None:
            limits.append(arrived_ms + one["allowed_min"] * MINUTE_MS)
    if away_ms is not None:
        limits.append(away_ms)
    if not limits:
        return _line("under_age", UNKNOWN, said + ": nobody said until when")
    last_ms = min(limits)
    said += ": away by " + shown.clock(last_ms, clock.utc_offset_min)
    if clock.now_ms > last_ms:
        return _line("under_age", OVER, said + ", which is past")
    later = past(last_ms, answers)
    if later:
        is_over = [one for one in later if NO_RANGE not in one]
        said += ". Not certain to be ready by then: " + ", ".join(later)
        return _line("under_age", OVER if is_over else UNKNOWN, said)
    return _line("under_age", WITHIN, said)


def _length(minutes: int) -> str:
    hours, rest = minutes // 60, minutes % 60
    hard = shown.HARD_SPACE
    if not hours:
        return str(rest) + hard + "min"
    return str(hours) + hard + "h" + (hard + "{:02d}".format(rest) if rest else "")
