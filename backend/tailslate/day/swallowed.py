"""What one performer swallows over all takes: sugar, caffeine, sulphites. Records -> figures.

Guidance for adults, not medicine. A label that nobody read leaves a figure not known. Nobody said
how much is swallowed: at most a glass a take.
"""

from tailslate.craft import food
from tailslate.craft.rounding import compare, decimal_text, round_up, total
from tailslate.day import figures, names, shown
from tailslate.day.figures import OVER, PLAIN, UNKNOWN, Facts

TYPE_CHECKING = False
if TYPE_CHECKING:
    from tailslate.day.figures import Figure
    from tailslate.day.gathered import Gathered

DENSITY_KG_PER_L = (
    1.05  # of a drink that nobody weighed: juice, the heavier side (common practice, no source)
)
ML_PER_L = 1000.0


def swallowed_l(drink: str, records: "Gathered") -> "tuple[float | None, float | None, Facts]":
    """Return what one performer swallows over all takes [l]: lower and upper end, and the facts read.

    Nobody said how much: at most a glass a take. Nobody said how many takes: no upper end.

    Args:
        drink: record key of the drink.
        records: the drink.
    """
    facts = Facts(drink, records)
    takes = facts.number("takes_planned", "say how many takes, rehearsals too")
    one_l = facts.number("swallowed_l", "say what one performer swallows in one take")
    fill_l = facts.known("fill_l")
    if takes is None:
        return 0.0, None, facts
    if one_l is None:
        return 0.0, None if fill_l is None else takes * fill_l, facts
    return takes * one_l, takes * one_l, facts


def sugar(drink: str, shares: "dict[str, float]", records: "Gathered") -> "Figure":
    """Return the sugar that one performer swallows, against a day's upper guidance."""
    low_l, high_l, facts = swallowed_l(drink, records)
    made = _dose(facts, shares, "sugar_g_per_hundred_g", "read the sugars off the label")
    ends = []
    for volume_l in (low_l, high_l):
        ends.append(
            None
            if made is None or volume_l is None
            else food.sugar_g(volume_l * ML_PER_L, sugar_g_per_100g=made[0], density_g_per_ml=made[1])
        )
    limit = food.FREE_SUGAR_DAY_G
    line = "one performer over all takes; 50 g a day is the upper guidance for an adult"
    return _against("Sugar", ends, limit, "g", line, facts)


def caffeine(drink: str, shares: "dict[str, float]", records: "Gathered") -> "Figure":
    """Return the caffeine that one performer swallows, against the guidance for once and for a day."""
    low_l, high_l, facts = swallowed_l(drink, records)
    made = _dose(facts, shares, "caffeine_mg_per_hundred_g", "read the caffeine off the label")
    ends = []
    for volume_l in (low_l, high_l):
        ends.append(
            None
            if made is None or volume_l is None
            else food.caffeine_mg(volume_l * ML_PER_L, caffeine_mg_per_100g=made[0], density_g_per_ml=made[1])
        )
    line = "one performer over all takes; 200 mg at once and 400 mg a day are the guidance for an adult, 200 mg a "
    line += "day in pregnancy, 3 mg a kilogram for a child"
    if ends[0] is not None and compare(ends[0], food.CAFFEINE_DAY_MG) > 0:
        line = "over 400 mg: " + line
    return _against("Caffeine", ends, food.CAFFEINE_ONCE_MG, "mg", line, facts)


def _dose(facts: Facts, shares: "dict[str, float]", field: str, ask: str) -> "tuple[float, float] | None":
    """Return how much of it is in 100 g of the drink, and the drink's density; None when a label is not read."""
    masses, doses = [], []
    if not shares:
        facts.miss("mixed_from", "list the ingredients with their parts")
    for key in sorted(shares):
        one = Facts(key, facts.records)
        held = one.number(field, names.name_of(key, facts.records) + ": " + ask)
        density = one.known("density_kg_per_l")
        mass = shares[key] * (DENSITY_KG_PER_L if density is None else density)
        if compare(shares[key], 0.0) > 0:
            facts.missing.extend(one.missing)
            masses.append(mass)
            doses.append(mass * (held or 0.0))
    whole = total(masses)
    labels = [one for one in facts.missing if one["field"] in (field, "mixed_from")]
    return None if labels or whole <= 0 else (total(doses) / whole, whole)


def _against(
    label: str, ends: "list[float | None]", limit: float, unit: str, line: str, facts: Facts
) -> "Figure":
    low, high = ends
    state = UNKNOWN if low is None else figures.against(low, high, limit)
    words = shown.NOT_KNOWN
    if low is not None and high is not None:
        words = _amount(high, unit) if compare(low, high) == 0 else "up to " + _amount(high, unit)
    missing = facts.missing if state == UNKNOWN else []
    return figures.plain(label, words, line, caution="swallowed", state=state, missing=missing, value=high)


def _amount(number: float, unit: str) -> str:
    return decimal_text(round_up(number, 0), 0) + shown.HARD_SPACE + unit


def sulphites(keys: "list[str]", records: "Gathered") -> "Figure":
    """Return whether sulphites are named to performers: from 10 mg/kg, and whenever it is not known.

    Args:
        keys: record keys of the ingredients.
        records: the ingredients.
    """
    facts, named = [Facts(key, records) for key in keys], []
    for one in facts:
        if food.must_declare_sulphites(one.number("sulphites_mg_per_kg", "read sulphites off the label")):
            named.append(names.name_of(one.key, records))
    missing = [asked for one in facts for asked in one.missing]
    if not keys or missing:
        line = "not known: named to every performer all the same"
        return figures.unknown("Sulphites", missing, line, caution="swallowed", words="name them")
    if named:
        line = "10 mg/kg or more in " + ", ".join(named)
        return figures.plain("Sulphites", "name them", line, caution="swallowed", state=OVER)
    line = "under 10 mg/kg in every ingredient, by the labels"
    return figures.plain("Sulphites", "under 10 mg/kg", line, caution="swallowed", state=PLAIN)
