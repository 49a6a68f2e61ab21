"""Points and directions as (right, up, forward) in metres, for photometry and lens geometry.

A source hangs at the origin and shines forward. Pan turns to the right, tilt turns upwards, so
one pair of angles means the same for a source, a face and a camera.
"""

import math

TYPE_CHECKING = False
if TYPE_CHECKING:
    Vector = tuple[float, float, float]


def minus(left: "Vector", right: "Vector") -> "Vector":
    """Return left - right.

    Args:
        left: point or direction [m].
        right: point or direction [m].
    Returns: the difference [m].
    Raises: nothing.
    Source: [geometry-1]

    >>> minus((1.0, 2.0, 3.0), (1.0, 1.0, 1.0))
    (0.0, 1.0, 2.0)
    """
    return (left[0] - right[0], left[1] - right[1], left[2] - right[2])


def dot(left: "Vector", right: "Vector") -> float:
    """Return the scalar product.

    Args:
        left: direction [m].
        right: direction [m].
    Returns: the product [m2].
    Raises: nothing.
    Source: [geometry-1]

    >>> dot((1.0, 2.0, 3.0), (1.0, 1.0, 1.0))
    6.0
    """
    return left[0] * right[0] + left[1] * right[1] + left[2] * right[2]


def cross(left: "Vector", right: "Vector") -> "Vector":
    """Return the vector product.

    Args:
        left: direction [m].
        right: direction [m].
    Returns: the product [m2], square to both.
    Raises: nothing.
    Source: [geometry-1]

    >>> cross((1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    (0.0, 0.0, 1.0)
    """
    return (
        left[1] * right[2] - left[2] * right[1],
        left[2] * right[0] - left[0] * right[2],
        left[0] * right[1] - left[1] * right[0],
    )


def length(vector: "Vector") -> float:
    """Return the length of a vector.

    Args:
        vector: point or direction [m].
    Returns: its length [m].
    Raises: nothing.
    Source: [geometry-1]

    >>> length((3.0, 0.0, 4.0))
    5.0
    """
    return math.sqrt(dot(vector, vector))


def turned(vector: "Vector", *, pan_deg: float, tilt_deg: float) -> "Vector":
    """Return a vector after tilting it upwards and then panning it to the right.

    Args:
        vector: point or direction before the turn [m].
        pan_deg: turn to the right [deg].
        tilt_deg: turn upwards [deg].
    Returns: point or direction after the turn [m].
    Raises: nothing.
    Source: [geometry-1]

    >>> right, up, forward = turned((0.0, 0.0, 1.0), pan_deg=90.0, tilt_deg=0.0)
    >>> abs(right - 1.0) < 1e-12
    True
    """
    pan, tilt = math.radians(pan_deg), math.radians(tilt_deg)
    right, up, forward = vector
    up, forward = (
        up * math.cos(tilt) + forward * math.sin(tilt),
        forward * math.cos(tilt) - up * math.sin(tilt),
    )
    return (
        right * math.cos(pan) + forward * math.sin(pan),
        up,
        forward * math.cos(pan) - right * math.sin(pan),
    )
