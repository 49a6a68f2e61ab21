"""What a performer swallows: sugar, caffeine, sulphites, the batch clock, allergies.

Guidance, not medicine: ask every performer in writing, in confidence; minors through a guardian.
No answer is not cleared, and a list of allergens never covers everything. Local food law decides.
"""

from .errors import RuleError
from .limits import above_zero, at_least_zero, finite, within
from .rounding import compare

FREE_SUGAR_DAY_G = 50.0  # g a day at 2000 kcal, 10 % of energy [food-1]
CAFFEINE_ONCE_MG = 200.0  # mg at once, adults [food-2]; also a day in pregnancy
CAFFEINE_DAY_MG = 400.0  # mg a day, adults [food-2]
CAFFEINE_CHILD_MG_PER_KG = 3.0  # mg a day per kg of body weight, children [food-2]
SULPHITE_MG_PER_KG = 10.0  # mg/kg as sulphur dioxide; at 10 the US rule declares, the EU rule above [food-3]
COLD_LIMIT_DEGC = 5.0  # degC, 41 degF: cold food at or under [food-4]
HOT_LIMIT_DEGC = 135.0 * 5 / 9 - 32.0 * 5 / 9  # degC, 135 degF: hot food at or over [food-4]
ROOM_LIMIT_DEGC = 70.0 * 5 / 9 - 32.0 * 5 / 9  # degC, 70 degF: never passed on the long clock [food-4]
CLOCK_MIN = 240.0  # min out of control, then discard [food-4]
LONG_CLOCK_MIN = 360.0  # min, when it began cold and never passed 70 degF [food-4]
# Allergens that must be declared: the US nine and the EU fourteen together [food-5].
ALLERGENS = (
    "celery", "crustaceans", "eggs", "fish", "gluten", "lupin", "milk", "molluscs", "mustard",
    "peanuts", "sesame", "soy", "sulphites", "tree nuts", "wheat",
)  # fmt: skip


def sugar_g(volume_ml: float, *, sugar_g_per_100g: float, density_g_per_ml: float) -> float:
    """Return the sugar in a volume of drink: volume * density * share.

    Args:
        volume_ml: what one performer swallows [ml], 0 or more.
        sugar_g_per_100g: sugars by weight [g/100 g], 0 to 100; juice counts as free sugar.
        density_g_per_ml: weight of a millilitre [g/ml], above 0.
    Returns: sugar [g].
    Raises: RuleError "not_a_number", "negative", "not_positive", "outside_range".
    Source: [food-6]

    >>> sugar_g(1000.0, sugar_g_per_100g=10.0, density_g_per_ml=1.05)
    105.0
    """
    at_least_zero(volume_ml, field="volume_ml", unit="ml", next_step="takes times what is swallowed")
    above_zero(density_g_per_ml, field="density_g_per_ml", unit="g/ml", next_step="1 for tea, 1.05 for juice")
    next_step = "read it off the label"
    within(sugar_g_per_100g, low=0, high=100, field="sugar_g_per_100g", unit="g/100 g", next_step=next_step)
    return volume_ml * density_g_per_ml * sugar_g_per_100g / 100.0


def sugar_share_ratio(amount_g: float, *, day_g: float = FREE_SUGAR_DAY_G) -> float:
    """Return an amount of sugar as a share of the day's upper guidance.

    Args:
        amount_g: sugar [g], 0 or more.
        day_g: guidance for the day [g], above 0; 50 for an adult.
    Returns: share [ratio]; over 1 spread it over doubles, spit or dilute.
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [food-1]

    >>> sugar_share_ratio(75.0)
    1.5
    """
    at_least_zero(amount_g, field="amount_g", unit="g", next_step="work out the sugar first")
    return amount_g / above_zero(day_g, field="day_g", unit="g", next_step="50 g for an adult")


def caffeine_mg(volume_ml: float, *, caffeine_mg_per_100g: float, density_g_per_ml: float = 1.0) -> float:
    """Return the caffeine in a volume of drink.

    Args:
        volume_ml: what one performer swallows [ml], 0 or more.
        caffeine_mg_per_100g: caffeine by weight [mg/100 g], 0 or more.
        density_g_per_ml: weight of a millilitre [g/ml], above 0.
    Returns: caffeine [mg].
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [food-6]

    >>> caffeine_mg(1000.0, caffeine_mg_per_100g=20.0)
    200.0
    """
    at_least_zero(volume_ml, field="volume_ml", unit="ml", next_step="takes times what is swallowed")
    above_zero(density_g_per_ml, field="density_g_per_ml", unit="g/ml", next_step="1 for tea")
    next_step = "read it off the label"
    at_least_zero(caffeine_mg_per_100g, field="caffeine_mg_per_100g", unit="mg/100 g", next_step=next_step)
    return volume_ml * density_g_per_ml * caffeine_mg_per_100g / 100.0


