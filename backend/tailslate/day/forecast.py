"""When each shot will be ready: stored work of the shots, words, ticks and the crew -> ranges and odds.

Knows no records. Y1 a condition, a hold or a word 'stuck' removes the range and says why. Y2 a department's own word
outranks the model while it stands; without one the model needs enough ticks of it. Y3 one crew: a shot begins when
the one before it is shot and the set is turned round. Y4 never a mean alone: a range with 'to', odds in ten.
"""

from tailslate.craft.errors import RuleError
from tailslate.craft.odds import eight_in_ten_min, ready_by_ratio, three_point_min
from tailslate.craft.rounding import round_down, round_half_up, round_up
from tailslate.day import hours, kinds, pace, readiness, shown, words, work
from tailslate.day.crew_today import Crew
from tailslate.day.day_clock import MINUTE_MS, SHOWN_STEP_MIN, DayClock
from tailslate.day.open_work import Network, variance_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.open_work import Time
    from tailslate.day.place_clock import Offset
    from tailslate.day.work import Work

    Answer = dict[str, Any]

# A shot's minutes are overrun more often than undercut: common practice, no source.
SHOOTING = (0.8, 1.0, 1.5)


def of_day(
    shots: "list[Work]",
    day: "dict[str, Any]",
    *,
    now_ms: int,
    utc_offset_min: "Offset" = 0,
    first_of: str = "",
    changes: "tuple[dict[str, Any], ...] | list[dict[str, Any]]" = (),
) -> "Answer":
    """Return when the shots of a day will be ready.

    Args:
        shots: as work.of_shot gives them, in the order of the day.
        day: as work.of_day gives it.
        now_ms: now [ms since 1970 UTC].
        utc_offset_min: minutes that the place's clock is ahead of UTC.
        first_of: id of the shot for which to say what to do first; "" for the first where anything moves the end.
        changes: what if: list of dict {"do": "hands", "department", "count"} (more people, or fewer), {"do": "drop",
            "shot"}, {"do": "swap", "shots": [one, other]}.
    Returns: dict, keys shots (list of dict as `_shot`, each with minutes_won by the changes, None when not known) and
        wrap (dict, keys at_ms, odds, shown, over (shots not ready by then, in words); or None), end (when the last
        shot is shot, as hours.end_of), hours (as hours.of_day), meal (start and end [ms since 1970 UTC], or None),
        minutes_won (by the changes until the last shot is shot).
    Raises: RuleError "change_unknown", "shot_unknown".
    """
    clock = DayClock(day, now_ms=now_ms, utc_offset_min=utc_offset_min)
    crew = Crew(shots, day, clock)
    found, end = _all(shots, crew, first_of)
    if changes:
        before, before_end = found, end
        tried, added = _changed(shots, changes)
        crew.add(added)  # by the pace of those who are there: hands that are only tried have ticked nothing
        found, end = _all(tried, crew, first_of)
        of_shot = {one["shot"]: one for one in before}
        for one in found:
            one["minutes_won"] = _won(of_shot[one["shot"]]["mean_min"], one["mean_min"])
            _say_words_bind(one, changes)
        won = _won(_mean(before_end), _mean(end))
    else:
        won = None
    for one in found:
        one.pop("mean_min")
    last = hours.end_of(end, variance_of(end, crew) if end else 0.0, crew)
    made: Answer = {"shots": found, "wrap": _wrap(end, found, crew), "end": last, "minutes_won": won}
    made["meal"] = list(clock.meal) if clock.meal else None
    made["hours"] = hours.of_day(found, last, crew)
    return made


def _won(before_min: "float | None", after_min: "float | None") -> "float | None":
    if before_min is None or after_min is None:
        return None
    return round_half_up(before_min - after_min, 1)


def _mean(end: "Time | None") -> "float | None":
    return end["mean_min"] if end else None


def _all(shots: "list[Work]", crew: Crew, first_of: str) -> "tuple[list[Answer], Time | None]":
    """Return every shot's answer, and when the last is shot, None when nobody can say."""
    so_far: Time | None = {"mean_min": 0.0, "variance_min2": 0.0, "pull": {}}
    waits_for, made = "", []
    counted: set[str] = set()
    for one in shots:
        answer, end = _shot(one, so_far, waits_for, counted, crew, first_of in ("", one["shot"]))
        if answer["first"]:
            first_of = one["shot"]
        made.append(answer)
        counted.update([task["cell"] for task in one["tasks"]])
        if work.is_settled(one):
            continue
        so_far = _shot_by(one, end, crew, is_last=one is shots[-1])
        if so_far is None and not waits_for:
            waits_for = "nobody said how many minutes it takes to shoot " + one["number"]
            if end is None:
                waits_for = "waits for " + one["number"] + ", of which nobody can say when"
    return made, so_far


