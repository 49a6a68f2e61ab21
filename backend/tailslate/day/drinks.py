"""The drinks and the food of a shot: cleared or not, how much to mix, what is swallowed, the batch's clock.

Knows no health data: of allergies only whether the round is done. Without a fresh allergy round nothing
is cleared. An amount that nobody can know yet is told "at least". Spares are whole sets.
"""

from tailslate.craft import drinks
from tailslate.craft.rounding import compare, count_up, round_up, total
from tailslate.day import batch, cautions, figures, mixing, names, shown, swallowed, ticks
from tailslate.day.figures import OVER, PLAIN, UNKNOWN, WITHIN, Facts
from tailslate.day.swallowed import ML_PER_L

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.figures import Figure
    from tailslate.day.gathered import Gathered

WASTE_RATIO = 0.15  # spilt, flat, left in jugs (common practice, no source)


def of_shot(shot: str, records: "Gathered", now_ms: "int | None") -> "list[dict[str, Any]]":
    """Return the drinks and the food of a shot's scene.

    Args:
        shot: record key of the shot.
        records: the shot with what it reads.
        now_ms: now [ms since 1970 UTC], None when it is not known.
    Returns: list of dict, keys record, title, cleared, figures, mix (list of dict, keys record, title, share,
        amount, from), allergens (list of dict, keys record, title, words), caution.
    """
    scene = records.target(shot, "scene")
    found = []
    for key in records.pointing("drink", "scene", scene) if scene else ():
        found.append(_drink(key, records, now_ms))
    for key in records.pointing("food", "scene", scene) if scene else ():
        found.append(_food(key, records, now_ms))
    return found


def _drink(key: str, records: "Gathered", now_ms: "int | None") -> "dict[str, Any]":
    keys = mixing.ingredients(key, records)
    shares, missing = mixing.by_parts(keys, records)
    found = [_round(key, records)]
    amount = figures.tried("To mix", _amount, key, records)
    found.append(amount)
    asked, from_look = mixing.look(key, keys, records)
    found.extend([asked] if asked else [])
    shares = shares or from_look
    if shares:
        found.append(figures.tried("Sugar", swallowed.sugar, key, shares, records, caution="swallowed"))
        found.append(figures.tried("Caffeine", swallowed.caffeine, key, shares, records, caution="swallowed"))
        found.append(swallowed.sulphites(keys, records))
    else:
        missing = missing or [_list_them(key)]
        found.append(figures.unknown("Mix, sugar, caffeine, sulphites", missing, caution="swallowed"))
    found.append(figures.tried(batch.LABEL, batch.clock, key, records, now_ms, caution="batch"))
    found.extend(_used(key, records))
    mix = []
    for one in keys if shares else ():
        part: dict[str, Any] = {"record": one, "title": names.name_of(one, records)}
        part["share"] = mixing.percent(shares[one])
        part["amount"] = (
            _litres(amount["value"] * shares[one]) if amount["value"] is not None else shown.NOT_KNOWN
        )
        part["from"] = records.text(one, "figures_from")
        mix.append(part)
    return _thing(key, found, mix, [key] + keys, records)


def _list_them(key: str) -> "dict[str, str]":
    return {"record": key, "field": "mixed_from", "sentence": "list the ingredients with their parts"}


def _food(key: str, records: "Gathered", now_ms: "int | None") -> "dict[str, Any]":
    found = [_round(key, records), figures.tried("Portions", _portions, key, records)]
    found.append(figures.tried(batch.LABEL, batch.clock, key, records, now_ms, caution="batch"))
    return _thing(key, found, [], [key], records)


def _thing(
    key: str, found: "list[Figure]", mix: "list[dict[str, Any]]", labels: "list[str]", records: "Gathered"
) -> "dict[str, Any]":
    cleared = found[0]["state"] == PLAIN  # the allergy round stands first
    allergens = []
    for one in labels:
        said = records.text(one, "allergens") or "not known: read the label"
        allergens.append({"record": one, "title": names.name_of(one, records), "words": said})
    return {
        "record": key,
        "title": names.name_of(key, records),
        "cleared": cleared,
        "figures": found,
        "mix": mix,
        "allergens": allergens,
        "caution": cautions.caution("food" if cleared else "not_cleared"),
    }


