"""What a drink is mixed from: shares by its parts, or those that a wanted look asks for. Records -> shares.

Knows no amounts. A look is reckoned for clear drinks only: milk, foam and cloudy ones are tested by eye.
"""

from tailslate.craft import drinks
from tailslate.craft.rounding import compare, decimal_text, total
from tailslate.day import figures, names, shown
from tailslate.day.figures import OVER, Facts
from tailslate.day.rows import LAST

TYPE_CHECKING = False
if TYPE_CHECKING:
    from tailslate.day.figures import Figure
    from tailslate.day.gathered import Gathered

CHANNELS = ("red", "green", "blue")
DENSITY_KG_PER_L = (
    1.05  # of a drink that nobody weighed: juice, the heavier side (common practice, no source)
)
ML_PER_L = 1000.0
CM_PER_M = 100.0


def ingredients(drink: str, records: "Gathered") -> "list[str]":
    """Return the keys of a drink's ingredients, in their order.

    Args:
        drink: record key of the drink.
        records: the drink with its ingredients.
    """
    keys = records.pointing("ingredient", "drink", drink)
    return sorted(keys, key=lambda key: (_order(key, records), key))


def _order(key: str, records: "Gathered") -> int:
    order = records.whole(key, "order")
    return LAST if order is None else order


def by_parts(keys: "list[str]", records: "Gathered") -> "tuple[dict[str, float], list[dict[str, str]]]":
    """Return the share of each ingredient by its parts, and what is missing.

    Args:
        keys: record keys of the ingredients.
        records: the ingredients.
    """
    parts, missing = {}, []
    for key in keys:
        facts = Facts(key, records)
        found = facts.number("parts", names.name_of(key, records) + ": say how many parts")
        parts[key] = 0.0 if found is None else found
        missing.extend(facts.missing)
    whole = total([parts[key] for key in keys])
    if missing or compare(whole, 0.0) <= 0:
        return {}, missing
    return {key: parts[key] / whole for key in keys}, []


def look(drink: str, keys: "list[str]", records: "Gathered") -> "tuple[Figure | None, dict[str, float]]":
    """Return the shares that the wanted look asks for.

    Args:
        drink: record key of the drink.
        keys: record keys of its ingredients.
        records: the drink with its ingredients.
    Returns: the figure, None when no look is wanted; and the share of each ingredient, empty when not known.
    """
    facts, label = Facts(drink, records), "Look"
    wanted = [one for one in CHANNELS if facts.known(one + "_absorbance") is not None]
    if not wanted:
        return None, {}
    path_m = facts.number("path_m", "measure the drink that the lens looks through, at the height it sees")
    colours = {}
    for key in keys:
        one = Facts(key, records)
        read = "read its absorbance a centimetre, 0 for water"
        found = [one.number(name + "_per_cm", names.name_of(key, records) + ": " + read) for name in wanted]
        colours[key] = [value for value in found if value is not None]
        facts.missing.extend(one.missing)
    if not keys:
        facts.miss("mixed_from", "list the ingredients, the water too")
    if path_m is None or facts.missing:
        return figures.unknown(label, facts.missing), {}
    stocks = [key for key in keys if max(colours[key]) > 0]
    if not stocks:
        return figures.unknown(label, [], "none of the ingredients has a colour"), {}
    target = [(facts.known(name + "_absorbance") or 0.0) / (path_m * CM_PER_M) for name in wanted]
    made = drinks.mixed_stocks(target, stocks=[colours[key] for key in stocks])
    return _told(label, keys, stocks, made["shares"], made["miss"], records)


def _told(
    label: str,
    keys: "list[str]",
    stocks: "list[str]",
    found: "list[float] | float",
    miss: "list[float] | float",
    records: "Gathered",
) -> "tuple[Figure, dict[str, float]]":
    shares = {key: 0.0 for key in keys}
    for place, key in enumerate(stocks):
        shares[key] = found[place] if isinstance(found, list) else found
    rest = 1.0 - total([shares[key] for key in stocks])
    clear = [key for key in keys if key not in stocks]
    if compare(rest, 0.0) < 0:
        line = "the stocks would fill more than the glass: make them stronger, or take a wider glass"
        return figures.plain(label, "too weak", line, state=OVER), {}
    if clear:
        shares[clear[0]] = rest
    said = [names.name_of(key, records) + " " + percent(shares[key]) for key in keys if shares[key] > 0]
    if not clear and compare(rest, 0.0) > 0:
        said.append("water " + percent(rest))
    line = "clear drinks only: milk, foam and cloudy drinks are tested by eye"
    if isinstance(miss, float) and compare(miss, 0.01) >= 0:
        line = "misses it by " + decimal_text(miss, 2) + " a centimetre; " + line
    return figures.plain(label, ", ".join(said), line), shares


def percent(share: float) -> str:
    """Return a share as a whole or tenth of a percent."""
    return decimal_text(share * 100.0, 0 if compare(share, 0.1) >= 0 else 1) + shown.HARD_SPACE + "%"