def _shot_by(one: "Work", ready: "Time | None", crew: Crew, *, is_last: bool) -> "Time | None":
    """Return when a shot is shot and, when another follows, the set turned round; None when nobody can say."""
    minutes = one["shooting_min"] if one["shooting_min"] is not None else crew.day["shooting_min"]
    if ready is None or minutes is None:
        return None
    spent = (crew.clock.now_ms - one["phase_at_ms"]) / MINUTE_MS if one["phase"] == "rolling" else 0.0
    low, likely, high = [max(0.0, part * minutes - spent) for part in SHOOTING]
    shooting = three_point_min(low, likely_min=likely, latest_min=high)
    turn = 0 if is_last else crew.day["turn_around_min"] or 0
    return {
        "mean_min": ready["mean_min"] + shooting["mean_min"] + turn,
        "variance_min2": ready["variance_min2"] + shooting["variance_min2"],
        "pull": ready["pull"],
    }


def _shot(
    one: "Work", so_far: "Time | None", waits_for: str, counted: "set[str]", crew: Crew, is_first: bool
) -> "tuple[Answer, Time | None]":
    """Return a shot's answer, and when it is ready, None when nobody can say.

    The answer: dict, keys shot, number, phase, is_open (something is left and nobody can say how long), when (dict, keys low_ms, likely_ms, high_ms, shown; or None), odds (dict, keys
    by_ms, shown; or None), why_none, first (list of dict, keys record, title, department, minutes_won), words (list of
    dict as words.told), planned_ms, plan (sentence, "" when not planned), mean_min (taken off before it is told).
    """
    clock = crew.clock
    said = [
        words.told(word, now_ms=clock.now_ms, old_ms=crew.old_ms, utc_offset_min=clock.utc_offset_min)
        for word in one["words"]
    ]
    answer: Answer = {
        "shot": one["shot"],
        "number": one["number"],
        "phase": one["phase"],
        "is_open": False,
        "when": None,
        "odds": None,
        "why_none": "",
    }
    answer.update({"first": [], "words": said, "minutes_won": None, "mean_min": None, "plan": ""})
    answer["planned_ms"] = clock.at_ms(one["planned"])
    tasks = [task for task in one["tasks"] if task["cell"] not in counted]
    if one["phase"] in (readiness.DONE, "rolling"):
        answer["why_none"] = "It is done" if one["phase"] == readiness.DONE else "It is rolling"
        nothing: Time = {"mean_min": 0.0, "variance_min2": 0.0, "pull": {}}
        return answer, so_far if work.is_settled(one) else nothing
    why = _why_none(one, tasks, said, crew)
    if not why and so_far is None:
        why = waits_for + _once_its_turn_comes(Network(tasks, said, None, crew).ready(), crew)
    if why:
        answer["why_none"] = "No range: " + why
        answer["is_open"] = True
        return answer, None
    network = Network(tasks, said, so_far, crew)
    ready = network.ready()
    answer["mean_min"] = ready["mean_min"]
    if not tasks and so_far is not None and so_far["mean_min"] == 0.0 and ready["mean_min"] == 0.0:
        answer["why_none"] = "Nothing is left on its list"
    elif ready["mean_min"] == 0.0:
        answer["why_none"] = (
            "Every department says ready, " + str(len(tasks)) + " not ticked: tick them or ask"
        )
    else:
        _tell(answer, ready, crew)
        answer["first"] = network.first() if is_first else []
    return answer, ready


def _why_none(one: "Work", tasks: "list[dict[str, Any]]", said: "list[dict[str, Any]]", crew: Crew) -> str:
    """Return why nobody can say how long a shot takes, "" when one can: conditions, who is stuck, who is silent."""
    found = list(one["conditions"][:1])
    if len(one["conditions"]) > 1:
        found[0] += ". " + str(len(one["conditions"]) - 1) + shown.HARD_SPACE + "more"
    found += [word["shown"] for word in said if word["said"] == words.STUCK]
    if found:
        return ". ".join(found)
    standing = [word["department"] for word in said if word["stands"]]
    asked = [word for word in said if word["said"] == words.MORE and not word["stands"]]
    silent = []
    for name in kinds.DEPARTMENT_NAMES + ("",):
        is_open = [task for task in tasks if task["department"] == name] or [
            word for word in asked if word["department"] == name
        ]
        if is_open and name not in standing and not crew.is_enough(name):
            of_it = [word["shown"] for word in said if word["department"] == name]
            ticked = crew.paces[name]["ticks"] if name in crew.paces else 0
            few = "no word, " + str(ticked) + " of " + str(pace.ENOUGH_TICKS) + " ticks"
            silent.append(of_it[0] if of_it else work.not_said(name) + ": " + few)
    return "ask how long. " + ". ".join(silent) if silent else ""


