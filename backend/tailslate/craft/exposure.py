"""Light and stop: shutter time, incident-light exposure, filters, lens transmittance.

N**2 / t = E * S / C. Stops are log base 2 of a ratio of light; a loss is positive. Three
published constants for the same meter lie within half a stop of each other, so C is always an
argument and is shown; a calibration against a reading outranks all of them. No reciprocity.
"""

import math

from .errors import RuleError
from .limits import above_zero, at_least_zero, share, within
from .rounding import compare, plain_text, total

FLAT_RECEPTOR_CONSTANT = 250.0  # lx s ISO, in common use [exposure-1]
DOME_RECEPTOR_CONSTANT = 340.0  # lx s ISO, in common use [exposure-1]
LOWEST_CONSTANT = 240.0  # lx s ISO, lowest for a flat receptor [exposure-1]
HIGHEST_CONSTANT = 540.0  # lx s ISO, highest for a dome [exposure-1]
STOPS_PER_DENSITY = math.log2(10.0)  # one unit of optical density [exposure-3]


def stops_between(light: float, *, reference: float) -> float:
    """Return how many stops light lies over reference: log2(light / reference).

    Args:
        light: an amount of light, in any unit [lx, cd/m2, s], above 0.
        reference: the amount it is compared with, in the same unit, above 0.
    Returns: difference [stop], negative when light is under reference.
    Raises: RuleError "not_a_number", "not_positive".
    Source: [exposure-3]

    >>> stops_between(200.0, reference=800.0)
    -2.0
    """
    above_zero(light, field="light", unit="", next_step="a dark point has no level in stops")
    above_zero(reference, field="reference", unit="", next_step="set the level to compare with")
    return math.log2(light / reference)


def loss_stops(transmittance_ratio: float) -> float:
    """Return the loss of something that passes a share of the light: -log2(share).

    Args:
        transmittance_ratio: share that gets through [ratio, above 0 to 1].
    Returns: loss [stop], 0 or more.
    Raises: RuleError "not_a_number", "not_positive", "outside_range".
    Source: [exposure-3]

    >>> loss_stops(0.25)
    2.0
    """
    share(transmittance_ratio, field="transmittance_ratio")
    return -stops_between(transmittance_ratio, reference=1.0)


def transmittance_ratio(loss_in_stops: float) -> float:
    """Return the share of light left after a loss: 2**-loss. Half a stop leaves 0.707.

    Args:
        loss_in_stops: loss [stop], any finite value.
    Returns: share that gets through [ratio].
    Raises: nothing.
    Source: [exposure-3]

    >>> transmittance_ratio(2.0)
    0.25
    """
    return math.pow(2.0, -loss_in_stops)


def exposure_time_s(shutter_angle_deg: float, *, frame_rate_per_s: float) -> float:
    """Return how long each frame is exposed: angle / (360 * frame rate).

    Args:
        shutter_angle_deg: open shutter angle [deg], above 0 to 360.
        frame_rate_per_s: frames taken per second [1/s], above 0.
    Returns: exposure time [s].
    Raises: RuleError "not_a_number", "not_positive", "outside_range".
    Source: [exposure-2]

    >>> exposure_time_s(180.0, frame_rate_per_s=25.0)
    0.02
    """
    above_zero(shutter_angle_deg, field="shutter_angle_deg", unit="deg", next_step="read it off the camera")
    within(
        shutter_angle_deg,
        low=0,
        high=360,
        field="shutter_angle_deg",
        unit="deg",
        next_step="read it off the camera",
    )
    above_zero(frame_rate_per_s, field="frame_rate_per_s", unit="1/s", next_step="read it off the camera")
    return shutter_angle_deg / (360.0 * frame_rate_per_s)


def checked_constant(calibration_constant: float, *, is_confirmed: bool = False) -> float:
    """Return the meter constant C if it is a usual one, or one that a person has confirmed.

    Args:
        calibration_constant: C [lx s ISO], above 0; usual from 240 (flat) to 540 (dome).
        is_confirmed: a person has seen the warning, or C comes from a reading.
    Returns: calibration_constant, unchanged [lx s ISO].
    Raises: RuleError "not_a_number", "not_positive", "constant_unusual".
    Source: [exposure-1]

    >>> checked_constant(250.0)
    250.0
    """
    above_zero(calibration_constant, field="calibration_constant", unit="lx s ISO", next_step="250 is usual")
    is_usual = compare(calibration_constant, LOWEST_CONSTANT) >= 0
    is_usual = is_usual and compare(calibration_constant, HIGHEST_CONSTANT) <= 0
    if not is_usual and not is_confirmed:
        sentence = (
            "the meter constant is usually from 240 to 540 lx s ISO, got "
            f"{plain_text(calibration_constant)}; calibrate against a reading, or confirm it"
        )
        raise RuleError("constant_unusual", sentence, value=calibration_constant, limit=[240, 540])
    return calibration_constant


