"""A reading of several sources, or with dressing in it, carried on to now.

Knows no target. CG1 what lamps gave and what dressing sent up are taken apart, each moves by its own ratio. CG2 the
share of each is what is known of the two and of the whole; where neither is known, all that it may be. CG3 of
dressing whose place nobody measured only the reflectance counts: it is taken as lying where the other lay.
"""

from tailslate.craft.contrast import sum_lx
from tailslate.craft.errors import RuleError
from tailslate.craft.reading import level_after_change_lx
from tailslate.day import bounce, chain, remembered
from tailslate.day.carried import ONE, flags, times

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.craft.ranges import Range
    from tailslate.day.gathered import Gathered
    from tailslate.day.remembered import Facts

    Reading = dict[str, Any]

ENDS = ("low", "typical", "high")


def summed(levels: "list[Range]") -> "Range":
    """Return the light of several sources at one point together."""
    return {
        "low": sum_lx([one["low"] for one in levels]),
        "typical": sum_lx([one["typical"] for one in levels]),
        "high": sum_lx([one["high"] for one in levels]),
    }


def factor(
    reading: "Reading",
    levels: "list[str]",
    lifts: "list[str]",
    lamps_lx: "Range | None",
    shot: str,
    records: "Gathered",
) -> "dict[str, Any] | None":
    """Return the factor from a reading, or from what was remembered, to now; None when that is not known.

    Args:
        reading: dict, keys facts (as remembered), lux (None when nobody read).
        levels: record keys of the sources that are in it now.
        lifts: record keys of what says that dressing is in it now.
        lamps_lx: the sources together as they are now, range [lx], None when not known.
        shot: record key of the shot.
        records: the shot with what it reads.
    Returns: dict, keys factor (range), of_dressing (range: what the dressing alone makes of it; None when nothing else
        changed, or no dressing).
    """
    was, now = reading["facts"], remembered.facts_now(levels, lifts, records)
    lamps = _lamps_factor(was, now, lamps_lx, records)
    dressing = _dressing_factor(was, now, shot, records)
    has_lamps, has_dressing = bool(remembered.of_kind("level", was)), bool(remembered.of_kind("serves", was))
    if not has_dressing:
        is_new = bool(remembered.of_kind("serves", now))
        return None if is_new or lamps is None else {"factor": lamps["factor"], "of_dressing": None}
    if dressing is None or lamps is None:
        return None
    share = ONE
    if has_lamps:
        share = _share(lamps["then_lx"], dressing["then_lx"], reading["lux"])
    made = {"factor": _mixed(share, lamps["factor"], dressing["factor"]), "of_dressing": None}
    if lamps["factor"] is not ONE and has_lamps:
        made["of_dressing"] = _mixed(share, ONE, dressing["factor"])
    return made


def _mixed(share: "Range", lamps: "Range", dressing: "Range") -> "Range":
    low, high = [], []
    for part in (share["low"], share["high"]):
        low.append((1.0 - part) * lamps["low"] + part * dressing["low"])
        high.append((1.0 - part) * lamps["high"] + part * dressing["high"])
    part = share["typical"]
    typical = (1.0 - part) * lamps["typical"] + part * dressing["typical"]
    return {"low": min(low), "typical": typical, "high": max(high)}


def _lamps_factor(
    was: "Facts", now: "Facts", now_lx: "Range | None", records: "Gathered"
) -> "dict[str, Any] | None":
    """Return what lamps make of it: keys factor, then_lx (range or None)."""
    if remembered.lamps(was) == remembered.lamps(now):
        return {"factor": ONE, "then_lx": now_lx}
    then = remembered.then(was, records)
    levels = remembered.of_kind("level", was)
    if then is None or now_lx is None or flags(was, then) != flags(now, records):
        return None
    parts = [chain.level(key, then)["level_lx"] for key in levels]
    if not parts:
        return {"factor": ONE, "then_lx": None} if not remembered.of_kind("level", now) else None
    if None in parts:
        return None
    then_lx = summed([part for part in parts if part is not None])
    try:
        factor = level_after_change_lx(1.0, modelled_then_lx=then_lx, modelled_now_lx=now_lx)
    except RuleError:
        return None  # dark then: no ratio
    return {"factor": factor, "then_lx": then_lx}


def _dressing_factor(was: "Facts", now: "Facts", shot: str, records: "Gathered") -> "dict[str, Any] | None":
    """Return what dressing makes of it: keys factor, then_lx (range or None)."""
    dressed = remembered.dressed_then(was, records)
    before = _strengths(remembered.of_kind("serves", was), dressed)
    after = _strengths(remembered.of_kind("serves", now), records)
    if not before or after is None:
        return None
    has_place = all([one["form_factor"] is not None for one in before + after])
    first, last = _strength(before, has_place), _strength(after, has_place)
    if first["low"] <= 0.0:
        return None
    is_same_cloth = [one["reflectance"] for one in before] == [one["reflectance"] for one in after]
    if is_same_cloth:  # its reflectance is the same one, whatever it is
        factor: Range = {end: last[end] / first[end] for end in ENDS}  # type: ignore[assignment, literal-required]
    else:
        factor = {
            "low": last["low"] / first["high"],
            "typical": last["typical"] / first["typical"],
            "high": last["high"] / first["low"],
        }
    then_lx = None
    surface_lx = bounce.surface_lx(shot, remembered.of_kind("serves", was)[0], dressed)["level_lx"]
    if has_place and surface_lx is not None:
        then_lx = times(surface_lx, first)
    return {"factor": factor, "then_lx": then_lx}


def _strengths(keys: "list[str]", records: "Gathered") -> "list[dict[str, Any]] | None":
    found = []
    for key in keys:
        one = bounce.strength(key, records)
        if one is None:
            return None
        found.append(one)
    return found


def _strength(parts: "list[dict[str, Any]]", has_place: bool) -> "Range":
    """Return reflectance times what the point sees of it, summed; times the light on it, that is the bounce."""
    ends = {}
    for end in ENDS:
        shares = []
        for part in parts:
            seen = part["form_factor"] if has_place else 1.0
            shares.append(part["reflectance"][end] * seen * part["open_ratio"])
        ends[end] = sum(shares)
    return {"low": ends["low"], "typical": ends["typical"], "high": ends["high"]}


def _share(lamps: "Range | None", dressing: "Range | None", lux: "float | None") -> "Range":
    """Return which share of a level came from dressing, from what is known of the two and of the whole."""
    if lamps is not None and dressing is not None:
        return {
            "low": _part(dressing["low"], lamps["high"]),
            "typical": _part(dressing["typical"], lamps["typical"]),
            "high": _part(dressing["high"], lamps["low"]),
        }
    if lux is None or lux <= 0.0:
        return {"low": 0.0, "typical": 0.5, "high": 1.0}  # CG2: all that it may be
    if lamps is not None:
        ends = [1.0 - lamps["high"] / lux, 1.0 - lamps["typical"] / lux, 1.0 - lamps["low"] / lux]
    elif dressing is not None:
        ends = [dressing["low"] / lux, dressing["typical"] / lux, dressing["high"] / lux]
    else:
        ends = [0.0, 0.5, 1.0]
    low, typical, high = [min(1.0, max(0.0, end)) for end in ends]
    return {"low": low, "typical": typical, "high": high}


def _part(one: float, other: float) -> float:
    return one / (one + other) if one + other > 0.0 else 0.0
