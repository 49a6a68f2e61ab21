"""What is known of a lamp and the layers before it, and what is still missing for a figure.

A fact that is not known is None. Missing facts are named one by one, with what to do; none is
filled in here. Facts that contradict each other are refused.
"""

from .beam import checked_beam_deg
from .layers import check_layer
from .limits import above_zero, at_least_zero, share
from .ranges import ENDS

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, TypedDict

    from .ranges import Range

    class Lamp(TypedDict, total=False):
        """A lamp: its peak intensity, its beam, and where it hangs."""

        intensity_cd: Range | None
        illuminance_lx: Range | None
        at_distance_m: float | None
        beam_deg: float | None
        gap_to_next_m: float | None

    class Layer(TypedDict, total=False):
        """A sheet or a louvre before a lamp. kind: sheet, louvre."""

        name: str
        kind: str
        transmittance_ratio: Range | None
        reflectance_ratio: Range | None
        direct_ratio: Range | None
        width_m: float | None
        height_m: float | None
        lit_width_m: float | None
        lit_height_m: float | None
        gap_to_next_m: float | None
        cell_depth_ratio: float | None
        shift_mired: Range | None

    class Fact(TypedDict):
        """A missing fact, or a question about the figure. layer: 0 the lamp, 1 the first layer, ..."""

        code: str
        field: str
        layer: int
        sentence: str


def missing(field: str, *, layer: int, sentence: str, code: str = "unknown") -> "Fact":
    """Return one missing fact or open question.

    Args:
        field: the field that is not known.
        layer: 0 for the lamp, 1 for the first layer, and so on; a count, no unit.
        sentence: what is missing and what to do.
        code: unknown, or the name of the question.
    Returns: dict, keys code, field, layer, sentence.
    Raises: nothing.
    Source: [refusal-1]

    >>> missing("beam_deg", layer=0, sentence="give it")["code"]
    'unknown'
    """
    return {"code": code, "field": field, "layer": layer, "sentence": sentence}


def is_clear(layer: "Layer") -> bool:
    """Return whether a layer scatters nothing (a gel): no new source, its frame does not matter.

    Args:
        layer: dict as Layer; direct_ratio [ratio, 0 to 1].
    Returns: True for a sheet whose light all goes straight on.
    Raises: nothing.
    Source: [light-7]

    >>> is_clear({"direct_ratio": {"low": 1.0, "typical": 1.0, "high": 1.0}})
    True
    """
    direct = layer.get("direct_ratio")
    return layer.get("kind", "sheet") == "sheet" and direct is not None and direct["low"] >= 1.0


def is_louvre(layer: "Layer") -> bool:
    """Return whether a layer is a louvre.

    Args:
        layer: dict as Layer; lengths [m].
    Returns: True for a louvre.
    Raises: nothing.
    Source: [light-9]

    >>> is_louvre({"kind": "louvre"})
    True
    """
    return layer.get("kind", "sheet") == "louvre"


def lamp_intensity_cd(lamp: "Lamp") -> "Range | None":
    """Return a lamp's peak intensity, from its own figure or from the light at a distance.

    Args:
        lamp: dict, key intensity_cd (range [cd]), or illuminance_lx (range [lx]) with at_distance_m [m].
    Returns: range [cd], or None when neither is known.
    Raises: RuleError "not_a_number", "not_positive".
    Source: [light-1]

    >>> seen = {"low": 90.0, "typical": 100.0, "high": 120.0}
    >>> lamp_intensity_cd({"illuminance_lx": seen, "at_distance_m": 3.0})["typical"]
    900.0
    """
    intensity, light = lamp.get("intensity_cd"), lamp.get("illuminance_lx")
    distance_m = lamp.get("at_distance_m")
    if intensity is not None or light is None or distance_m is None:
        return intensity
    above_zero(distance_m, field="at_distance_m", unit="m", next_step="measure lamp to meter")
    square = distance_m * distance_m
    return {
        "low": light["low"] * square,
        "typical": light["typical"] * square,
        "high": light["high"] * square,
    }


def _known_range(values: "Range | None", field: str, number: int, text: str) -> "list[Fact]":
    return [] if values is not None else [missing(field, layer=number, sentence=text)]


def _sheet_facts(
    layer: "Layer", number: int, *, is_first: bool, has_company: bool, has_beam: bool
) -> "list[Fact]":
    name = layer.get("name", f"layer {number}")
    facts = _known_range(
        layer.get("transmittance_ratio"),
        "transmittance_ratio",
        number,
        f"what {name} lets through is not known: pick its material, or measure with and without it",
    )
    if is_clear(layer):
        return facts
    facts += _known_range(
        layer.get("direct_ratio"),
        "direct_ratio",
        number,
        f"how much of the light goes straight through {name} is not known: pick its material",
    )
    for field in ("width_m", "height_m"):
        if layer.get(field) is None:
            sentence = f"the size of {name} is not known: measure its frame"
            facts.append(missing(field, layer=number, sentence=sentence))
    if has_company:
        facts += _known_range(
            layer.get("reflectance_ratio"),
            "reflectance_ratio",
            number,
            f"what {name} sends back is not known, and another sheet faces it: pick its material",
        )
    has_patch = layer.get("lit_width_m") is not None and layer.get("lit_height_m") is not None
    if is_first and not has_beam and not has_patch:
        sentence = (
            f"how much of {name} is lit is not known: give the lamp's beam angle or the lit width and height"
        )
        facts.append(missing("lit_width_m", layer=number, sentence=sentence))
    return facts


