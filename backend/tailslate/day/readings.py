"""Meter readings of a shot: what each was taken for, whether that still burns, and what changed since.

Knows no model. D1 a reading remembers a digest of the live edits of the cells that decide its level; it
is fresh while they are the same ones. D2 a reading that says nothing of what it was taken for is not
fresh. D3 while the shot rolls, and once it is done, a reading stays: it is how the shot was lit.
D4 what it remembers beside the digest (see remembered.py) lets it be carried on, never makes it fresh.
"""

from tailslate.day import edit as edits
from tailslate.day import gathered, meter, names, remembered, shown
from tailslate.day.keys import ends_of, joined

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Entry, Gathered

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
    "dimmer_curve",
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
OF_SERVES = ("use", "point", "dressing", "bounces_from", "near_m", "lit_at", "covered_ratio")
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
    cells = set()
    for key, fields in _deciding(shot, point, role, records):
        for field in fields:
            if records.entry(key, field):
                cells.add(joined(key, field))
    return sorted(cells)


def _deciding(shot: str, point: str, role: str, records: "Gathered") -> "list[tuple[str, tuple[str, ...]]]":
    """Return the records that decide a level, each with the fields that do; some may stand twice."""
    wanted: list[tuple[str, tuple[str, ...]]] = [(point, OF_POINT)]
    for level in records.pointing("level", "shot", shot):
        if records.target(level, "point") == point and role in (ALL, records.text(level, "role")):
            source = records.target(level, "source")
            wanted += [(level, OF_LEVEL), (source, OF_SOURCE)]
            wanted += [(layer, OF_LAYER) for layer in records.pointing("layer", "source", source)]
    for serves in bouncing(shot, point, records) if role in BOUNCED_ROLES else ():
        wanted += [(serves, OF_SERVES), (records.target(serves, "dressing"), OF_DRESSING)]
    return wanted


def bouncing(shot: str, point: str, records: "Gathered") -> "list[str]":
    """Return the keys of what says that dressing lifts a point by its bounce in a shot."""
    found = []
    for serves in records.pointing("serves", "shot", shot):
        if records.text(serves, "use") == "bounce" and records.target(serves, "point") == point:
            if records.is_there(records.target(serves, "dressing")):
                found.append(serves)
    return found


def burning(shot: str, point: str, role: str, records: "Gathered") -> "list[str]":
    """Return the keys of the sources in a shot that a reading of a role at a point is of.

    Args:
        shot: record key of the shot.
        point: record key of the point.
        role: as for `cells_for`.
        records: the shot with what it reads.
    """
    found = []
    for level in records.pointing("level", "shot", shot):
        if records.target(level, "point") == point and records.text(level, "on") != "no":
            if role in (ALL, records.text(level, "role")):
                found.append(level)
    return found


def taken_for(shot: str, point: str, role: str, records: "Gathered") -> str:
    """Return what a reading taken now is for: a digest, and what remembered.py keeps beside it.

    Args:
        shot: record key of the shot.
        point: record key of the point.
        role: as for `cells_for`.
        records: the shot with what it reads.
    """
    bounces = bouncing(shot, point, records) if role in BOUNCED_ROLES else []
    kept = remembered.lines(burning(shot, point, role, records), bounces, records)
    return "\n".join([digest(shot, point, role, records)] + kept)


def fields_taken(shot: str, point: str, role: str, records: "Gathered") -> "dict[str, Any]":
    """Return the fields by which a reading taken now says what it is of.

    Args:
        shot: record key of the shot.
        point: record key of the point.
        role: as for `cells_for`.
        records: the shot with what it reads.
    Returns: dict, keys taken_for, and of_source (id) when it is of one source alone: then it counts in other shots too.
    """
    fields = {"taken_for": taken_for(shot, point, role, records)}
    levels = burning(shot, point, role, records)
    has_bounce = role in BOUNCED_ROLES and bouncing(shot, point, records)
    if role != ALL and len(levels) == 1 and not has_bounce:
        fields["of_source"] = gathered.id_of(records.target(levels[0], "source"))
    return fields


def digest(shot: str, point: str, role: str, records: "Gathered") -> str:
    """Return the digest over the sorted live ids of the cells that decide a level.

    Args:
        shot: record key of the shot.
        point: record key of the point.
        role: as for `cells_for`.
        records: the shot with what it reads.
    Returns: 16 characters, as in an edit's id.
    """
    ids = set()
    for key, fields in _deciding(shot, point, role, records):
        for field in fields:
            ids.update(records.painted(key, field))
    return edits.id_digest("\n".join(sorted(ids)).encode("utf-8"))


def of_point(shot: str, point: str, role: str, records: "Gathered") -> "Reading | None":
    """Return the reading that stands for a role at a point: a fresh one before others, then the latest.

    Args:
        shot: record key of the shot.
        point: record key of the point.
        role: as for `cells_for`.
        records: the shot with what it reads.
    Returns: dict, keys record, lux (None when a stop is all that is known), t_stop (None unless it was read as
        one), fresh, line ("read 14:06, Electric"), changed (list of sentences, why it is not fresh), at_ms;
        None when there is no reading.
    """
    now, best = "", None
    for key in records.pointing("reading", "shot", shot):
        same = records.target(key, "point") == point and (records.text(key, "role") or ALL) == role
        made = _reading(key, shot, records) if same else None
        if made is None:
            continue
        now = now or digest(shot, point, role, records)
        _compare(made, now, records)
        if best is None or _rank(made) > _rank(best):
            best = made
    if best and not best["fresh"]:
        best["changed"] = best["changed"] or _changed_since(best, shot, point, role, records)
    return best