def is_over_caffeine(amount_mg: float, *, limit_mg: float) -> bool:
    """Return whether caffeine passes a guidance value: 200 mg at once, 400 mg a day, 3 mg/kg for a child.

    Args:
        amount_mg: caffeine [mg], 0 or more.
        limit_mg: guidance [mg], above 0.
    Returns: True over the limit. False is no clearance: ask the performer.
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [food-2]

    >>> is_over_caffeine(216.0, limit_mg=CAFFEINE_ONCE_MG), is_over_caffeine(216.0, limit_mg=CAFFEINE_DAY_MG)
    (True, False)
    """
    at_least_zero(amount_mg, field="amount_mg", unit="mg", next_step="work out the caffeine first")
    above_zero(limit_mg, field="limit_mg", unit="mg", next_step="200 at once for an adult")
    return compare(amount_mg, limit_mg) > 0


def must_declare_sulphites(sulphur_dioxide_mg_per_kg: float | None) -> bool:
    """Return whether sulphites are named to performers: from 10 mg/kg, and whenever it is not known.

    Args:
        sulphur_dioxide_mg_per_kg: sulphites as SO2 [mg/kg], 0 or more; None is not known.
    Returns: True to declare.
    Raises: RuleError "not_a_number", "negative".
    Source: [food-3]

    >>> must_declare_sulphites(10.0), must_declare_sulphites(None)
    (True, True)
    """
    if sulphur_dioxide_mg_per_kg is None:
        return True
    field = "sulphur_dioxide_mg_per_kg"
    at_least_zero(sulphur_dioxide_mg_per_kg, field=field, unit="mg/kg", next_step="read it off the label")
    return compare(sulphur_dioxide_mg_per_kg, SULPHITE_MG_PER_KG) >= 0


def minutes_left(minutes_out: float | None, *, start_degc: float | None, highest_degc: float | None) -> float:
    """Return how long a batch may still stand out before it is thrown away. The clock never resets.

    Four hours; six only for what began at 5 degC or under and never passed 21 degC.

    Args:
        minutes_out: since it left cold or hot holding [min], 0 or more; None is not known: none left.
        start_degc: its temperature then [degC]; None is not known.
        highest_degc: the highest since [degC]; None is not known.
    Returns: minutes left [min]; 0 means throw it away.
    Raises: RuleError "not_a_number", "negative".
    Source: [food-4]

    >>> minutes_left(180.0, start_degc=None, highest_degc=None), minutes_left(None, start_degc=4.0, highest_degc=9.0)
    (60.0, 0.0)
    """
    if minutes_out is None:
        return 0.0
    at_least_zero(minutes_out, field="minutes_out", unit="min", next_step="when did it leave the fridge?")
    limit_min = CLOCK_MIN
    if start_degc is not None and highest_degc is not None:
        finite(start_degc, field="start_degc", unit="degC", next_step="use a probe")
        finite(highest_degc, field="highest_degc", unit="degC", next_step="use a probe")
        stayed_cool = compare(highest_degc, ROOM_LIMIT_DEGC) <= 0
        if compare(start_degc, COLD_LIMIT_DEGC) <= 0 and stayed_cool:
            limit_min = LONG_CLOCK_MIN
    return max(0.0, limit_min - minutes_out)


def conflicts(contains: "list[str] | None", *, avoids: "list[str] | None") -> list[str]:
    """Return what in a food a performer avoids. An open question on either side is refused.

    Args:
        contains: names of what is in it, allergens and others (no unit); None is not known.
        avoids: names of what the performer avoids; [] is the answer 'nothing'; None is no answer.
    Returns: names of contents that hold, or are held in, a name avoided (nuts finds tree nuts and
        peanuts), sorted. An empty list is no clearance: someone signs for it.
    Raises: RuleError "answer_unknown", "contents_unknown".
    Source: [food-5]

    >>> conflicts(["milk", "tree nuts"], avoids=["nuts"])
    ['tree nuts']
    """
    if avoids is None:
        sentence = "no allergy answer from this performer yet; ask in writing, until then not cleared"
        raise RuleError("answer_unknown", sentence)
    if contains is None:
        raise RuleError(
            "contents_unknown", "what is in it is not known; read every label, until then not cleared"
        )
    wanted = [name.strip().lower() for name in avoids if name.strip()]
    found: list[str] = []
    for name in contains:
        plain = name.strip().lower()
        if plain and [avoided for avoided in wanted if avoided in plain or plain in avoided]:
            found.append(name)
    return sorted(found)
