"""Meter readings of a shot: what each was taken for, whether that still burns, and what changed since.

Knows no model. D1 a reading remembers a digest of the live edits of the cells that decide its level; it
is fresh while they are the same ones. D2 a reading that says nothing of what it was taken for is not
fresh. D3 while the shot rolls, and once it is done, a reading stays: it is how the shot was lit.
"""

from tailslate.day import edit as edits
from tailslate.day import gathered, merge, names, shown

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered

    Reading = dict[str, Any]

ALL = "all"
# Cells that decide a level. What a person believes of a lamp or a sheet counts too: who corrects a
# material has most likely changed the sheet, and a reading asked once more costs little.
OF_LEVEL = ("on", "role", "point", "source", "distance_m", "off_axis_deg", "output_ratio", "dimmer_percent")
OF_SOURCE = (
    "lamp",
    "intensity_low_cd",
    "intensity_cd",
    "intensity_high_cd",
    "beam_deg",
    "height_m",
    "x_m",
    "y_m",
)
OF_LAYER = (
    "title", "type", "source", "order", "gap_m", "width_m", "height_m", "transmittance_low_ratio",
    "transmittance_ratio", "transmittance_high_ratio", "direct_low_ratio", "direct_ratio",
    "direct_high_ratio", "reflectance_ratio", "lit_share_ratio", "depth_to_width_ratio",
)  # fmt: skip
OF_POINT = ("height_m", "x_m", "y_m")
OF_SERVES = ("use", "point", "dressing")
OF_DRESSING = (
    "place", "material", "reflectance_low_ratio", "reflectance_ratio", "reflectance_high_ratio",
    "width_m", "depth_m", "tall_m", "base_height_m", "x_m", "y_m",
)  # fmt: skip
BOUNCED_ROLES = (ALL, "fill")  # readings in which dressing that lifts the point takes part


def cells_for(shot: str, point: str, role: str, records: "Gathered") -> "list[str]":
    """Return the cell keys that decide a level, sorted; only cells that anyone has set.

    Args:
        shot: record key of the shot.
        point: record key of the point.
        role: "all", or one role: key, fill, back, background, practical.
        records: the shot with what it reads.
    """
    wanted: list[tuple[str, tuple[str, ...]]] = [(point, OF_POINT)]
    for level in records.pointing("level", "shot", shot):
        if records.target(level, "point") == point and role in (ALL, records.text(level, "role")):
            source = records.target(level, "source")
            wanted += [(level, OF_LEVEL), (source, OF_SOURCE)]
            wanted += [(layer, OF_LAYER) for layer in records.pointing("layer", "source", source)]
    for serves in bouncing(shot, point, records) if role in BOUNCED_ROLES else ():
        wanted += [(serves, OF_SERVES), (records.target(serves, "dressing"), OF_DRESSING)]
    cells = set()
    for key, fields in wanted:
        for field in fields:
            if records.entry(key, field):
                cells.add(key + "/" + field)
    return sorted(cells)


def bouncing(shot: str, point: str, records: "Gathered") -> "list[str]":
    """Return the keys of what says that dressing lifts a point by its bounce in a shot."""
    found = []
    for serves in records.pointing("serves", "shot", shot):
        if records.text(serves, "use") == "bounce" and records.target(serves, "point") == point:
            if records.is_there(records.target(serves, "dressing")):
                found.append(serves)
    return found


def taken_for(shot: str, point: str, role: str, records: "Gathered") -> str:
    """Return what a reading taken now is for: a digest over the sorted live ids of its cells.

    Args:
        shot: record key of the shot.
        point: record key of the point.
        role: as for `cells_for`.
        records: the shot with what it reads.
    Returns: 16 characters, as in an edit's id.
    """
    ids = set()
    for cell_key in cells_for(shot, point, role, records):
        record = gathered.record_of(cell_key)
        ids.update(records.painted(record, cell_key[len(record) + 1 :]))
    return edits.id_digest("\n".join(sorted(ids)).encode("utf-8"))


def of_point(shot: str, point: str, role: str, records: "Gathered") -> "Reading | None":
    """Return the reading that stands for a role at a point: a fresh one before others, then the latest.

    Args:
        shot: record key of the shot.
        point: record key of the point.
        role: as for `cells_for`.
        records: the shot with what it reads.
    Returns: dict, keys record, lux, fresh, line ("read 14:06, Electric"), changed (list of sentences,
        why it is not fresh), at_ms; None when there is no reading.
    """
    now, best = "", None
    for key in records.pointing("reading", "shot", shot):
        number_lx = records.number(key, "illuminance_lx")
        same = records.target(key, "point") == point and (records.text(key, "role") or ALL) == role
        entry = records.entry(key, "illuminance_lx")
        if not same or number_lx is None or not entry:
            continue
        now = now or taken_for(shot, point, role, records)
        made = _reading(key, number_lx, entry, now, records)
        if best is None or _rank(made) > _rank(best):
            best = made
    if best and not best["fresh"]:
        best["changed"] = best["changed"] or _changed_since(best, shot, point, role, records)
    return best


def _rank(one: "Reading") -> "tuple[bool, int, str]":
    return (one["fresh"], one["at_ms"], one["record"])


def _reading(key: str, number_lx: float, entry: "list[Any]", now: str, records: "Gathered") -> "Reading":
    at_ms = entry[gathered.AT_MS]
    when = records.text(key, "taken_time") or shown.clock(at_ms, records.utc_offset_min)
    cell = records.cell(key, "illuminance_lx")
    is_split = bool(cell) and cell is not None and cell[merge.MARK] == merge.TWO
    fresh = records.text(key, "taken_for") == now or not records.asks_again
    changed = []
    if is_split:
        changed.append("the reading has two answers: pick one, or read again")
    elif not records.text(key, "taken_for"):
        changed.append("nobody said what burned when it was taken: read again")
    return {
        "record": key,
        "lux": number_lx,
        "fresh": fresh and not is_split,
        "line": "read " + when + ", " + names.who(entry, records),
        "changed": changed,
        "at_ms": at_ms,
    }


def _changed_since(reading: "Reading", shot: str, point: str, role: str, records: "Gathered") -> "list[str]":
    newer = []
    for cell_key in cells_for(shot, point, role, records):
        record = gathered.record_of(cell_key)
        field = cell_key[len(record) + 1 :]
        entry = records.entry(record, field)
        is_end = "_low_" in field or "_high_" in field  # the typical value says it
        if entry and entry[gathered.AT_MS] > reading["at_ms"] and not is_end:
            newer.append((-entry[gathered.AT_MS], cell_key, record, field, entry))
    sentences = []
    for _age, cell_key, record, field, entry in sorted(newer, key=lambda one: one[:2]):
        words = names.value_words(record, field, entry[gathered.VALUE], records)
        sentences.append(names.signed(names.cell_name(cell_key, records) + ": now " + words, entry, records))
    return sentences or ["what stands before the point has changed since"]