def alone(shot: str, records: "Gathered") -> "dict[str, list[Reading]]":
    """Return the readings of one source alone, in this shot or, where they name their source, in another.

    Args:
        shot: record key of the shot.
        records: the shot with what it reads.
    Returns: source key to list of dict, the newest first, keys record, lux, level (key of the source in its shot, as remembered), facts
        (as `remembered.facts_of` gives them), line, at_ms.
    """
    found: dict[str, list[Reading]] = {}
    for key in records.of_kind("reading"):
        facts = remembered.facts_of(records.text(key, "taken_for"))
        levels = remembered.of_kind("level", facts)
        is_sum = (records.text(key, "role") or ALL) == ALL
        is_of_other = records.target(key, "shot") != shot and not records.target(key, "of_source")
        if is_sum or is_of_other or len(levels) != 1 or remembered.of_kind("serves", facts):
            continue
        made = _reading(key, records.target(key, "shot"), records)
        if made and made["lux"] is not None and not made["is_split"]:
            source = "source/" + facts[levels[0]].get("source", "")
            made["level"], made["facts"] = levels[0], facts
            found.setdefault(source, []).append(made)
    for source in found:
        found[source].sort(key=lambda one: (-one["at_ms"], one["record"]))
    return found


def of_colour(shot: str, records: "Gathered") -> "list[Reading]":
    """Return the colours that were read in a shot: of each role at a point a fresh one before others, then the latest.

    Args:
        shot: record key of the shot.
        records: the shot with what it reads.
    Returns: list of dict, keys record, point, role, k, duv (None when not read), fresh, line; the key first.
    """
    best: dict[tuple[str, str], tuple[tuple[bool, int, str], Reading]] = {}
    for key in records.pointing("reading", "shot", shot):
        entry, found_k = records.entry(key, "colour_k"), records.number(key, "colour_k")
        if not entry or not found_k:
            continue
        point, role = records.target(key, "point"), records.text(key, "role") or ALL
        now = digest(shot, point, role, records)
        made = _taken(key, entry, records)
        made.update({"point": point, "role": role, "k": found_k, "duv": records.number(key, "duv")})
        made["is_split"] = records.is_split(key, "colour_k")
        _compare(made, now, records)
        if not made["fresh"]:
            made["line"] += ": " + (made["changed"] or ["what burns has changed since, read again"])[0]
        rank = (made["fresh"], made["at_ms"], key)
        if (point, role) not in best or rank > best[(point, role)][0]:
            best[(point, role)] = (rank, made)
    found = [best[where][1] for where in sorted(best)]
    return [one for one in found if one["role"] == "key"] + [one for one in found if one["role"] != "key"]


def _taken(key: str, entry: "Entry", records: "Gathered") -> "Reading":
    at_ms = entry[gathered.AT_MS]
    when = records.text(key, "taken_time") or shown.clock(at_ms, records.utc_offset_min)
    return {"record": key, "line": "read " + when + ", " + names.who(entry, records), "at_ms": at_ms}


def _rank(one: "Reading") -> "tuple[bool, int, str]":
    return (one["fresh"], one["at_ms"], one["record"])


def _reading(key: str, shot: str, records: "Gathered") -> "Reading | None":
    number_lx, stop = records.number(key, "illuminance_lx"), None
    field = "illuminance_lx"
    if number_lx is None:
        field = "t_stop"
        stop = records.number(key, field)
        if stop is not None:
            number_lx = meter.stop_lx(stop, meter.exposure(shot, records))
    entry = records.entry(key, field)
    if (number_lx is None and stop is None) or not entry:
        return None
    made = _taken(key, entry, records)
    made.update({"lux": number_lx, "t_stop": stop})
    made["is_split"] = records.is_split(key, field)
    return made


def _compare(made: "Reading", now: str, records: "Gathered") -> None:
    """Add whether a reading is fresh, and if not why."""
    key, is_split = made["record"], made["is_split"]
    fresh = remembered.digest_of(records.text(key, "taken_for")) == now or not records.asks_again
    changed = []
    if is_split:
        changed.append("the reading has two answers: pick one, or read again")
    elif not records.text(key, "taken_for"):
        changed.append("nobody said what burned when it was taken: read again")
    made["fresh"], made["changed"] = fresh and not is_split, changed


def _changed_since(reading: "Reading", shot: str, point: str, role: str, records: "Gathered") -> "list[str]":
    newer = []
    for cell_key in cells_for(shot, point, role, records):
        record, field = ends_of(cell_key)
        entry = records.entry(record, field)
        is_end = "_low_" in field or "_high_" in field  # the typical value says it
        if entry and entry[gathered.AT_MS] > reading["at_ms"] and not is_end:
            newer.append((-entry[gathered.AT_MS], cell_key, record, field, entry))
    sentences = _gone_since(reading["record"], records)
    for _age, cell_key, record, field, entry in sorted(newer, key=lambda one: one[:2]):
        words = names.value_words(record, field, entry[gathered.VALUE], records)
        sentences.append(names.signed(names.cell_name(cell_key, records) + ": now " + words, entry, records))
    return sentences or ["what stands before the point has changed since"]


def _gone_since(reading: str, records: "Gathered") -> "list[str]":
    """Return in sentences what took part in a reading and was removed since."""
    sentences = []
    for key in sorted(remembered.facts_of(records.text(reading, "taken_for"))):
        if key in records.records and not records.is_there(key) and gathered.kind_of(key) != "serves":
            said = names.name_of(key, records) + " is no longer on the day"
            sentences.append(names.signed(said, records.entry(key, "present"), records))
    return sentences
