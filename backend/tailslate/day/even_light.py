"""Lamps that pulse against the shutter, and flashing effects. Records -> figures.

A test with the camera decides. A lamp of which nobody said how it pulses may pulse at twice the mains.
"""

from tailslate.craft import flicker
from tailslate.craft.rounding import compare, decimal_text
from tailslate.day import figures, names, rows, shown
from tailslate.day.figures import OVER, UNKNOWN, WITHIN, Facts

TYPE_CHECKING = False
if TYPE_CHECKING:
    from tailslate.day.figures import Figure, Missing
    from tailslate.day.gathered import Gathered

SEEN_RATIO = 0.02  # swing from frame to frame that is seen (common practice, no source)


def of_shot(shot: str, records: "Gathered") -> "list[Figure]":
    """Return how even the light of a shot's lamps is at its shutter.

    Args:
        shot: record key of the shot.
        records: the shot with what it reads.
    Returns: list of dict as in `figures.plain`, one for each way of pulsing, one for each flashing source.
    """
    pulsing: dict[float, list[str]] = {}
    is_said: dict[float, bool] = {}
    found: list[Figure] = []
    missing: list[Missing] = []
    for source in rows.sources(shot, records):
        pulse_hz = records.number(source, "pulse_hz")
        facts = Facts(records.target(source, "circuit"), records)
        mains_hz = facts.known("mains_hz") if facts.key else None
        if pulse_hz is None and mains_hz is None and facts.key:
            facts.miss("mains_hz", names.name_of(facts.key, records) + ": say the frequency, 50 or 60 Hz")
            missing.extend([one for one in facts.missing if one not in missing])
        elif pulse_hz is not None or mains_hz is not None:
            rate_hz = pulse_hz if pulse_hz is not None else 2.0 * (mains_hz or 0.0)
            pulsing.setdefault(rate_hz, []).append(names.name_of(source, records))
            is_said[rate_hz] = is_said.get(rate_hz, False) or pulse_hz is not None
        flashes = records.number(source, "flashes_per_s")
        if flashes is not None:
            found.append(figures.tried("Flashes", _flashes, source, flashes, records, caution="flash"))
    for rate_hz in sorted(pulsing):
        asked = (shot, rate_hz, pulsing[rate_hz], is_said[rate_hz], records)
        found.append(figures.tried("Even light", _even, *asked))
    if missing:
        found.append(figures.unknown("Even light", missing))
    return found


def _even(shot: str, rate_hz: float, lamps: "list[str]", is_said: bool, records: "Gathered") -> "Figure":
    facts, label = Facts(shot, records), "Even light"
    angle_deg, frame_rate = facts.number("shutter_angle_deg"), facts.number("frame_rate_per_s")
    if angle_deg is None or frame_rate is None:
        return figures.unknown(label, facts.missing)
    pulses = flicker.pulses_per_exposure(angle_deg, frame_rate_per_s=frame_rate, pulse_hz=rate_hz)
    swing = flicker.exposure_swing_ratio(pulses)
    line = ", ".join(lamps) + ": " + shown.figure(rate_hz, "Hz") + " pulses"
    if compare(swing, SEEN_RATIO) <= 0:
        words = "even at " + shown.figure(angle_deg, "deg")
        return figures.plain(
            label, words, line + "; a test with the camera decides", state=WITHIN, value=swing
        )
    words = "uneven at " + shown.figure(angle_deg, "deg") + " if it pulses fully"
    line += "; up to " + decimal_text(swing * 100.0, 0) + " % from frame to frame"
    # Whole pulses of this rate: as the even angles of mains at half of it.
    angles = flicker.even_angles_deg(frame_rate, mains_hz=rate_hz / 2.0)
    if angles:
        near = sorted(angles, key=lambda one: (abs(one - angle_deg), one))[:2]
        line += "; even at " + " and ".join([shown.figure(one, "deg") for one in sorted(near)])
    state = OVER if is_said else UNKNOWN
    return figures.plain(label, words, line + "; a test with the camera decides", state=state, value=swing)


def _flashes(source: str, flashes_per_s: float, records: "Gathered") -> "Figure":
    words = shown.figure(flashes_per_s, "1/s")
    line = names.name_of(source, records) + ": ask everyone before it starts, also at a slow rate"
    if flicker.needs_flash_warning(flashes_per_s):
        line = names.name_of(source, records) + ": over three a second, warn everyone on the set beforehand"
        return figures.plain("Flashes", words, line, caution="flash", state=OVER, value=flashes_per_s)
    return figures.plain("Flashes", words, line, caution="flash", value=flashes_per_s)
