"""The rigs of a shot: counterweight, bags, load, holding moment, safety, wind. Records -> figures.

Knows no ticks but the safety's. A competent grip decides. A bag is never zero. A part without the
maker's rating has no answer. The worst direction counts, and the worse of lamp or weight taken off.
"""

from tailslate.craft import stand
from tailslate.craft.errors import RuleError
from tailslate.craft.overhead import minimum_breaking_load_n
from tailslate.craft.rounding import compare, decimal_text, round_up, total
from tailslate.day import cautions, figures, frames_in_wind, kinds, names, rows, shown, ticks
from tailslate.day.figures import OVER, PLAIN, WITHIN, Facts
from tailslate.day.frames_in_wind import SAFETY_RATIO

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.figures import Figure
    from tailslate.day.frames_in_wind import Pulls
    from tailslate.day.gathered import Gathered

OVER_PEOPLE_RATIO = 10.0  # breaking load over the load, above people [rigging-3]
BOOM_FIELDS = ("load_arm_m", "weight_arm_m", "boom_kg", "counterweight_kg")


def of_shot(shot: str, records: "Gathered") -> "list[dict[str, Any]]":
    """Return the rigs of a shot, and its frames outdoors that no rig holds, each with its figures.

    Args:
        shot: record key of the shot.
        records: the shot with what it reads.
    Returns: list of dict, keys record (a rig, or a layer that no rig holds), title, figures (list of dict
        as in `figures.plain`), caution.
    """
    held: dict[str, list[str]] = {}
    made = []
    for layer in frames_in_wind.in_shot(shot, records):
        rig = records.target(layer, "rig")
        if records.text(layer, "on_lines") != "yes" and records.is_there(rig):
            held.setdefault(rig, []).append(layer)
        else:
            none = [frames_in_wind.held_by_none(layer, records)]
            made.append(_thing(layer, none, cautions.caution("wind"), records))
    keys = set(rows.rig_keys(shot, records))
    keys.update(held)
    found = []
    for key in sorted(keys):
        found.append(
            _thing(key, _rig(key, held.get(key, []), records), cautions.of_rig(key, records), records)
        )
    return found + made


def _thing(
    key: str, found: "list[Figure]", caution: "dict[str, str]", records: "Gathered"
) -> "dict[str, Any]":
    return {"record": key, "title": names.name_of(key, records), "figures": found, "caution": caution}


def _rig(key: str, frames: "list[str]", records: "Gathered") -> "list[Figure]":
    has_boom = bool([field for field in BOOM_FIELDS if records.number(key, field) is not None])
    asked = (key, has_boom, records)
    found = []
    if has_boom:
        found.append(figures.tried("Counterweight", _counterweight, key, records, caution="load"))
    found.append(figures.tried("Bags", _bags, *asked, caution="load"))
    found.append(figures.tried("Load on the stand", _load, *asked, caution="load"))
    found.append(figures.tried("Holding moment", _holding, *asked, caution="load"))
    if not _is_beside_people(key, records):
        found.append(figures.tried("Safety", _safety, key, records, caution="overhead"))
    if frames:
        facts = Facts(key, records)
        found.extend(frames_in_wind.on_stand(facts, frames, _pulls(facts, has_boom), records))
    return found


def _is_beside_people(key: str, records: "Gathered") -> bool:
    """Tell whether someone said 'not over people', and nobody said otherwise of the lamp."""
    source = records.text(records.target(key, "source"), "overhead")
    return records.text(key, "overhead") == "no" and source in ("no", "")


def _kg(number: float, records: "Gathered") -> str:
    return shown.figure(round_up(number, 1), "kg", records.units)


def _needed_kg(facts: Facts) -> "float | None":
    """Return the counterweight that balances the boom, None when a fact is missing."""
    load, arm = facts.number("load_kg"), facts.number("load_arm_m")
    weight_arm, boom = facts.number("weight_arm_m"), facts.number("boom_kg")
    centre = facts.number("boom_centre_m", "balance the bare boom on a finger: pivot to there, load side")
    if load is None or arm is None or weight_arm is None or boom is None or centre is None:
        return None
    return stand.counterweight_kg(
        load, load_arm_m=arm, weight_arm_m=weight_arm, boom_kg=boom, boom_centre_m=centre
    )


