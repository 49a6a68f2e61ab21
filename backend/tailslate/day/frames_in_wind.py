"""Frames outdoors: the gust in which a stand tips, the limit, the gusts read, who strikes it.

Knows no loads but those it is handed. A competent grip decides. A scene of which nobody said that it
is inside counts as outside. A frame on lines, a large one, or one that no stand holds has no number.
"""

from tailslate.craft import stand, wind
from tailslate.craft.errors import RuleError
from tailslate.craft.rounding import compare, round_down, round_up
from tailslate.day import figures, shown
from tailslate.day.figures import OVER, UNKNOWN, WITHIN, Facts

TYPE_CHECKING = False
if TYPE_CHECKING:
    from tailslate.day.figures import Figure
    from tailslate.day.gathered import Gathered

    Pulls = list[tuple[float, float]]  # (kg, out from the column in m), one a side

SAFETY_RATIO = 1.5  # times the moment of load and wind (common practice, no source)
ON_LINES = "no number here: a competent person plans its lines and says when it comes down"


def in_shot(shot: str, records: "Gathered") -> "list[str]":
    """Return the layers of a shot's sources that the wind can reach, sorted.

    Args:
        shot: record key of the shot.
        records: the shot with what it reads.
    """
    if records.text(records.target(shot, "scene"), "inside") == "interior":
        return []
    found = set()
    for level in records.pointing("level", "shot", shot):
        for layer in records.pointing("layer", "source", records.target(level, "source")):
            # A gel without a size of its own sits in the lamp's frame.
            if records.text(layer, "type") != "gel" or records.number(layer, "width_m") is not None:
                found.add(layer)
    return sorted(found)


def on_stand(facts: Facts, frames: "list[str]", pulls: "Pulls | None", records: "Gathered") -> "list[Figure]":
    """Return the wind's figures of a stand with its frames.

    Args:
        facts: of the rig; what its pulls lack is in its missing.
        frames: record keys of the layers that it holds.
        pulls: what may pull to one side, None when it is not known.
        records: the rig with its layers.
    Returns: list of dict as in `figures.plain`: tips in gusts, wind limit, gusts, struck by.
    """
    tips_m_s, why = None, ""
    try:
        tips_m_s = _tipping_m_s(facts, frames, pulls, records)
    except RuleError as error:
        why = error.sentence
    if tips_m_s is None:
        tips = figures.unknown("Tips in gusts", facts.missing, why, caution="wind")
    else:
        mean_m_s = wind.mean_wind_m_s(tips_m_s)
        line = "1.5 times the moment; a forecast mean of " + _speed(mean_m_s, records) + ", Beaufort "
        line += str(wind.beaufort(mean_m_s)) + ", has such gusts; never work up to it"
        words = "of " + _speed(tips_m_s, records)
        tips = figures.plain("Tips in gusts", words, line, caution="wind", value=tips_m_s)
    key = facts.key
    limit = figures.tried("Wind limit", _limit, key, tips_m_s, records, caution="wind")
    gusts = figures.tried("Gusts", _gusts, key, records, caution="wind")
    return [tips, limit, gusts, _struck_by(key, records)]


def _speed(speed_m_s: float, records: "Gathered") -> str:
    return shown.figure(round_down(speed_m_s, 1), "m/s", records.units)


def _tipping_m_s(
    facts: Facts, frames: "list[str]", pulls: "Pulls | None", records: "Gathered"
) -> "float | None":
    """Return the gust in which a stand with its frames tips, None when a fact is missing."""
    area_m2, moment_m3 = 0.0, 0.0
    for layer in frames:
        sizes = Facts(layer, records)
        width_m, height_m = sizes.number("width_m"), sizes.number("height_m")
        middle_m = sizes.number("centre_height_m", "measure floor to the frame's middle")
        if width_m is not None and height_m is not None and middle_m is not None:
            area_m2 += width_m * height_m
            moment_m3 += width_m * height_m * middle_m
        facts.missing.extend(sizes.missing)
    stand_kg, radius_m, legs = (
        facts.number("stand_kg"),
        facts.number("leg_radius_m"),
        facts.number("legs"),
    )
    bags, each_kg = facts.number("bags"), facts.number("bag_kg")
    if pulls is None or facts.missing or stand_kg is None or radius_m is None or legs is None:
        return None
    edge_m = stand.tipping_edge_m(radius_m, leg_count=int(legs))
    # A load beyond the edge pulls with the wind; one inside holds against it. The worst side counts.
    pull_kg = min([load_kg * (edge_m - offset_m) / edge_m for load_kg, offset_m in pulls])
    total_kg = stand_kg + (bags or 0.0) * (each_kg or 0.0) + pull_kg
    if compare(total_kg, 0.0) <= 0:
        return 0.0
    return wind.tipping_wind_m_s(
        total_kg,
        tipping_edge_m=edge_m,
        area_m2=area_m2,
        centre_height_m=moment_m3 / area_m2,
        safety_ratio=SAFETY_RATIO,
    )


def _limit(key: str, tips_m_s: "float | None", records: "Gathered") -> "Figure":
    label, facts = "Wind limit", Facts(key, records)
    limit_m_s = facts.number(
        "gust_limit_m_s", "set the gust at which it is struck; without a limit it stays down"
    )
    if limit_m_s is None:
        return figures.unknown(label, facts.missing, caution="wind")
    words = _speed(limit_m_s, records)
    state = figures.against(limit_m_s, limit_m_s, tips_m_s, reaches=True)
    if state == UNKNOWN:
        line = "the gust in which it tips is not known"
        return figures.unknown(label, [], line, caution="wind", words=words)
    line = "under the gust in which it tips"
    if state == OVER:
        line = "at or over the gust in which it tips: lower it"
    return figures.plain(label, words, line, caution="wind", state=state, value=limit_m_s)


def _gusts(key: str, records: "Gathered") -> "Figure":
    label, facts = "Gusts", Facts(key, records)
    limit_m_s = facts.known("gust_limit_m_s")
    gust_m_s = facts.number("gust_m_s", "read the wind at the frame's height")
    words = shown.NOT_KNOWN
    if gust_m_s is not None:
        words = shown.figure(round_up(gust_m_s, 1), "m/s", records.units)
    try:
        wind.check_wind_limit(limit_m_s, gust_m_s=gust_m_s)
    except RuleError as error:
        if error.code == "over_limit":
            return figures.plain(label, words, error.sentence, caution="wind", state=OVER, value=gust_m_s)
        return figures.unknown(label, facts.missing, error.sentence, caution="wind", words=words)
    line = "under the limit when it was read"
    return figures.plain(label, words, line, caution="wind", state=WITHIN, value=gust_m_s)


def _struck_by(key: str, records: "Gathered") -> "Figure":
    who, facts = records.text(key, "strikes"), Facts(key, records)
    if who:
        return figures.plain("Struck by", who, caution="wind")
    facts.miss("strikes", "name who strikes it, and keep them beside it")
    return figures.unknown("Struck by", facts.missing, caution="wind")


def held_by_none(layer: str, records: "Gathered") -> "Figure":
    """Return that a frame outdoors has no number: it is on lines, or nobody said what holds it.

    Args:
        layer: record key of the layer.
        records: the layer.
    """
    facts, line = Facts(layer, records), ON_LINES
    if records.text(layer, "on_lines") != "yes":
        line = "nobody has said which stand holds it"
        facts.miss("rig", "say which stand holds it, or that it is on lines of its own")
    return figures.unknown("Tips in gusts", facts.missing, line, caution="wind", words="no number")
