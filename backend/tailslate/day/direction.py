"""Where light comes from at a point: around and from what height, in the room and as the camera sees it.

Knows no levels. Places are told from the origin that the crew agreed on (see viewpoint.py); what hangs last before a
lamp is where its light comes from. Nobody placed it: not known.
"""

from tailslate.craft.bearing import HALF_TURN_DEG, around_deg, up_deg, within_half_turn_deg
from tailslate.craft.rounding import compare, decimal_text
from tailslate.day import chain

TYPE_CHECKING = False
if TYPE_CHECKING:
    from tailslate.day.gathered import Gathered

    Ends = tuple[float, float]
    Place = tuple[float, float, float | None]

ROOM, CAMERA, HEIGHT = "in the room", "as the camera sees it", "up and down"


def of_shot(shot: str, records: "Gathered") -> "dict[tuple[str, str], dict[str, Ends | None]]":
    """Return where the light of each role comes from at each point, as the ends of a range.

    Args:
        shot: record key of the shot.
        records: the shot with what it reads.
    Returns: (record key of the point, role) to dict: ROOM (turned to the right from straight away [deg]), CAMERA (to
        the right of the camera as the point sees it [deg], 180 is from behind) and HEIGHT (up from level [deg]); None
        when one of its sources or the camera is not placed, or they are all round.
    """
    setup = records.target(shot, "setup")
    camera = _place(setup, "camera_height_m", records) if setup else None
    found: dict[tuple[str, str], dict[str, Ends | None]] = {}
    lamps: dict[tuple[str, str], list[str]] = {}
    for level in records.pointing("level", "shot", shot):
        if records.text(level, "on") != "no":
            group = (records.target(level, "point"), records.text(level, "role"))
            lamps.setdefault(group, []).append(records.target(level, "source"))
    for group in lamps:
        there = _place(group[0], "height_m", records)
        seen = [_seen(there, _lamp(one, records)) for one in lamps[group]]
        around = _ends([one[0] for one in seen])
        found[group] = {
            ROOM: around,
            CAMERA: _turned(around, _seen(there, camera)[0]),
            HEIGHT: _ends([one[1] for one in seen]),
        }
    return found


def _place(key: str, height: str, records: "Gathered") -> "Place | None":
    x_m, y_m = records.number(key, "x_m"), records.number(key, "y_m")
    return None if x_m is None or y_m is None else (x_m, y_m, records.number(key, height))


def _lamp(source: str, records: "Gathered") -> "Place | None":
    """Return where the light of a source comes from: its last sheet that spreads it, else the lamp."""
    for layer in reversed(chain.layers_of(source, records)):
        placed = _place(layer, "centre_height_m", records)
        if placed and records.text(layer, "type") == "diffusion":
            return placed
    return _place(source, "height_m", records)


def _seen(point: "Place | None", what: "Place | None") -> "tuple[float | None, float | None]":
    """Return around and up [deg], each None when it is not known."""
    if point is None or what is None:
        return None, None
    right_m, away_m = what[0] - point[0], what[1] - point[1]
    around = around_deg(right_m, away_m)
    if point[2] is None or what[2] is None:
        return around, None
    return around, up_deg(what[2] - point[2], right_m=right_m, away_m=away_m)


def _ends(angles: "list[float | None]") -> "Ends | None":
    known = [one for one in angles if one is not None]
    if not known or len(known) < len(angles):
        return None
    offs = [within_half_turn_deg(one - known[0]) for one in known]
    ends = (known[0] + min(offs), known[0] + max(offs))
    return None if compare(ends[1] - ends[0], HALF_TURN_DEG) >= 0 else ends


def _turned(ends: "Ends | None", by: "float | None") -> "Ends | None":
    """Return ends as seen with the camera straight ahead: its right hand is the point's left."""
    if ends is None or by is None:
        return None
    low = within_half_turn_deg(by - ends[1])
    return (low, low + ends[1] - ends[0])


def difference_deg(now: "Ends", then: "Ends") -> "Ends":
    """Return the ends of what now is turned from then [deg].

    Args:
        now: ends of a range [deg].
        then: ends of a range [deg].

    >>> difference_deg((170.0, 170.0), (-170.0, -170.0))
    (-20.0, -20.0)
    """
    low = within_half_turn_deg(now[0] - then[1])
    return (low, low + (now[1] - now[0]) + (then[1] - then[0]))


def words(about: str, ends: "Ends | None", unknown: str) -> str:
    """Return a direction in words: "30 deg right", "12 to 20 deg up".

    Args:
        about: ROOM, CAMERA or HEIGHT.
        ends: ends of the range [deg], None when not known.
        unknown: what to say then.
    """
    if ends is None:
        return unknown
    low, high = within_half_turn_deg(ends[0]), within_half_turn_deg(ends[1])
    if about == HEIGHT:
        told = [_side(one, "up", "down") for one in (low, high)]
    else:
        told = [_side(one, "right", "left") for one in (low, high)]
    return told[0] if told[0] == told[1] else told[0] + " to " + told[1]


def _side(angle_deg: float, more: str, less: str) -> str:
    size = decimal_text(abs(angle_deg), 0)
    return size + "\u00b0" + ("" if size == "0" else " " + (more if angle_deg > 0 else less))