def _counterweight(key: str, records: "Gathered") -> "Figure":
    facts, label = Facts(key, records), "Counterweight"
    needed, on_it = _needed_kg(facts), facts.known("counterweight_kg")
    if needed is None:
        return figures.unknown(label, facts.missing, caution="load")
    if compare(needed, 0.0) < 0:
        return figures.plain(
            label, "none", "the boom alone is heavier behind the pivot",
            caution="load", state=OVER, value=needed,
        )  # fmt: skip
    words = shown.figure(needed, "kg", records.units)
    line = "balances lamp and boom; on before the lamp, off after it, two people"
    state = PLAIN
    if on_it is not None:
        known = kinds.field_of("rig", "counterweight_kg")
        step = float(known.step) if known else 0.5
        state = OVER if compare(abs(on_it - needed), step) >= 0 else WITHIN
        line = shown.figure(on_it, "kg", records.units) + " is on it; " + line
    return figures.plain(label, words, line, caution="load", state=state, value=needed)


def _pulls(facts: Facts, has_boom: bool) -> "Pulls | None":
    """Return what may pull to one side, each side as one load at its centre; None when a fact is missing.

    A boom has two: the lamp with the weight taken off, and the weight with the lamp taken off.
    """
    load_kg = facts.number("load_kg")
    if not has_boom:
        offset_m = facts.number("offset_m")
        return None if load_kg is None or offset_m is None else [(load_kg, offset_m)]
    arm_m, boom_kg, centre_m = (
        facts.number("load_arm_m"),
        facts.number("boom_kg"),
        facts.number("boom_centre_m"),
    )
    back_m, weight_kg = facts.number("weight_arm_m"), _weight_kg(facts)
    if load_kg is None or arm_m is None or boom_kg is None or centre_m is None:
        return None
    if back_m is None or weight_kg is None:
        return None
    return [
        _joined([(load_kg, arm_m), (boom_kg, centre_m)]),
        _joined([(weight_kg, back_m), (boom_kg, -centre_m)]),
    ]


def _weight_kg(facts: Facts) -> "float | None":
    """Return the counterweight that is on it, or else that it needs."""
    on_it_kg = facts.known("counterweight_kg")
    needed_kg = _needed_kg(facts) if on_it_kg is None else on_it_kg
    return None if needed_kg is None else max(0.0, needed_kg)


def _joined(side: "Pulls") -> "tuple[float, float]":
    """Return loads as one at their common centre."""
    mass_kg = total([kg for kg, _m in side])
    if mass_kg <= 0.0:
        return 0.0, 0.0
    return mass_kg, max(0.0, total([kg * m for kg, m in side]) / mass_kg)


def _bags(key: str, has_boom: bool, records: "Gathered") -> "Figure":
    facts, label = Facts(key, records), "Bags"
    pulls, stand_kg = _pulls(facts, has_boom), facts.number("stand_kg")
    radius_m, legs, each_kg = facts.number("leg_radius_m"), facts.number("legs"), facts.number("bag_kg")
    if pulls is None or stand_kg is None or radius_m is None or legs is None:
        return figures.unknown(label, facts.missing, caution="load", words="at least 1 bag")
    weight_kg = 0.0
    for load_kg, offset_m in pulls:
        asked = stand.bag_kg(
            load_kg,
            offset_m=offset_m,
            stand_kg=stand_kg,
            leg_radius_m=radius_m,
            leg_count=int(legs),
            safety_ratio=SAFETY_RATIO,
        )
        weight_kg = max(weight_kg, asked)
    line = (
        "none by the sum, hung all the same" if weight_kg <= 0.0 else _kg(weight_kg, records) + " by the sum"
    )
    line += ", for the worst way it can swing"
    if has_boom:
        line += " and the worse of lamp or weight taken off"
    line += ", 1.5 times the moment; on the tall leg, clear of the floor" + figures.from_words(key, records)
    if each_kg is None:
        return figures.unknown(label, facts.missing, line, caution="load", words=_kg(weight_kg, records))
    count, on_it = stand.bag_count(weight_kg, each_kg=each_kg), facts.known("bags")
    state = PLAIN
    if on_it is not None:
        state = WITHIN if int(on_it) >= count else OVER
        line = str(int(on_it)) + " on it; " + line
    words = (
        str(count) + (" bag of " if count == 1 else " bags of ") + shown.figure(each_kg, "kg", records.units)
    )
    return figures.plain(label, words, line, caution="load", state=state, value=count)


