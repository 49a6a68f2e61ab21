"""Which strength of a correction filter brings a lamp nearest to a wanted colour temperature.

Strengths are exact fractions of a full one here; real sheets named half or quarter are not, so
the mired from the sheet's own data, where known, goes in as full_mired or as a layer's shift.
"""

from .colour import shift_between_mired, shifted_k
from .limits import above_zero
from .rounding import compare

FULL_MIRED = 1e6 / 3200.0 - 1e6 / 5500.0  # mired, 130.68: 5500 K to 3200 K and back [colour-7]
_STRENGTHS = (("full", 1.0), ("half", 0.5), ("quarter", 0.25), ("eighth", 0.125))


def nearest_correction(
    from_k: float, *, to_k: float, full_mired: float = FULL_MIRED
) -> dict[str, "str | float"]:
    """Return the single filter that brings a lamp nearest to a wanted colour temperature.

    Args:
        from_k: the lamp as it is, with its diffusion on [K], above 0.
        to_k: the light as wanted [K], above 0.
        full_mired: shift of the full strength [mired], above 0.
    Returns: dict, keys shift_mired (wanted [mired], warm positive), direction (blue (cooling), amber
        (warming), none), strength (full, half, quarter, eighth, none), filter_mired, residual_mired
        (wanted less filter [mired]), temperature_after_k [K].
    Raises: RuleError "not_a_number", "not_positive".
    Source: [colour-7]

    >>> nearest_correction(2150.0, to_k=2350.0)["strength"]
    'quarter'
    """
    above_zero(full_mired, field="full_mired", unit="mired", next_step="read it off the filter's sheet")
    shift_mired = shift_between_mired(from_k, to_k=to_k)
    strength, part = "none", 0.0
    for name, fraction in _STRENGTHS:  # a tie goes to the weaker filter: it costs less light
        nearer = abs(abs(shift_mired) - fraction * full_mired)
        if compare(nearer, abs(abs(shift_mired) - part * full_mired)) <= 0:
            strength, part = name, fraction
    if compare(abs(shift_mired), abs(abs(shift_mired) - part * full_mired)) <= 0:
        strength, part = "none", 0.0
    filter_mired = part * full_mired if shift_mired > 0 else -part * full_mired
    direction = "none"
    if strength != "none":
        direction = "amber (warming)" if shift_mired > 0 else "blue (cooling)"
    return {
        "shift_mired": shift_mired,
        "direction": direction,
        "strength": strength,
        "filter_mired": filter_mired,
        "residual_mired": shift_mired - filter_mired,
        "temperature_after_k": shifted_k(from_k, shift_mired=filter_mired),
    }
