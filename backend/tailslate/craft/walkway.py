"""Bumps on the way people walk: what may lie flush, what needs a bevel, what needs a ramp.

Walkways and escape routes stay clear and dry; cords do not cross them unprotected. Tape is no
substitute for a ramp or mat. Local code and the person in charge of safety decide.
"""

from .limits import at_least_zero
from .rounding import compare

FLUSH_LIMIT_M = 0.0064  # m, a quarter inch, vertical edge [walkway-1]
BEVEL_LIMIT_M = 0.013  # m, half an inch, bevelled one in two [walkway-1]


def bump_needs(height_m: float) -> str:
    """Return what a bump on a walkway needs: flush, bevel or ramp.

    Args:
        height_m: height of the edge or cable [m], 0 or more.
    Returns: flush (a vertical edge is accepted), bevel (slope one in two), or ramp.
    Raises: RuleError "not_a_number", "negative".
    Source: [walkway-1]

    >>> bump_needs(0.009)
    'bevel'
    """
    at_least_zero(height_m, field="height_m", unit="m", next_step="measure the highest point")
    if compare(height_m, FLUSH_LIMIT_M) <= 0:
        return "flush"
    return "bevel" if compare(height_m, BEVEL_LIMIT_M) <= 0 else "ramp"