def missing_facts(lamp: "Lamp", *, layers: "list[Layer]") -> "list[Fact]":
    """Return what is still missing for a level behind these layers, nearest to the lamp first.

    Args:
        lamp: dict, keys intensity_cd (range [cd]), beam_deg [deg], gap_to_next_m [m].
        layers: list of dict as Layer, from the lamp on; lengths [m], shares [ratio].
    Returns: list of dict, keys code, field, layer, sentence; empty when all is known.
    Raises: nothing.
    Source: [refusal-1]

    >>> [fact["field"] for fact in missing_facts({"intensity_cd": None}, layers=[])]
    ['intensity_cd']
    """
    facts = _known_range(
        lamp_intensity_cd(lamp),
        "intensity_cd",
        0,
        "the lamp's intensity is not known: take a reading at a measured distance, or read its sheet",
    )
    sheet_count = len([layer for layer in layers if not is_louvre(layer) and not is_clear(layer)])
    has_beam = lamp.get("beam_deg") is not None
    is_first = True
    for number in range(1, len(layers) + 1):
        layer = layers[number - 1]
        before = layers[number - 2] if number > 1 else lamp
        if before.get("gap_to_next_m") is None:
            name = layer.get("name", f"layer {number}")
            sentence = f"the distance to {name} is not known: measure it along the beam"
            facts.append(missing("gap_to_next_m", layer=number - 1, sentence=sentence))
        if is_louvre(layer):
            facts += _louvre_facts(layer, number, layers)
            continue
        facts += _sheet_facts(
            layer, number, is_first=is_first, has_company=sheet_count > 1, has_beam=has_beam
        )
        is_first = is_first and is_clear(layer)
    return facts


def _louvre_facts(layer: "Layer", number: int, layers: "list[Layer]") -> "list[Fact]":
    facts: list[Fact] = []
    name = layer.get("name", f"layer {number}")
    if layer.get("cell_depth_ratio") is None:
        sentence = f"how deep the cells of {name} are against their width is not known: measure one cell"
        facts.append(missing("cell_depth_ratio", layer=number, sentence=sentence))
    if [after for after in layers[number:] if not is_clear(after)]:
        sentence = f"{name} has another layer after it, which has no model here: meter it at the face"
        facts.append(missing("kind", layer=number, sentence=sentence))
    return facts


def check_facts(lamp: "Lamp", *, layers: "list[Layer]") -> None:
    """Refuse facts that cannot be: negative lengths, shares over 1, sheets that make light.

    Args:
        lamp: dict, keys intensity_cd (range [cd]), beam_deg [deg], gap_to_next_m [m]; None is unknown.
        layers: list of dict as Layer, from the lamp on; lengths [m], shares [ratio]; None is unknown.
    Returns: nothing.
    Raises: RuleError "not_a_number", "not_positive", "negative", "outside_range", "layer_makes_light".
    Source: [refusal-1]

    >>> check_facts({"intensity_cd": None}, layers=[])
    """
    intensity: Any = lamp_intensity_cd(lamp)
    for end in ENDS if intensity is not None else ():
        next_step = "read it off the lamp's sheet"
        at_least_zero(intensity[end], field="intensity_cd", unit="cd", next_step=next_step)
    beam_deg = lamp.get("beam_deg")
    if beam_deg is not None:
        checked_beam_deg(beam_deg)
    gap_m = lamp.get("gap_to_next_m")
    if gap_m is not None and layers:
        above_zero(gap_m, field="gap_to_next_m", unit="m", next_step="measure lamp to first layer")
    for layer in layers:
        _check_layer_facts(layer)


def _check_layer_facts(layer: "Layer") -> None:
    for field in ("width_m", "height_m", "lit_width_m", "lit_height_m"):
        side_m = layer.get(field)
        if side_m is not None:
            above_zero(side_m, field=field, unit="m", next_step="measure the frame")  # type: ignore[arg-type]
    gap_m = layer.get("gap_to_next_m")
    if gap_m is not None:
        at_least_zero(gap_m, field="gap_to_next_m", unit="m", next_step="measure to the next layer")
    for field in ("transmittance_ratio", "reflectance_ratio", "direct_ratio"):
        values = layer.get(field)
        for end in ENDS if values is not None else ():
            share(values[end], field=field)  # type: ignore[index]
    passed, returned = layer.get("transmittance_ratio"), layer.get("reflectance_ratio")
    if passed is not None and returned is not None:
        # The high ends never hold together: a sheet that passes more returns less.
        for end in ("low", "typical"):
            check_layer(transmittance_ratio=passed[end], reflectance_ratio=returned[end])  # type: ignore[literal-required]