def _once_its_turn_comes(ready: "Time", crew: Crew) -> str:
    """Return what a shot takes from whenever it begins: words that follow why there is no range."""
    if ready["mean_min"] == 0.0:
        return ""
    reach = eight_in_ten_min(ready["mean_min"], variance_min2=variance_of(ready, crew))
    low = int(round_down(max(0.0, reach["low"]) / SHOWN_STEP_MIN, 0) * SHOWN_STEP_MIN)
    high = int(round_up(reach["high"] / SHOWN_STEP_MIN, 0) * SHOWN_STEP_MIN)
    return ". " + str(low) + " to " + str(high) + shown.HARD_SPACE + "min of work once its turn comes"


def _tell(answer: "Answer", ready: "Time", crew: Crew) -> None:
    clock, variance = crew.clock, variance_of(ready, crew)
    reach = eight_in_ten_min(ready["mean_min"], variance_min2=variance)
    when: dict[str, Any] = {
        "low_ms": clock.after_work_ms(reach["low"], side=-1),
        "likely_ms": clock.after_work_ms(ready["mean_min"]),
        "high_ms": clock.after_work_ms(reach["high"], side=1),
    }
    first, last = [shown.clock(when[name], clock.utc_offset_min) for name in ("low_ms", "high_ms")]
    when["shown"] = first + " to " + last
    answer["when"] = when
    if answer["planned_ms"] is None:
        return
    by = shown.clock(answer["planned_ms"], clock.utc_offset_min)
    answer["plan"] = "planned " + by + ", forecast " + when["shown"]
    if answer["planned_ms"] > clock.now_ms:
        due_min = clock.work_until_min(answer["planned_ms"])
        ratio = ready_by_ratio(due_min, mean_min=ready["mean_min"], variance_min2=variance)
        answer["odds"] = {"by_ms": answer["planned_ms"], "shown": odds_words(ratio)}
        answer["plan"] += ": " + odds_words(ratio) + " by then"


def odds_words(ratio: float) -> str:
    """Return a chance in words.

    Args:
        ratio: the chance [ratio].

    >>> odds_words(0.68), odds_words(0.02), odds_words(0.99)
    ('7 in 10', 'under 1 in 10', 'over 9 in 10')
    """
    tenths = int(round_half_up(ratio * 10.0, 0))
    if tenths <= 0:
        return "under 1 in 10"
    return "over 9 in 10" if tenths >= 10 else str(tenths) + " in 10"


def _wrap(end: "Time | None", answers: "list[Answer]", crew: Crew) -> "dict[str, Any] | None":
    """Return the odds that the last shot is shot by wrap and what is not ready by then, None when no wrap is set."""
    clock = crew.clock
    at_ms = clock.at_ms(crew.day["wrap"])
    if at_ms is None:
        return None
    made: dict[str, Any] = {
        "at_ms": at_ms,
        "odds": None,
        "shown": "wrap " + shown.clock(at_ms, clock.utc_offset_min),
        "over": [one for one in hours.past(at_ms, answers) if hours.NO_RANGE not in one],
    }
    if end is None:
        made["shown"] += ": no odds while a shot has no range, or nobody said how many minutes a shot takes"
    elif end["mean_min"] > 0.0:
        variance = variance_of(end, crew)
        ratio = ready_by_ratio(clock.work_until_min(at_ms), mean_min=end["mean_min"], variance_min2=variance)
        made["odds"] = odds_words(ratio)
        made["shown"] += ": " + odds_words(ratio) + " that the last shot is shot by then"
    return made


# what if


def _changed(shots: "list[Work]", changes: "Any") -> "tuple[list[Work], dict[str, int]]":
    """Return the shots, and the hands added to departments, after some changes."""
    order = [one["shot"] for one in shots]
    by_id = {one["shot"]: one for one in shots}
    added: dict[str, int] = {}
    for change in changes:
        named = change.get("shots", [change["shot"]] if "shot" in change else [])
        for name in named:
            if name not in order:
                raise RuleError(
                    "shot_unknown", "no shot " + name + " is among these; send it along", shot=name
                )
        if change["do"] == "hands":
            added[change["department"]] = added.get(change["department"], 0) + change["count"]
        elif change["do"] == "drop":
            order.remove(change["shot"])
        elif change["do"] == "swap" and len(named) == 2:
            one, other = order.index(named[0]), order.index(named[1])
            order[one], order[other] = order[other], order[one]
        else:
            raise RuleError(
                "change_unknown",
                "a change is hands with a department and a count, drop with a shot, or swap with two shots",
                do=change["do"],
            )
    return [by_id[name] for name in order], added


def _say_words_bind(answer: "Answer", changes: "Any") -> None:
    """Say where a department's own word stands, so that more hands do not show."""
    added = [change["department"] for change in changes if change["do"] == "hands"]
    for word in answer["words"]:
        if word["stands"] and word["department"] in added:
            word["shown"] += ". Its own word stands: what more hands would do, ask"
