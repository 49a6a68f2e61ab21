"""Lamps and booms seen in glass: where in a pane the mirror image stands, and how bright.

A pane is flat. The image of a lamp stands as far behind it as the lamp before it; the camera
sees it where its straight line to the image crosses the pane. Places: see vectors.py.
"""

import math

from .errors import RuleError
from .limits import above_zero, within
from .vectors import dot, length, minus

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .vectors import Vector

GLASS_INDEX = 1.52  # no unit, common window glass [reflection-1]


def reflection_point(
    *, camera: "Vector", lamp: "Vector", pane: "Vector", pane_normal: "Vector"
) -> "Vector | None":
    """Return the place in a pane's plane where the camera sees a lamp mirrored.

    Args:
        camera: the lens [m].
        lamp: the thing that may be seen [m].
        pane: any point of the pane [m].
        pane_normal: direction square to the pane, any length above 0 [m].
    Returns: place in the plane [m]; None when lens and lamp stand on two sides of it. Compare it with
        the pane's edges, and the frame's.
    Raises: RuleError "not_positive".
    Source: [geometry-1], law of reflection

    >>> place = reflection_point(
    ...     camera=(-1.0, 0.0, 0.0), lamp=(1.0, 0.0, 0.0), pane=(0.0, 0.0, 2.0), pane_normal=(0.0, 0.0, -1.0))
    >>> place
    (0.0, 0.0, 2.0)
    """
    size = above_zero(length(pane_normal), field="pane_normal", unit="m", next_step="give the way it faces")
    camera_height = dot(minus(camera, pane), pane_normal) / size
    lamp_height = dot(minus(lamp, pane), pane_normal) / size
    if camera_height * lamp_height <= 0:
        return None
    # Heights over the pane split the straight line from lens to image.
    along = camera_height / (camera_height + lamp_height)
    back = 2.0 * lamp_height / size
    image = minus(lamp, (pane_normal[0] * back, pane_normal[1] * back, pane_normal[2] * back))
    ray = minus(image, camera)
    return (camera[0] + along * ray[0], camera[1] + along * ray[1], camera[2] + along * ray[2])


def mirror_incidence_deg(*, camera: "Vector", place: "Vector", pane_normal: "Vector") -> float:
    """Return the angle between the camera's ray and the pane's normal at a place in the pane.

    Args:
        camera: the lens [m].
        place: as from reflection_point [m], not at the lens.
        pane_normal: direction square to the pane, any length above 0 [m].
    Returns: angle [deg], 0 to 90.
    Raises: RuleError "not_positive".
    Source: [geometry-1]

    >>> round(mirror_incidence_deg(camera=(-1.0, 0.0, 0.0), place=(0.0, 0.0, 1.0), pane_normal=(0.0, 0.0, -1.0)), 6)
    45.0
    """
    ray = minus(camera, place)
    sizes = length(ray) * length(pane_normal)
    above_zero(sizes, field="camera to pane", unit="m", next_step="the lens cannot stand in the pane")
    return math.degrees(math.acos(min(1.0, abs(dot(ray, pane_normal)) / sizes)))


def pane_reflectance_ratio(incidence_deg: float, *, refractive_index: float = GLASS_INDEX) -> float:
    """Return how much of a lamp's brightness both faces of a clear pane mirror: 2R / (1 + R).

    Args:
        incidence_deg: from the pane's normal [deg], 0 to 89.9.
        refractive_index: of the glass [no unit], above 1 to 3.
    Returns: luminance of the image over the lamp's own [ratio].
    Raises: RuleError "not_a_number", "outside_range", "index_too_low".
    Source: [reflection-1]

    >>> round(pane_reflectance_ratio(0.0, refractive_index=1.5), 4)
    0.0769
    """
    next_step = "measure it from the pane's normal"
    within(incidence_deg, low=0, high=89.9, field="incidence_deg", unit="deg", next_step=next_step)
    within(refractive_index, low=1, high=3, field="refractive_index", unit="", next_step="glass has 1.52")
    if refractive_index <= 1.0:
        raise RuleError(
            "index_too_low", "the index of refraction must be above 1; glass has 1.52", value=refractive_index
        )
    cosine, sine = math.cos(math.radians(incidence_deg)), math.sin(math.radians(incidence_deg))
    inside = math.sqrt(1.0 - sine * sine / (refractive_index * refractive_index))
    across = (cosine - refractive_index * inside) / (cosine + refractive_index * inside)
    along = (refractive_index * cosine - inside) / (refractive_index * cosine + inside)
    amount = 0.0
    for part in (across * across, along * along):  # each polarisation goes to and fro for itself
        amount += 2.0 * part / (1.0 + part)
    return amount / 2.0