def _load(key: str, has_boom: bool, records: "Gathered") -> "Figure":
    facts, label = Facts(key, records), "Load on the stand"
    parts = [facts.number("load_kg")]
    if has_boom:
        parts.extend([facts.number("boom_kg"), _weight_kg(facts)])
    known = [part for part in parts if part is not None]
    if len(known) < len(parts):
        return figures.unknown(label, facts.missing, caution="load")
    mass_kg = total(known)
    words = _kg(mass_kg, records)
    try:
        rating_kg = facts.known("rating_kg")
        stand.check_rating(mass_kg, rating=rating_kg, unit="kg", what=names.name_of(key, records))
    except RuleError as error:
        if error.code != "rating_unknown":
            return figures.plain(label, words, error.sentence, caution="load", state=OVER, value=mass_kg)
        facts.miss(
            "rating_kg", "find the maker's plate, at that height and extension; until then do not load it"
        )
        return figures.unknown(label, facts.missing, error.sentence, caution="load", words=words)
    line = "the maker rates it " + shown.figure(rating_kg or 0.0, "kg", records.units)
    return figures.plain(label, words, line, caution="load", state=WITHIN, value=mass_kg)


def _holding(key: str, has_boom: bool, records: "Gathered") -> "Figure":
    facts, label = Facts(key, records), "Holding moment"
    pulls = _pulls(facts, has_boom)
    if pulls is None:
        return figures.unknown(label, facts.missing, caution="load")
    moment_nm = max([stand.holding_moment_nm(load_kg, load_arm_m=arm_m) for load_kg, arm_m in pulls])
    words = shown.figure(round_up(moment_nm, 0), "Nm", records.units)
    rating_nm = facts.known("holding_rating_nm")
    try:
        stand.check_rating(moment_nm, rating=rating_nm, unit="Nm", what="the head or knuckle")
    except RuleError as error:
        if error.code != "rating_unknown":
            return figures.plain(label, words, error.sentence, caution="load", state=OVER, value=moment_nm)
        facts.miss("holding_rating_nm", "find the maker's rating of head and knuckle at that extension")
        return figures.unknown(label, facts.missing, caution="load", words=words)
    line = "level, where it is largest; the maker rates it " + shown.figure(rating_nm or 0.0, "Nm")
    return figures.plain(label, words, line, caution="load", state=WITHIN, value=moment_nm)


def _safety(key: str, records: "Gathered") -> "Figure":
    facts, label = Facts(key, records), "Safety"
    load_kg = facts.number("load_kg")
    line = "a second, independent support on every item, no slack"
    if records.text(key, "overhead") not in ("yes", "no"):
        line = "nobody has said whether it is over people: taken as over people; " + line
    if load_kg is None:
        return figures.unknown(label, facts.missing, line, caution="overhead")
    needed_n = minimum_breaking_load_n(load_kg, design_ratio=OVER_PEOPLE_RATIO)
    words = "breaks at " + decimal_text(round_up(needed_n / 1000.0, 2), 2) + shown.HARD_SPACE + "kN or more"
    line = "10 times what hangs; " + line
    if ticks.state(key, "safety_on", records)["state"] != ticks.DONE:
        facts.miss("safety_on", "put the safety on, then tick it")
        return figures.unknown(label, facts.missing, line, caution="overhead", words=words)
    return figures.plain(label, words, line, caution="overhead", value=needed_n)
