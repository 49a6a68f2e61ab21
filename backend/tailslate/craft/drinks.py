"""Prop drinks by looks and by amount: dilution to a colour, the same look in another glass, volumes.

Beer-Lambert on clear drinks, log base 10, path through the glass at the height the lens sees.
Milk, foam and cloudy drinks scatter: the law fails, test by eye. Who may drink what: food.py.
"""

import math

from .errors import RuleError
from .limits import above_zero, at_least_zero, share
from .rounding import compare, plain_text, total

_MOST_STOCKS = 4  # stocks in one mix, so that every combination can be tried


def absorbance(transmittance_ratio: float) -> float:
    """Return the absorbance of a glass of drink: A = -log10(T).

    Args:
        transmittance_ratio: share of the light that passes [ratio, above 0 to 1].
    Returns: absorbance (no unit), log base 10.
    Raises: RuleError "not_a_number", "not_positive", "outside_range".
    Source: [drinks-1]

    >>> round(absorbance(0.01), 9)
    2.0
    """
    next_step = "meter through the glass and through a glass of water"
    above_zero(transmittance_ratio, field="transmittance_ratio", unit="", next_step=next_step)
    return -math.log10(share(transmittance_ratio, field="transmittance_ratio"))


def stock_ratio(target_absorbance: float, *, stock_per_cm: float, path_cm: float) -> float:
    """Return the share of stock in the glass for a wanted look: A / (a * l). 1 in 9 is 1 part to 8.

    Args:
        target_absorbance: wanted absorbance (no unit), 0 or more.
        stock_per_cm: absorbance of the pure stock [1/cm], above 0.
        path_cm: width of drink that the lens looks through [cm], above 0.
    Returns: share of stock [ratio, 0 to 1].
    Raises: RuleError "not_a_number", "negative", "not_positive", "stock_too_weak".
    Source: [drinks-1]

    >>> stock_ratio(1.5, stock_per_cm=1.0, path_cm=6.0)
    0.25
    """
    at_least_zero(target_absorbance, field="target_absorbance", unit="", next_step="meter the drink to match")
    above_zero(stock_per_cm, field="stock_per_cm", unit="1/cm", next_step="meter the pure stock")
    above_zero(path_cm, field="path_cm", unit="cm", next_step="measure the glass at the height the lens sees")
    ratio = target_absorbance / (stock_per_cm * path_cm)
    if compare(ratio, 1.0) > 0:
        sentence = (
            f"the stock would have to fill {plain_text(ratio)} of the glass, the limit is 1; "
            "make the stock stronger, or take a wider glass"
        )
        raise RuleError("stock_too_weak", sentence, value=ratio, limit=1)
    return ratio


def same_look_ratio(stock_share_ratio: float, *, path_cm: float, other_path_cm: float) -> float:
    """Return the share of stock that looks the same in another glass: share * path stays the same.

    Args:
        stock_share_ratio: share of stock in the first glass [ratio, 0 to 1].
        path_cm: width of drink in the first glass [cm], above 0.
        other_path_cm: in the other glass [cm], above 0.
    Returns: share of stock in the other glass [ratio, 0 to 1].
    Raises: RuleError "not_a_number", "not_positive", "outside_range", "stock_too_weak".
    Source: [drinks-1]

    >>> same_look_ratio(0.5, path_cm=6.0, other_path_cm=12.0)
    0.25
    """
    share(stock_share_ratio, field="stock_share_ratio")
    return stock_ratio(stock_share_ratio * path_cm, stock_per_cm=1.0, path_cm=other_path_cm)


def _solved(rows: list[list[float]]) -> list[float] | None:
    """Return the solution of a small square system (rows end with the right side), None if singular."""
    size = len(rows)
    rows = [list(row) for row in rows]
    for column in range(size):
        pivot = max(range(column, size), key=lambda row: (abs(rows[row][column]), -row))
        if abs(rows[pivot][column]) < 1e-12:
            return None
        rows[column], rows[pivot] = rows[pivot], rows[column]
        for row in range(size):
            if row != column:
                factor = rows[row][column] / rows[column][column]
                for place in range(column, size + 1):
                    rows[row][place] -= factor * rows[column][place]
    return [rows[index][size] / rows[index][index] for index in range(size)]


