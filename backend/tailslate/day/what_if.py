"""The day with acts applied to a scratch copy: what would be, if somebody did this. Nothing is stored.

Knows no rule of a shot. WI1 an act that is tried shows as one answer in each of its cells; what others said there
stays where it is, untouched. WI2 a reading of what is tried is no reading: it is carried on.
"""

from tailslate.craft.errors import RuleError
from tailslate.day import check, gathered, merge, remembered
from tailslate.day.gathered import Gathered

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Records

    Act = dict[str, Any]


def with_acts(records: "Records", acts: "list[Act]") -> "Records":
    """Return records with acts applied; the ones given are not changed.

    Args:
        records: record key to field to cell.
        acts: list of dict, keys kind, record (id), set (field to value); applied in order.
    Raises: RuleError "act_not_allowed" when a value is out of its field's limits.

    >>> tried = with_acts({}, [{"kind": "level", "record": "key~12c", "set": {"distance_m": ["2", "2 m"]}}])
    >>> tried["level/key~12c"]["distance_m"][1][0][1]
    ['2', '2 m']
    """
    found = {key: records[key] for key in records}
    newest = 1 + max([0] + [_newest_ms(records[key]) for key in records])
    for act in acts:
        for fault in check.faults(act["kind"], act["set"]):
            sentence = fault["sentence"]
            raise RuleError("act_not_allowed", sentence, kind=act["kind"], field=fault["field"])
        key = act["kind"] + "/" + act["record"]
        fields = dict(found.get(key, {}))
        for field in act["set"]:
            fields[field] = remembered.cell(act["set"][field], newest)
            fields[field][merge.LIVE][0][0] = "what-if"  # no live edit: no reading was taken for it
        found[key] = fields
    return found


def _newest_ms(fields: "dict[str, Any]") -> int:
    newest = 0
    for field in fields:
        for entry in fields[field][merge.LIVE]:
            newest = max(newest, entry[gathered.AT_MS])
    return newest


def act(key: str, changes: "dict[str, Any]", records: "Gathered") -> "Act":
    """Return an act as a screen saves it: keys kind, record (id), set, painted (field to ids that it has seen).

    Args:
        key: record key.
        changes: field to value.
        records: the record as it stands.
    """
    made: Act = {"kind": gathered.kind_of(key), "record": gathered.id_of(key), "set": changes}
    made["painted"] = {field: records.painted(key, field) for field in changes}
    return made


def removal(key: str, records: "Gathered") -> "Act":
    """Return the act that takes a record without parts off the day.

    Args:
        key: record key.
        records: the record as it stands.
    """
    return act(key, {"present": merge.removal({key: records.records[key]}, key)}, records)


def merged(acts: "list[Act]") -> "list[Act]":
    """Return acts with those on one record made one, a later value of a field in place of an earlier one."""
    found: list[Act] = []
    for one in acts:
        same = [other for other in found if (other["kind"], other["record"]) == (one["kind"], one["record"])]
        if not same:
            found.append(
                {name: dict(one[name]) if isinstance(one[name], dict) else one[name] for name in one}
            )
            continue
        for name in ("set", "painted"):
            same[0][name].update(one.get(name, {}))
    return found


def around(level: str, shot: str, records: "Gathered") -> "Gathered":
    """Return what decides one source's level in a shot: it, the sources beside it, readings and dressing.

    Args:
        level: record key of the source in the shot.
        shot: record key of the shot.
        records: the shot with what it reads.
    """
    point = records.target(level, "point")
    found: Records = {}
    for key in records.records:
        kind = gathered.kind_of(key)
        if kind in ("shot", "setup", "point", "reading", "dressing", "serves", "person", "kit"):
            found[key] = records.records[key]
    for other in records.pointing("level", "shot", shot):
        if other == level or records.target(other, "point") == point:
            source = records.target(other, "source")
            keys = [other, source] + records.pointing("layer", "source", source)
            for key in keys:
                if key in records.records:
                    found[key] = records.records[key]
    return like(found, records)


def like(found: "Records", records: "Gathered") -> "Gathered":
    """Return records to try things on, told as these are; what is tried asks again even while the shot rolls."""
    return Gathered(found, units=records.units, utc_offset_min=records.utc_offset_min)
