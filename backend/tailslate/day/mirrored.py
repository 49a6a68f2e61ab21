"""Lamps, and the camera itself, seen in flat glass. Records -> where the mirror image falls.

A pane is upright and flat. Bent glass, cutlery and varnish are for the eye: camera walks the reflections.
"""

from tailslate.craft import in_picture
from tailslate.craft.exposure import loss_stops
from tailslate.craft.reflections import mirror_incidence_deg, pane_reflectance_ratio, reflection_point
from tailslate.craft.rounding import compare, decimal_text
from tailslate.craft.vectors import turned
from tailslate.day import names
from tailslate.day.figures import Facts
from tailslate.day.standing import LAMP, LAMP_SIDE_M

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.craft.vectors import Vector
    from tailslate.day.gathered import Gathered

    Pane = dict[str, Any]


def panes(things: "list[dict[str, Any]]", records: "Gathered") -> "tuple[list[Pane], list[dict[str, str]]]":
    """Return the panes among the dressing that stands on the set, and what is missing of them.

    Args:
        things: as `standing.of_shot` gives them.
        records: the dressing.
    Returns: list of dict, keys record, title, middle (place at its lower edge), across and normal (directions),
        half_m, tall_m; and list of dict, keys record, field, sentence.
    """
    found, missing = [], []
    for one in things:
        key = one["record"]
        if records.text(key, "glass") != "yes":
            continue
        facts = Facts(key, records)
        faces_deg = facts.number("faces_deg", "say which way the glass faces")
        base_m, tall_m = facts.number("base_height_m"), facts.number("tall_m")
        width_m = facts.number("width_m")
        missing.extend(facts.missing + ([] if one["place"] else one["missing"]))
        if one["place"] is None or faces_deg is None or base_m is None or tall_m is None or width_m is None:
            continue
        pane: Pane = {"record": key, "title": one["title"], "half_m": width_m / 2.0, "tall_m": tall_m}
        pane["middle"] = (one["place"][0], base_m, one["place"][1])
        pane["normal"] = turned((0.0, 0.0, 1.0), pan_deg=faces_deg, tilt_deg=0.0)
        pane["across"] = turned((1.0, 0.0, 0.0), pan_deg=faces_deg, tilt_deg=0.0)
        found.append(pane)
    return found, missing


def seen(
    cameras: "list[dict[str, Any]]", things: "list[dict[str, Any]]", found: "list[Pane]", records: "Gathered"
) -> "list[dict[str, Any]]":
    """Return the mirror images that the camera sees.

    Args:
        cameras: as `viewpoint.positions` gives them.
        things: as `standing.of_shot` gives them; lamps are looked for, and the camera itself.
        found: as `panes` gives them.
        records: the shot with what it reads.
    Returns: list of dict, keys record (the pane), source (record key, "" for the camera), title, at (start,
        middle, end), sentence, right and up (place in the picture, in halves of it).
    """
    lamps: list[tuple[str, str, Vector]] = []
    for one in things:
        if one["what"] == LAMP and one["place"] and one["boxes"]:
            low_m, tall_m, _half = one["boxes"][0]
            lamps.append(
                (one["record"], one["title"], (one["place"][0], low_m + tall_m / 2.0, one["place"][1]))
            )
    images: list[dict[str, Any]] = []
    for pane in found:
        for camera in cameras:
            for record, title, place in lamps + [("", "the camera", camera["lens"])]:
                image = _image(pane, camera, place)
                if image and not [
                    one for one in images if one["record"] == pane["record"] and one["source"] == record
                ]:
                    image.update({"record": pane["record"], "source": record, "at": camera["name"]})
                    image["title"] = title + " in " + names.name_of(pane["record"], records)
                    images.append(image)
    return images


def _image(pane: "Pane", camera: "dict[str, Any]", lamp: "Vector") -> "dict[str, Any] | None":
    """Return where the camera sees a lamp in a pane, None when it does not."""
    where = {"camera": camera["lens"], "pane_normal": pane["normal"]}
    place = reflection_point(lamp=lamp, pane=pane["middle"], **where)
    if place is None:
        return None
    right, up, forward = (
        place[0] - pane["middle"][0],
        place[1] - pane["middle"][1],
        place[2] - pane["middle"][2],
    )
    aside = right * pane["across"][0] + forward * pane["across"][2]
    spare_m = LAMP_SIDE_M / 2.0  # a lamp is no point
    is_across = compare(abs(aside), pane["half_m"] + spare_m) <= 0
    if not is_across or compare(up, -spare_m) < 0 or compare(up, pane["tall_m"] + spare_m) > 0:
        return None
    seen_at = in_picture.upright_in_picture(camera["view"], foot=place, height_m=0.0, half_width_m=0.0)
    if seen_at["state"] == "out":
        return None
    passed = pane_reflectance_ratio(min(89.9, mirror_incidence_deg(place=place, **where)))
    sentence = "in frame" if seen_at["state"] == "in" else "at the edge of the frame"
    sentence += (
        ", about " + decimal_text(loss_stops(passed), 1) + " stops under the thing itself in clear glass, "
    )
    sentence += "as bright in a mirror"
    return {"sentence": sentence, "right": seen_at["left"], "up": seen_at["top"]}
