"""Lamps on the mains and pulsed lamps against the shutter: which exposures are even.

Light on alternating current pulses at twice the mains frequency. An exposure that holds whole
pulses looks even whatever its phase; others beat. A test with the camera decides (common practice).
"""

from .exposure import exposure_time_s
from .limits import above_zero
from .rounding import compare, round_half_up

FLASHES_PER_SECOND_CAUTION = 3.0  # 1/s, more can harm people with photosensitive epilepsy [flicker-2]


def even_angles_deg(frame_rate_per_s: float, *, mains_hz: float) -> list[float]:
    """Return the shutter angles whose exposure holds whole pulses: 360 * fps * n / (2 * f).

    Args:
        frame_rate_per_s: frames taken per second [1/s], above 0.
        mains_hz: mains frequency [Hz], above 0.
    Returns: angles up to 360 [deg], smallest (one pulse) first; empty at high frame rates.
    Raises: RuleError "not_a_number", "not_positive".
    Source: [flicker-1]

    >>> even_angles_deg(24.0, mains_hz=60.0)
    [72.0, 144.0, 216.0, 288.0, 360.0]
    """
    above_zero(frame_rate_per_s, field="frame_rate_per_s", unit="1/s", next_step="read it off the camera")
    above_zero(mains_hz, field="mains_hz", unit="Hz", next_step="50 or 60, by country")
    one_pulse_deg = 360.0 * frame_rate_per_s / (2.0 * mains_hz)
    angles: list[float] = []
    while compare(one_pulse_deg * (len(angles) + 1), 360.0) <= 0:
        angles.append(one_pulse_deg * (len(angles) + 1))
    return angles


def pulses_per_exposure(shutter_angle_deg: float, *, frame_rate_per_s: float, pulse_hz: float) -> float:
    """Return how many pulses of a lamp fall into one exposure.

    Args:
        shutter_angle_deg: open shutter angle [deg], above 0 to 360.
        frame_rate_per_s: frames taken per second [1/s], above 0.
        pulse_hz: pulses per second [Hz], above 0: twice the mains, or a dimmer's own frequency.
    Returns: pulses (no unit).
    Raises: RuleError "not_a_number", "not_positive", "outside_range".
    Source: [flicker-1]

    >>> pulses_per_exposure(180.0, frame_rate_per_s=25.0, pulse_hz=100.0)
    2.0
    """
    above_zero(pulse_hz, field="pulse_hz", unit="Hz", next_step="read it off the dimmer's sheet")
    return exposure_time_s(shutter_angle_deg, frame_rate_per_s=frame_rate_per_s) * pulse_hz


def exposure_swing_ratio(pulses: float) -> float:
    """Return how far exposures can differ for a lamp that is fully on or fully off, at worst.

    Whole pulses give 0; between, one exposure may catch one pulse more than the next: at most 1 in n.

    Args:
        pulses: pulses in one exposure (no unit), above 0.
    Returns: largest difference over the mean exposure [ratio]; lamps that only ripple swing less.
    Raises: RuleError "not_a_number", "not_positive".
    Source: [flicker-1]

    >>> exposure_swing_ratio(2.0), exposure_swing_ratio(2.5)
    (0.0, 0.4)
    """
    above_zero(pulses, field="pulses", unit="pulses", next_step="check shutter and frequency")
    is_whole = compare(pulses, round_half_up(pulses, 0)) == 0
    return 0.0 if is_whole else 1.0 / pulses


def beat_hz(frame_rate_per_s: float, *, pulse_hz: float) -> float:
    """Return how fast uneven exposures come and go on screen: the beat of pulses and frames.

    Args:
        frame_rate_per_s: frames taken per second [1/s], above 0.
        pulse_hz: pulses per second [Hz], above 0.
    Returns: beats per second [Hz]; 0 when each frame sees the same phase.
    Raises: RuleError "not_a_number", "not_positive".
    Source: [flicker-1]

    >>> beat_hz(24.0, pulse_hz=100.0), beat_hz(25.0, pulse_hz=100.0)
    (4.0, 0.0)
    """
    above_zero(frame_rate_per_s, field="frame_rate_per_s", unit="1/s", next_step="read it off the camera")
    above_zero(pulse_hz, field="pulse_hz", unit="Hz", next_step="twice the mains frequency")
    return abs(pulse_hz - frame_rate_per_s * round_half_up(pulse_hz / frame_rate_per_s, 0))


def needs_flash_warning(flashes_per_s: float) -> bool:
    """Return whether a flashing effect is fast enough to warn everyone on the set beforehand.

    Args:
        flashes_per_s: flashes per second [1/s], above 0.
    Returns: True above three a second. False is not a promise: ask people all the same.
    Raises: RuleError "not_a_number", "not_positive".
    Source: [flicker-2]

    >>> needs_flash_warning(8.0)
    True
    """
    above_zero(flashes_per_s, field="flashes_per_s", unit="1/s", next_step="count them")
    return compare(flashes_per_s, FLASHES_PER_SECOND_CAUTION) > 0