def _exposure(exposure_index: float, time_s: float) -> float:
    above_zero(exposure_index, field="exposure_index", unit="ISO", next_step="read it off the camera")
    above_zero(time_s, field="time_s", unit="s", next_step="check the shutter angle and frame rate")
    return exposure_index * time_s


def stop_number(
    illuminance_lx: float,
    *,
    exposure_index: float,
    time_s: float,
    calibration_constant: float,
    is_confirmed: bool = False,
) -> float:
    """Return the stop that a level asks for: N = sqrt(E * S * t / C). A T-stop for light.

    Args:
        illuminance_lx: incident light [lx], above 0.
        exposure_index: as set on the camera [ISO], above 0.
        time_s: exposure time [s], above 0; trusted from 1/8000 to 1.
        calibration_constant: C [lx s ISO], 240 to 540 unless confirmed.
        is_confirmed: an unusual C has been confirmed.
    Returns: stop number [T-stop], exact, not a marked one.
    Raises: RuleError "not_a_number", "not_positive", "constant_unusual".
    Source: [exposure-1]

    >>> stop_number(250.0, exposure_index=800.0, time_s=0.02, calibration_constant=250.0)
    4.0
    """
    above_zero(illuminance_lx, field="illuminance_lx", unit="lx", next_step="a dark point asks for no stop")
    checked_constant(calibration_constant, is_confirmed=is_confirmed)
    return math.sqrt(illuminance_lx * _exposure(exposure_index, time_s) / calibration_constant)


def illuminance_for_stop_lx(
    stop: float,
    *,
    exposure_index: float,
    time_s: float,
    calibration_constant: float,
    is_confirmed: bool = False,
) -> float:
    """Return the level that a wanted stop asks for: E = C * N**2 / (S * t).

    Args:
        stop: the stop to shoot at [T-stop], above 0.
        exposure_index: as set on the camera [ISO], above 0.
        time_s: exposure time [s], above 0.
        calibration_constant: C [lx s ISO], 240 to 540 unless confirmed.
        is_confirmed: an unusual C has been confirmed.
    Returns: incident light [lx].
    Raises: RuleError "not_a_number", "not_positive", "constant_unusual".
    Source: [exposure-1]

    >>> illuminance_for_stop_lx(4.0, exposure_index=800.0, time_s=0.02, calibration_constant=250.0)
    250.0
    """
    above_zero(stop, field="stop", unit="T-stop", next_step="read it off the lens")
    checked_constant(calibration_constant, is_confirmed=is_confirmed)
    return calibration_constant * stop * stop / _exposure(exposure_index, time_s)


def implied_constant(illuminance: float, *, stop: float, exposure_index: float, time_s: float) -> float:
    """Return the constant that makes a level and a stop agree: C = E * S * t / N**2.

    Args:
        illuminance: incident light [lx for lx s ISO; fc for fc s ISO], above 0.
        stop: the stop that exposed it well [T-stop], above 0.
        exposure_index: as set on the camera [ISO], above 0.
        time_s: exposure time [s], above 0.
    Returns: calibration constant [lx s ISO, or fc s ISO when illuminance is in fc].
    Raises: RuleError "not_a_number", "not_positive".
    Source: [exposure-1]

    >>> implied_constant(250.0, stop=4.0, exposure_index=800.0, time_s=0.02)
    250.0
    """
    above_zero(illuminance, field="illuminance", unit="lx", next_step="read the meter again")
    above_zero(stop, field="stop", unit="T-stop", next_step="read it off the lens")
    return illuminance * _exposure(exposure_index, time_s) / (stop * stop)


def exposure_value(stop: float, *, time_s: float) -> float:
    """Return the exposure value EV = log2(N**2 / t).

    Args:
        stop: stop number [T-stop], above 0.
        time_s: exposure time [s], above 0.
    Returns: exposure value [stop].
    Raises: RuleError "not_a_number", "not_positive".
    Source: [exposure-1]

    >>> exposure_value(4.0, time_s=0.0625)
    8.0
    """
    above_zero(stop, field="stop", unit="T-stop", next_step="read it off the lens")
    return stops_between(stop * stop, reference=time_s)