def mixed_stocks(target: list[float], *, stocks: list[list[float]]) -> dict[str, "list[float] | float"]:
    """Return the shares of up to four stocks that come nearest to a wanted colour, none below 0.

    Args:
        target: wanted absorbance per cm for each channel, red, green, blue [1/cm], 0 or more.
        stocks: list of the same for each pure stock [1/cm].
    Returns: dict, keys shares (share of each stock [ratio]) and miss (root of the summed squares of
        what is left [1/cm]). Shares over 1 together: make the stocks stronger.
    Raises: RuleError "not_a_number", "negative", "lengths_differ", "too_many_stocks".
    Source: [drinks-1], [drinks-2]

    >>> mixed_stocks([0.5, 0.25, 0.0], stocks=[[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])["shares"]
    [0.5, 0.25]
    """
    if not 1 <= len(stocks) <= _MOST_STOCKS:
        raise RuleError("too_many_stocks", f"mix 1 to {_MOST_STOCKS} stocks at once", value=len(stocks))
    for colour in stocks + [target]:
        if len(colour) != len(target):
            raise RuleError("lengths_differ", "target and stocks need the same channels; measure each in all")
        for value in colour:
            at_least_zero(value, field="absorbance per cm", unit="1/cm", next_step="measure it again")
    best: list[float] = [0.0] * len(stocks)
    best_miss = _miss(target, stocks, best)
    # Non-negative least squares: with so few stocks, each combination solved freely finds it.
    for pick in range(1, 2 ** len(stocks)):
        used = [index for index in range(len(stocks)) if pick // 2**index % 2]
        rows = []
        for one in used:
            row = [total([a * b for a, b in zip(stocks[one], stocks[other])]) for other in used]
            rows.append(row + [total([a * b for a, b in zip(stocks[one], target)])])
        found = _solved(rows)
        if found is None or min(found) < 0:
            continue
        shares = [0.0] * len(stocks)
        for place, index in enumerate(used):
            shares[index] = found[place]
        miss = _miss(target, stocks, shares)
        if compare(miss, best_miss) < 0:
            best, best_miss = shares, miss
    return {"shares": best, "miss": best_miss}


def _miss(target: list[float], stocks: list[list[float]], shares: list[float]) -> float:
    squares: list[float] = []
    for channel, wanted in enumerate(target):
        left = wanted - total([stock[channel] * shares[index] for index, stock in enumerate(stocks)])
        squares.append(left * left)
    return math.sqrt(total(squares))


def refilled_ml(
    *, glass_count: int, fill_ml: float, reset_count: int, waste_ratio: float, spare_set_count: int
) -> float:
    """Return the volume when every take empties every glass: the worst case.

    fills * (1 + waste) + spares, a fill being every glass once.

    Args:
        glass_count: glasses filled at each reset, all performers (a count), 0 or more.
        fill_ml: drink in one glass [ml], 0 or more.
        reset_count: resets with a full refill (a count): takes of all set-ups and rehearsals, 0 or more.
        waste_ratio: spilt, flat, left in jugs [ratio], 0 or more.
        spare_set_count: full sets kept ready (a count), 0 or more.
    Returns: volume [ml].
    Raises: RuleError "not_a_number", "negative".
    Source: [drinks-3]

    >>> refilled_ml(glass_count=2, fill_ml=100.0, reset_count=10, waste_ratio=0.0, spare_set_count=1)
    2200.0
    """
    checks = (("glass_count", glass_count), ("fill_ml", fill_ml), ("reset_count", reset_count))
    for field, value in checks + (("waste_ratio", waste_ratio), ("spare_set_count", spare_set_count)):
        at_least_zero(value, field=field, unit="", next_step="count again")
    one_set_ml = glass_count * fill_ml
    return one_set_ml * reset_count * (1.0 + waste_ratio) + one_set_ml * spare_set_count


def topped_up_ml(
    *,
    glass_count: int,
    fill_ml: float,
    reset_count: int,
    take_count: int,
    performer_count: int,
    swallowed_ml: float,
    waste_ratio: float,
    spare_set_count: int,
) -> float:
    """Return the volume when glasses are filled once a reset and topped up by what was swallowed.

    (resets * glasses * fill + takes * performers * swallowed) * (1 + waste) + spares.

    Args:
        glass_count: glasses filled at each reset (a count), 0 or more.
        fill_ml: drink in one glass [ml], 0 or more.
        reset_count: how often all glasses are filled afresh (a count), 0 or more.
        take_count: takes and rehearsals with drinking (a count), 0 or more.
        performer_count: performers who drink (a count), 0 or more.
        swallowed_ml: what one swallows in one take [ml], 0 or more.
        waste_ratio: spilt, flat, left in jugs [ratio], 0 or more.
        spare_set_count: full sets kept ready (a count), 0 or more.
    Returns: volume [ml].
    Raises: RuleError "not_a_number", "negative".
    Source: [drinks-3]

    >>> topped_up_ml(glass_count=2, fill_ml=100.0, reset_count=1, take_count=10, performer_count=2,
    ...     swallowed_ml=20.0, waste_ratio=0.0, spare_set_count=0)
    600.0
    """
    checks = (
        ("take_count", take_count),
        ("performer_count", performer_count),
        ("swallowed_ml", swallowed_ml),
    )
    for field, value in checks:
        at_least_zero(value, field=field, unit="", next_step="count again")
    filled_ml = refilled_ml(
        glass_count=glass_count,
        fill_ml=fill_ml,
        reset_count=reset_count,
        waste_ratio=waste_ratio,
        spare_set_count=spare_set_count,
    )
    return filled_ml + take_count * performer_count * swallowed_ml * (1.0 + waste_ratio)
