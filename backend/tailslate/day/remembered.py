"""What a reading remembers of what burned: the values that people move, and what described lamp and sheets.

Knows no model. The text of a reading's field `taken_for` is a digest (see readings.py), then a line for each
fact: a cell key, a space and its value; for a lamp and for each sheet, "kind/id/edits" and a digest of the live
answers that describe it. RE1 stored values only, never a computed figure. RE2 a lamp or a sheet that is described
otherwise is another one: what is remembered of it says nothing any more; one that was tried and put back is itself.
"""

from tailslate.day import edit as edits
from tailslate.day import gathered, kinds, merge
from tailslate.day.gathered import Gathered

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    Facts = dict[str, dict[str, str]]

DIGEST_LENGTH = 16
TEXT_LIMIT_BYTES = 3900  # of a long text, with room for the digest
EDITS = "edits"
MOVED_LEVEL = ("source", "on", "distance_m", "off_axis_deg", "output_ratio", "dimmer_percent")
MOVED_LAYER = ("gap_m",)
OF_LAMP = ("lamp", "intensity_low_cd", "intensity_cd", "intensity_high_cd", "beam_deg", "dimmer_curve")
OF_SHEET = (
    "title", "type", "source", "order", "width_m", "height_m", "transmittance_low_ratio", "transmittance_ratio",
    "transmittance_high_ratio", "direct_low_ratio", "direct_ratio", "direct_high_ratio", "reflectance_ratio",
    "lit_share_ratio", "depth_to_width_ratio",
)  # fmt: skip
OF_SERVES = ("dressing", "point", "bounces_from", "near_m", "lit_at", "covered_ratio")
OF_DRESSING = (
    "title", "reflectance_low_ratio", "reflectance_ratio", "reflectance_high_ratio", "width_m", "depth_m",
    "tall_m", "base_height_m", "x_m", "y_m", "glass",
)  # fmt: skip


def lines(levels: "list[str]", bounces: "list[str]", records: "Gathered") -> "list[str]":
    """Return the lines that a reading taken now keeps; none when they would not fit into its field.

    Args:
        levels: record keys of the sources in the shot that it is a reading of.
        bounces: record keys of what says that dressing takes part in it.
        records: these with their sources, layers and dressing.
    """
    found = facts_now(levels, bounces, records)
    made = []
    for key in sorted(found):
        for field in sorted(found[key]):
            made.append(key + "/" + field + " " + found[key][field])
    return made if len("\n".join(made).encode("utf-8")) <= TEXT_LIMIT_BYTES else []


def facts_now(levels: "list[str]", bounces: "list[str]", records: "Gathered") -> "Facts":
    """Return the facts as they stand now, in the form in which a reading keeps them.

    Args:
        levels: as for `lines`.
        bounces: as for `lines`.
        records: as for `lines`.
    Returns: record key to field to text.
    """
    found: Facts = {}
    for level in levels:
        source = records.target(level, "source")
        found[level] = _values(level, MOVED_LEVEL, records)
        found[source] = {EDITS: _digest(source, OF_LAMP, records)}
        for layer in records.pointing("layer", "source", source):
            found[layer] = _values(layer, MOVED_LAYER, records)
            found[layer][EDITS] = _digest(layer, OF_SHEET, records)
    for serves in bounces:
        dressing = records.target(serves, "dressing")
        found[serves] = _values(serves, OF_SERVES, records)
        found[dressing] = _values(dressing, OF_DRESSING, records)
    return found


def _values(key: str, fields: "tuple[str, ...]", records: "Gathered") -> "dict[str, str]":
    values = {}
    for field in fields:
        value = records.value(key, field)
        if isinstance(value, list) and value and isinstance(value[0], str):
            value = value[0]
        if isinstance(value, str) and value:
            values[field] = value.replace("\n", " ")
    return values


def _digest(key: str, fields: "tuple[str, ...]", records: "Gathered") -> str:
    said = set()
    for field in fields:
        cell = records.cell(key, field)
        for entry in cell[merge.LIVE] if cell else []:
            value = kinds.comparable(gathered.kind_of(key), field, entry[gathered.VALUE])
            if value is not None:
                said.add(field + " " + str(value))
    return edits.id_digest("\n".join(sorted(said)).encode("utf-8"))


def digest_of(text: str) -> str:
    """Return the digest in the text of a reading's `taken_for`."""
    return text.partition("\n")[0]


def facts_of(text: str) -> "Facts":
    """Return the facts in the text of a reading's `taken_for`: record key to field to text."""
    found: Facts = {}
    for line in text.split("\n")[1:]:
        cell, space, value = line.partition(" ")
        if space and cell.count("/") == 2:
            record = gathered.record_of(cell)
            found.setdefault(record, {})[cell[len(record) + 1 :]] = value
    return found


def of_kind(kind: str, facts: "Facts") -> "list[str]":
    """Return the keys of a kind among remembered facts, sorted."""
    return sorted([key for key in facts if gathered.kind_of(key) == kind])


def lamps(facts: "Facts") -> "Facts":
    """Return what is remembered of lamps and sheets, without the dressing."""
    return {key: facts[key] for key in facts if gathered.kind_of(key) in ("level", "source", "layer")}


def then(facts: "Facts", records: "Gathered") -> "Gathered | None":
    """Return the lamps and sheets as they were, None when one of them has been described anew since.

    Args:
        facts: as `facts_of` gives them.
        records: what is known now; what was removed since is read too.
    """
    found: dict[str, dict[str, Any]] = {}
    for key in of_kind("level", facts):
        found[key] = _cells(key, facts[key])
    for kind, fields in (("source", OF_LAMP), ("layer", OF_SHEET)):
        for key in of_kind(kind, facts):
            if _digest(key, fields, records) != facts[key].get(EDITS, ""):
                return None
            cells = dict(records.records.get(key, {}))
            cells.pop("present", None)
            for field in MOVED_LAYER if kind == "layer" else ():
                cells.pop(field, None)
            cells.update(_cells(key, facts[key]))
            found[key] = cells
    return Gathered(found, units=records.units, utc_offset_min=records.utc_offset_min)


def dressed_then(facts: "Facts", records: "Gathered") -> "Gathered":
    """Return the dressing as it was, with the points and readings that it needs as they are now.

    Args:
        facts: as `facts_of` gives them.
        records: what is known now.
    """
    found = {key: records.records[key] for key in records.records if gathered.kind_of(key) != "serves"}
    for kind in ("serves", "dressing"):
        for key in of_kind(kind, facts):
            cells = dict(records.records.get(key, {}))
            for field in OF_SERVES + OF_DRESSING + ("present",):
                cells.pop(field, None)
            cells.update(_cells(key, facts[key]))
            found[key] = cells
    return Gathered(found, units=records.units, utc_offset_min=records.utc_offset_min)


def _cells(key: str, values: "dict[str, str]") -> "dict[str, Any]":
    cells = {}
    for field in values:
        known = kinds.field_of(gathered.kind_of(key), field)
        if known:
            value: Any = values[field]
            cells[field] = cell([value, value] if known.type == "quantity" else value)
    return cells


def cell(value: "Any", at_ms: int = 0) -> "list[Any]":
    """Return a cell that nobody made, with one answer: for what was, and for what would be.

    Args:
        value: the value that it shows.
        at_ms: its time [ms since 1970 UTC].
    """
    made = merge.new_cell()
    made[merge.LIVE].append(["", value, at_ms, "", "", "", kinds.RULES])
    return made
