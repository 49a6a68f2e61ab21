"""A dimmer's percent against its light: what is stated, what two readings say, else a range.

Knows no point and no target. DI1 light is the percent, as a share of 1, to some power: 1 is straight, 2 is square;
what nobody said and no two readings show lies anywhere between straight and steep. DI2 a light that people
gave as such (`output_ratio`) outranks the percent.
"""

from tailslate.craft.dimmer import STEEPEST_POWER, STRAIGHT_POWER
from tailslate.craft.exposure import stops_between

TYPE_CHECKING = False
if TYPE_CHECKING:
    from tailslate.craft.ranges import Range
    from tailslate.day.gathered import Gathered

CURVES = {"straight": 1.0, "square": 2.0}  # power of the percent (definition of the two words)


def stated_power(source: str, records: "Gathered") -> "float | None":
    """Return the power that a source's stated curve is, None when nobody stated one.

    Args:
        source: record key of the source.
        records: the source.
    """
    return CURVES.get(records.text(source, "dimmer_curve"))


def output_ratio(level: str, source: str, records: "Gathered") -> "float | None":
    """Return the share of its light that a source lets through in a shot; 1 when nobody said that it is dimmed.

    Args:
        level: record key of the source in the shot.
        source: record key of the source.
        records: both.
    Returns: share [ratio]; None when only a percent is known, and no curve for it.
    """
    output, percent = records.number(level, "output_ratio"), records.number(level, "dimmer_percent")
    if output is not None:
        return output
    if percent is None or percent >= 100.0:
        return 1.0
    power = stated_power(source, records)
    if percent <= 0.0:
        return 0.0
    return None if power is None else (percent / 100.0) ** power


def power_of_readings(settings: "list[tuple[float, float]]") -> "float | None":
    """Return the power between the lowest and the highest of some settings, None when there are not two.

    Args:
        settings: list of (setting [ratio], light [any unit]), each above 0.
    """
    settings = sorted(settings)
    if len(settings) < 2:
        return None
    (low_setting, low_light), (high_setting, high_light) = settings[0], settings[-1]
    if not low_setting < high_setting or not low_light < high_light:
        return None
    return stops_between(high_light, reference=low_light) / stops_between(high_setting, reference=low_setting)


def light_change(was_ratio: float, now_ratio: float, power: "float | None") -> "Range":
    """Return the factor by which the light changes from one setting of a dimmer to another.

    Args:
        was_ratio: the setting then [ratio], above 0.
        now_ratio: the setting now [ratio].
        power: as `stated_power` or `power_of_readings` gives it; None gives a range.
    Returns: range [ratio].
    """
    step = now_ratio / was_ratio
    if power is not None:
        only = step**power
        return {"low": only, "typical": only, "high": only}
    ends = [step**STRAIGHT_POWER, step**STEEPEST_POWER]
    return {"low": min(ends), "typical": (ends[0] * ends[1]) ** 0.5, "high": max(ends)}


def setting(output: float, power: "float | None") -> "Range":
    """Return the setting that lets a share of the light through.

    Args:
        output: wanted share of the full light [ratio], 0 to 1.
        power: as for `light_change`.
    Returns: range [ratio].
    """
    if power is not None:
        only = output ** (1.0 / power)
        return {"low": only, "typical": only, "high": only}
    low, high = output ** (1.0 / STRAIGHT_POWER), output ** (1.0 / STEEPEST_POWER)
    return {"low": low, "typical": (low * high) ** 0.5, "high": high}
