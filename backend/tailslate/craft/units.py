"""Units of the trade to SI and back, by definition. Text that people type is read in quantity.py.

Named <result unit>_from_<unit>; each is exact in its constants. Knows no ranges: a factor
does not care whether a length makes sense.
"""

from .limits import above_zero
from .rounding import decimal_text

METRES_PER_FOOT = 0.3048  # m, exact by definition [units-1]
METRES_PER_INCH = 0.0254  # m, exact by definition [units-1]
METRES_PER_YARD = 0.9144  # m, exact by definition [units-1]
KILOGRAMS_PER_POUND = 0.45359237  # kg, exact by definition [units-1]
METRES_PER_SECOND_PER_MPH = 0.44704  # m/s, exact by definition [units-1]
PASCALS_PER_PSF = 47.88025898  # Pa, from the pound-force and the foot [units-1]
SQUARE_FEET_PER_SQUARE_METRE = 1.0 / (METRES_PER_FOOT * METRES_PER_FOOT)  # no unit, exact [units-1]


def m_from_ft(length_ft: float) -> float:
    """Return a length in metres.

    Args:
        length_ft: length [ft], any finite value.
    Returns: length [m].
    Raises: nothing.
    Source: [units-1]

    >>> m_from_ft(10)
    3.048
    """
    return length_ft * METRES_PER_FOOT


def ft_from_m(length_m: float) -> float:
    """Return a length in feet.

    Args:
        length_m: length [m], any finite value.
    Returns: length [ft].
    Raises: nothing.
    Source: [units-1]

    >>> ft_from_m(3.048)
    10.0
    """
    return length_m / METRES_PER_FOOT


def m_from_in(length_in: float) -> float:
    """Return a length in metres.

    Args:
        length_in: length [in], any finite value.
    Returns: length [m].
    Raises: nothing.
    Source: [units-1]

    >>> m_from_in(100)
    2.54
    """
    return length_in * METRES_PER_INCH


def m_from_yd(length_yd: float) -> float:
    """Return a length in metres.

    Args:
        length_yd: length [yd], any finite value.
    Returns: length [m].
    Raises: nothing.
    Source: [units-1]

    >>> decimal_text(m_from_yd(55), 3)
    '50.292'
    """
    return length_yd * METRES_PER_YARD


def kg_from_lb(mass_lb: float) -> float:
    """Return a mass in kilograms.

    Args:
        mass_lb: mass [lb], any finite value.
    Returns: mass [kg].
    Raises: nothing.
    Source: [units-1]

    >>> decimal_text(kg_from_lb(35), 3)
    '15.876'
    """
    return mass_lb * KILOGRAMS_PER_POUND


def lb_from_kg(mass_kg: float) -> float:
    """Return a mass in pounds.

    Args:
        mass_kg: mass [kg], any finite value.
    Returns: mass [lb].
    Raises: nothing.
    Source: [units-1]

    >>> decimal_text(lb_from_kg(10), 2)
    '22.05'
    """
    return mass_kg / KILOGRAMS_PER_POUND


def lx_from_fc(illuminance_fc: float) -> float:
    """Return an illuminance in lux: lumens per square foot to lumens per square metre.

    Args:
        illuminance_fc: illuminance [fc], any finite value.
    Returns: illuminance [lx].
    Raises: nothing.
    Source: [units-1]

    >>> decimal_text(lx_from_fc(100), 3)
    '1076.391'
    """
    return illuminance_fc * SQUARE_FEET_PER_SQUARE_METRE


def fc_from_lx(illuminance_lx: float) -> float:
    """Return an illuminance in footcandles.

    Args:
        illuminance_lx: illuminance [lx], any finite value.
    Returns: illuminance [fc].
    Raises: nothing.
    Source: [units-1]

    >>> decimal_text(fc_from_lx(240), 2)
    '22.30'
    """
    return illuminance_lx / SQUARE_FEET_PER_SQUARE_METRE


def mired_from_k(temperature_k: float) -> float:
    """Return a colour temperature in mired: a million divided by kelvin.

    Args:
        temperature_k: colour temperature [K], above 0.
    Returns: reciprocal megakelvin [mired].
    Raises: RuleError "not_a_number", "not_positive".
    Source: [colour-1]

    >>> mired_from_k(3200)
    312.5
    """
    above_zero(temperature_k, field="temperature_k", unit="K", next_step="read the meter again")
    return 1e6 / temperature_k


def k_from_mired(temperature_mired: float) -> float:
    """Return a colour temperature in kelvin: a million divided by mired.

    Args:
        temperature_mired: reciprocal megakelvin [mired], above 0.
    Returns: colour temperature [K].
    Raises: RuleError "not_a_number", "not_positive".
    Source: [colour-1]

    >>> k_from_mired(312.5)
    3200.0
    """
    next_step = "the shift is larger than the lamp's own mired"
    above_zero(temperature_mired, field="temperature_mired", unit="mired", next_step=next_step)
    return 1e6 / temperature_mired


def degc_from_degf(temperature_degf: float) -> float:
    """Return a temperature in degrees Celsius.

    Args:
        temperature_degf: temperature [degF], any finite value.
    Returns: temperature [degC].
    Raises: nothing.
    Source: [units-1]

    >>> degc_from_degf(41)
    5.0
    """
    return (temperature_degf - 32) * 5 / 9


def m_s_from_mph(speed_mph: float) -> float:
    """Return a speed in metres per second.

    Args:
        speed_mph: speed [mph], any finite value.
    Returns: speed [m/s].
    Raises: nothing.
    Source: [units-1]

    >>> decimal_text(m_s_from_mph(25), 3)
    '11.176'
    """
    return speed_mph * METRES_PER_SECOND_PER_MPH


def feet_and_inches_text(length_m: float) -> str:
    """Return a length as feet and whole inches, as a tape is read out.

    Args:
        length_m: length [m], any finite value.
    Returns: text such as 6 ft 4 in, rounded to the nearest inch.
    Raises: RuleError "not_a_number".
    Source: [units-1]

    >>> feet_and_inches_text(1.93)
    '6 ft 4 in'
    """
    inches = int(decimal_text(abs(length_m) / METRES_PER_INCH, 0))
    sign = "-" if length_m < 0 and inches else ""
    feet = inches // 12
    if not feet:
        return f"{sign}{inches} in"
    return f"{sign}{feet} ft {inches % 12} in"