def _round(key: str, records: "Gathered") -> "Figure":
    """Return whether the allergy round is done for what is in it now."""
    facts, label, found = Facts(key, records), "Allergy round", ticks.state(key, "round_done", records)
    if found["state"] == ticks.DONE:
        line = names.signed("everyone was asked, for what is in it now", found["entry"], records)
        return figures.plain(label, "done", line, caution="food")
    facts.miss("round_done", "ask every performer in writing, then tick it")
    line = found["changes"][0] if found["changes"] else "nobody drinks or eats it until everyone was asked"
    return figures.unknown(label, facts.missing, line, caution="not_cleared", words="not cleared")


def _litres(number: float) -> str:
    return shown.figure(round_up(number, 3 if compare(number, 1.0) < 0 else 2), "l")


def _amount(key: str, records: "Gathered") -> "Figure":
    """Return how much to mix: what is topped up, or at worst every take empties every glass."""
    facts, label = Facts(key, records), "To mix"
    glasses, fill_l = facts.number("glasses"), facts.number("fill_l")
    resets, takes = (
        facts.number("resets"),
        facts.number("takes_planned", "say how many takes, rehearsals too"),
    )
    if glasses is None or fill_l is None or (resets is None and takes is None):
        return figures.unknown(label, facts.missing)
    waste, spares = facts.known("waste_ratio"), int(facts.known("spares") or 0.0)
    ratio, counted = WASTE_RATIO if waste is None else waste, int(resets or 0.0)
    swallowed_l = facts.number("swallowed_l", "say what one performer swallows in one take")
    performers = facts.number("performers", "say how many performers drink it")
    state, drinking = PLAIN, 0
    if takes is None:
        state, line = UNKNOWN, "the fills of the resets alone, nothing swallowed"
    elif swallowed_l is None or performers is None or resets is None:
        counted, line = max(int(takes), counted), "at worst: every take empties every glass"
    else:
        drinking, line = int(takes), "filled at each reset and topped up by what is swallowed"
    needed_ml = drinks.topped_up_ml(
        glass_count=int(glasses),
        fill_ml=fill_l * ML_PER_L,
        reset_count=counted,
        take_count=drinking,
        performer_count=int(performers or 0.0),
        swallowed_ml=(swallowed_l or 0.0) * ML_PER_L,
        waste_ratio=ratio,
        spare_set_count=spares,
    )
    line += ", " + mixing.percent(ratio) + (" waste assumed" if waste is None else " waste")
    line += ", " + str(spares) + (" spare set" if spares == 1 else " spare sets")
    words = ("at least " if state == UNKNOWN else "") + _litres(needed_ml / ML_PER_L)
    return figures.plain(label, words, line, state=state, missing=facts.missing, value=needed_ml / ML_PER_L)


def _used(key: str, records: "Gathered") -> "list[Figure]":
    """Return what is used up so far, when anyone wrote some down."""
    amounts = []
    for one in records.pointing("used", "on", key):
        amount_l = records.number(one, "amount_l")
        amounts.extend([amount_l] if amount_l is not None else [])
    if not amounts:
        return []
    return [figures.plain("Used so far", _litres(total(amounts)), value=total(amounts))]


def _portions(key: str, records: "Gathered") -> "Figure":
    facts, label = Facts(key, records), "Portions"
    takes = facts.number("takes_planned", "say how many takes, rehearsals too")
    performers, there = facts.number("performers", "say how many performers eat it"), facts.known("portions")
    if takes is None or performers is None:
        return figures.unknown(label, facts.missing)
    needed = count_up(takes * performers * (1.0 + WASTE_RATIO))
    line = "one a take and performer, " + mixing.percent(WASTE_RATIO) + " waste assumed"
    if there is None:
        facts.miss("portions")
        return figures.unknown(label, facts.missing, line, words=str(needed))
    line = str(int(there)) + " there; " + line
    return figures.plain(label, str(needed), line, state=WITHIN if there >= needed else OVER, value=needed)
