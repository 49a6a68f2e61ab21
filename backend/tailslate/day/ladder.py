"""The ladder of a source: what is left after each layer, from the bare lamp on, in stops from the target.

Knows no readings but the one level of its point.
"""

from tailslate.craft.exposure import stops_between
from tailslate.day import names, shown, target

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered

    Level = dict[str, Any]


def of_source(
    key: str,
    model: "dict[str, Any]",
    group: "Level",
    is_alone: bool,
    target_lx: "float | None",
    records: "Gathered",
) -> "dict[str, Any]":
    """Return the stages of one source from the bare lamp on, in stops from the target.

    Args:
        key: record key of the source in the shot.
        model: as `chain.level` gives it.
        group: the level of its role at its point.
        is_alone: no other source has that role there.
        target_lx: the target [lx], None when not known.
        records: the source.
    Returns: dict, keys source, title, role, stages (list of dict, keys title, loss, level_low_stops,
        level_high_stops), reading_stops.
    """
    source = records.target(key, "source")
    stages = []
    for stage in model["stages"]:
        level, loss = stage["level_lx"], stage["loss_stops"]
        has_stops = target_lx is not None and level["low"] >= target.DARKEST_LX
        one: dict[str, Any] = {"title": stage["title"], "loss": None}
        if loss:
            words = shown.loss(loss["low"], loss["high"])
            one["loss"] = {"shown": words, "low": loss["low"], "high": loss["high"]}
        for end in ("low", "high"):
            stops = stops_between(level[end], reference=target_lx) if has_stops and target_lx else None
            one["level_" + end + "_stops"] = stops
        stages.append(one)
    is_read = is_alone and group["kind"] == "reading" and group["stops"]
    return {
        "source": source,
        "title": names.name_of(source, records),
        "role": group["role"],
        "stages": stages,
        "reading_stops": group["stops"]["low"] if is_read else None,
    }
