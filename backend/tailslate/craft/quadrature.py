"""Places and weights to integrate over a stretch that has a kink at 0: six-point Gauss-Legendre a side."""

# Nodes and weights on 0..1, no unit [light-8].
_NODES = (
    (0.033765242898424, 0.085662246189585),
    (0.169395306766868, 0.180380786524069),
    (0.380690406958402, 0.233956967286346),
    (0.619309593041598, 0.233956967286346),
    (0.830604693233132, 0.180380786524069),
    (0.966234757101576, 0.085662246189585),
)


def places(low: float, high: float) -> list[tuple[float, float]]:
    """Return places and weights from low to high, split at 0 where the integrand may have a kink.

    Args:
        low: start of the stretch, in any unit.
        high: its end, in the same unit; under low there is nothing.
    Returns: list of (place, weight), both in that unit.
    Raises: nothing.
    Source: [light-8]

    >>> round(sum([weight * place * place for place, weight in places(-3.0, 3.0)]), 9)
    18.0
    """
    found: list[tuple[float, float]] = []
    for start, end in ((low, min(high, 0.0)), (max(low, 0.0), high)):
        if end > start:
            for node, weight in _NODES:
                found.append((start + (end - start) * node, (end - start) * weight))
    return found
