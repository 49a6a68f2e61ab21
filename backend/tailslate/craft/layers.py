"""Sheets one behind another: what a stack passes, and why it loses less than the added stops.

Light that a sheet sends back is partly sent forward again by the sheet before it. The classic
result holds for parallel sheets close together; with open sides between them part of it leaks,
and the exchange share says how much comes back (see form_factors.py).
"""

from .errors import RuleError
from .exposure import loss_stops
from .limits import share
from .rounding import compare, plain_text, total


def check_layer(*, transmittance_ratio: float, reflectance_ratio: float) -> None:
    """Refuse a sheet that would give back more light than it takes.

    Args:
        transmittance_ratio: share that comes out on the far side [ratio, 0 to 1].
        reflectance_ratio: share that is sent back [ratio, 0 to 1].
    Returns: nothing.
    Raises: RuleError "not_a_number", "outside_range", "layer_makes_light".
    Source: [light-7]

    >>> check_layer(transmittance_ratio=0.6, reflectance_ratio=0.4)
    """
    share(transmittance_ratio, field="transmittance_ratio")
    share(reflectance_ratio, field="reflectance_ratio")
    amount = transmittance_ratio + reflectance_ratio
    if compare(amount, 1.0) > 0:
        sentence = (
            f"transmittance_ratio and reflectance_ratio together must not exceed 1, got {plain_text(amount)}; "
            "a sheet makes no light: measure one of them again"
        )
        raise RuleError("layer_makes_light", sentence, value=amount, limit=1)


def returned_ratio(
    *, transmittance_ratio: float, reflectance_ratio: float, behind_ratio: float, exchange_ratio: float
) -> float:
    """Return what a sheet with others behind it sends back to light from its far side.

    R = r + t**2 * R' * x / (1 - r * R' * x), with R' what lies behind and x the exchange there and back.

    Args:
        transmittance_ratio: of this sheet [ratio, 0 to 1].
        reflectance_ratio: of this sheet [ratio, 0 to 1].
        behind_ratio: what the stack behind it returns [ratio, 0 to 1]; 0 for none.
        exchange_ratio: share that crosses the gap, there and back [ratio, 0 to 1].
    Returns: reflectance of the whole from the far side [ratio].
    Raises: RuleError "no_way_out".
    Source: [light-7]

    >>> returned_ratio(transmittance_ratio=0.5, reflectance_ratio=0.4, behind_ratio=0.0, exchange_ratio=1.0)
    0.4
    """
    back = behind_ratio * exchange_ratio
    gain = return_gain(
        reflectance_ratio=reflectance_ratio, behind_ratio=behind_ratio, exchange_ratio=exchange_ratio
    )
    return reflectance_ratio + transmittance_ratio * transmittance_ratio * back * gain


def return_gain(*, reflectance_ratio: float, behind_ratio: float, exchange_ratio: float) -> float:
    """Return how much brighter two facing surfaces make the light between them: 1 / (1 - r * R * x).

    Args:
        reflectance_ratio: of the surface that is lit [ratio, 0 to 1].
        behind_ratio: of what faces it [ratio, 0 to 1].
        exchange_ratio: share of the light that gets across and back [ratio, 0 to 1].
    Returns: gain [ratio], 1 or more.
    Raises: RuleError "no_way_out" when nothing is lost between the two.
    Source: [light-7]

    >>> return_gain(reflectance_ratio=0.5, behind_ratio=0.5, exchange_ratio=1.0)
    1.3333333333333333
    """
    kept = reflectance_ratio * behind_ratio * exchange_ratio
    if compare(kept, 1.0) >= 0:
        sentence = (
            "two facing surfaces of reflectance 1 would never let the light out; "
            "measure their reflectance_ratio, it is under 1"
        )
        raise RuleError("no_way_out", sentence, value=kept, limit=1)
    return 1.0 / (1.0 - kept)


def stacked_transmittance_ratio(
    transmittances: list[float], *, reflectances: list[float], exchange_ratio: float = 1.0
) -> float:
    """Return what a stack of scattering sheets passes: T = T' * t / (1 - R' * r), sheet after sheet.

    Args:
        transmittances: of each sheet from the lamp on [ratio, 0 to 1].
        reflectances: of each sheet in the same order [ratio, 0 to 1].
        exchange_ratio: share that crosses each gap there and back [ratio]; 1 for sheets close together.
    Returns: transmittance of the stack [ratio].
    Raises: RuleError "not_a_number", "outside_range", "layer_makes_light", "lengths_differ", "no_way_out".
    Source: [light-7]

    >>> round(stacked_transmittance_ratio([0.5, 0.5], reflectances=[0.4, 0.4]), 6)
    0.297619
    """
    if len(transmittances) != len(reflectances):
        sentence = "each sheet needs a transmittance_ratio and a reflectance_ratio; fill in the missing ones"
        raise RuleError("lengths_differ", sentence, value=len(reflectances), limit=len(transmittances))
    passed, behind = 1.0, 0.0
    for index, transmittance in enumerate(transmittances):
        reflectance = reflectances[index]
        check_layer(transmittance_ratio=transmittance, reflectance_ratio=reflectance)
        gain = return_gain(reflectance_ratio=reflectance, behind_ratio=behind, exchange_ratio=exchange_ratio)
        passed *= transmittance * gain
        behind = returned_ratio(
            transmittance_ratio=transmittance,
            reflectance_ratio=reflectance,
            behind_ratio=behind,
            exchange_ratio=exchange_ratio,
        )
    return passed


def overstated_stops(transmittances: list[float], *, reflectances: list[float]) -> float:
    """Return by how many stops the added losses of single sheets overstate the stack's loss.

    Args:
        transmittances: of each sheet from the lamp on [ratio, above 0 to 1].
        reflectances: of each sheet in the same order [ratio, 0 to 1].
    Returns: difference [stop], 0 or more.
    Raises: RuleError "not_a_number", "not_positive", "outside_range", "layer_makes_light", "lengths_differ".
    Source: [light-7]

    >>> round(overstated_stops([0.5, 0.5], reflectances=[0.4, 0.4]), 4)
    0.2515
    """
    together = loss_stops(stacked_transmittance_ratio(transmittances, reflectances=reflectances))
    return total([loss_stops(transmittance) for transmittance in transmittances]) - together
