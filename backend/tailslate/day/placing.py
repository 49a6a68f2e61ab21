"""A place on the set's floor, from how far and which way it lies from something that has a place."""

from tailslate.craft.errors import RuleError
from tailslate.craft.rounding import decimal_text
from tailslate.craft.vectors import turned
from tailslate.day import shown
from tailslate.day.gathered import kind_of, number_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered


def away_from(
    key: str, distance: str, angle: str, records: "Gathered", *, units: str = "metric"
) -> "dict[str, Any]":
    """Return x_m and y_m of what lies so far from a thing, so many degrees to the right.

    From a set-up the angle counts from where its lens looks, from all else from away from the origin (up the plan).

    Args:
        key: record key of the thing.
        distance: as typed.
        angle: as typed, "" for straight on.
        records: the thing.
        units: how a bare figure is meant.
    Raises: RuleError "not_placed", and what a quantity that cannot be read raises.
    """
    at = (records.number(key, "x_m"), records.number(key, "y_m"))
    if at[0] is None or at[1] is None:
        raise RuleError(
            "not_placed", "that thing has no place itself; place it first, or choose another", record=key
        )
    far_m = number_of(shown.read_typed("setup", "camera_distance_m", distance, units)["value"]) or 0.0
    turn_deg = number_of(shown.read_typed("setup", "pan_deg", angle or "0", units)["value"]) or 0.0
    if kind_of(key) == "setup":
        turn_deg += records.number(key, "pan_deg") or 0.0
    right, _up, away = turned((0.0, 0.0, far_m), pan_deg=turn_deg, tilt_deg=0.0)
    placed = {}
    for field, value in (("x_m", at[0] + right), ("y_m", at[1] + away)):
        text = decimal_text(value, 2)
        placed[field] = [text, text + " m"]
    return placed