def stop_difference_stops(stop: float, *, reference: float) -> float:
    """Return how many stops one stop number is closed against another: 2 * log2(N / N').

    Args:
        stop: stop number [f-number or T-stop], above 0.
        reference: the stop number it is compared with [f-number or T-stop], above 0.
    Returns: difference [stop], positive when stop is the smaller opening.
    Raises: RuleError "not_a_number", "not_positive".
    Source: [exposure-3]

    >>> stop_difference_stops(8.0, reference=4.0)
    2.0
    """
    return 2.0 * stops_between(stop, reference=reference)


def t_stop(f_number: float, *, lens_transmittance_ratio: float) -> float:
    """Return the T-stop of a lens: T = N / sqrt(transmittance). Light goes by T, focus by N.

    Args:
        f_number: focal length over opening [f-number], above 0.
        lens_transmittance_ratio: share of light the glass passes [ratio, above 0 to 1].
    Returns: stop number [T-stop], never under the f-number.
    Raises: RuleError "not_a_number", "not_positive", "outside_range".
    Source: [exposure-4]

    >>> t_stop(2.0, lens_transmittance_ratio=0.64)
    2.5
    """
    above_zero(f_number, field="f_number", unit="f-number", next_step="read it off the lens")
    next_step = "ask the rental house"
    above_zero(lens_transmittance_ratio, field="lens_transmittance_ratio", unit="", next_step=next_step)
    share(lens_transmittance_ratio, field="lens_transmittance_ratio", next_step=next_step)
    return f_number / math.sqrt(lens_transmittance_ratio)


def lens_transmittance_ratio(f_number: float, *, t_number: float) -> float:
    """Return the share of light a lens passes, from its two numbers: (N / T)**2.

    Args:
        f_number: focal length over opening [f-number], above 0.
        t_number: T-stop of the same ring position [T-stop], not under f_number.
    Returns: transmittance [ratio].
    Raises: RuleError "not_a_number", "not_positive", "t_under_f".
    Source: [exposure-4]

    >>> lens_transmittance_ratio(2.0, t_number=4.0)
    0.25
    """
    above_zero(f_number, field="f_number", unit="f-number", next_step="read it off the lens")
    above_zero(t_number, field="t_number", unit="T-stop", next_step="read it off the lens")
    if compare(t_number, f_number) < 0:
        sentence = (
            f"the T-number must not be under the f-number {plain_text(f_number)}, got {plain_text(t_number)}; "
            "a lens passes no more light than it takes in: swap the two"
        )
        raise RuleError("t_under_f", sentence, value=t_number, limit=f_number)
    return (f_number / t_number) * (f_number / t_number)


def filter_pack_stops(densities: list[float], *, factors: list[float]) -> float:
    """Return the loss of a pack of filters: densities add, factors multiply.

    Args:
        densities: optical density of each neutral filter (no unit), 0 or more; 0.3 is nearly one stop.
        factors: filter factor of each other filter [ratio], 1 or more.
    Returns: loss [stop].
    Raises: RuleError "not_a_number", "negative", "outside_range".
    Source: [exposure-3]

    >>> filter_pack_stops([], factors=[2.0, 4.0])
    3.0
    """
    for density in densities:
        at_least_zero(density, field="density", unit="", next_step="read it off the filter")
    for factor in factors:
        within(factor, low=1, high=1e6, field="filter_factor", unit="", next_step="2 stands for one stop")
    return total([density * STOPS_PER_DENSITY for density in densities] + [math.log2(f) for f in factors])


def close_up_loss_stops(magnification_ratio: float) -> float:
    """Return the light lost when the lens is racked out for an insert: 2 * log2(1 + m).

    Args:
        magnification_ratio: size on the sensor over size on the set [ratio], 0 or more.
    Returns: loss [stop]; lenses that breathe or focus inside differ.
    Raises: RuleError "not_a_number", "negative".
    Source: [exposure-4]

    >>> close_up_loss_stops(1.0)
    2.0
    """
    next_step = "sensor width over field width"
    at_least_zero(magnification_ratio, field="magnification_ratio", unit="", next_step=next_step)
    return 2.0 * math.log2(1.0 + magnification_ratio)
