"""Fields with several answers that differ: who said what, what is shown meanwhile, what waits for a pick.

Knows no readiness. A1 notes may differ without anyone waiting; a number or a tick may not.
"""

from tailslate.day import cautions, gathered, kinds, merge, names, shown
from tailslate.day.gathered import kind_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered

    Two = dict[str, Any]

NOTES = ("note", "match_note")


def in_records(keys: "list[str]", rows: "list[dict[str, Any]]", records: "Gathered") -> "list[Two]":
    """Return every field of these records that has two answers.

    Args:
        keys: record keys, sorted.
        rows: rows of the sheet, to say which ticks wait.
        records: the records.
    """
    found = []
    for key in keys:
        if records.is_there(key):
            fields = records.records[key]
            for field in sorted([one for one, cell in fields.items() if cell[merge.MARK] >= merge.TWO]):
                found.append(_two(key, field, rows, records))
    return found


def _two(key: str, field: str, rows: "list[dict[str, Any]]", records: "Gathered") -> "Two":
    live = records.records[key][field][merge.LIVE]
    answers = []
    for entry in live:
        answers.append(
            {
                "id": entry[0],
                "value": entry[gathered.VALUE],
                "shown": names.value_words(key, field, entry[gathered.VALUE], records),
                "by": entry[gathered.BY],
                "department": names.department(entry, records),
                "at_ms": entry[gathered.AT_MS],
                "how": entry[gathered.HOW],
            }
        )
    rule = kinds.rule_of(kind_of(key), field)
    name = key + "/" + field
    waiting, caution = [], cautions.of_record(key, records)
    for row in rows:
        if row["record"] == key and row["field"] == field:
            caution = row["caution"]
        relied = [pair[0] for pair in row["value_if_ticked"][1]]
        if name in relied or (row["record"] == key and row["field"] == field):
            waiting.append(row["title"])
    return {
        "record": key,
        "field": field,
        "label": names.cell_name(name, records),
        "rule": rule,
        "answers": answers,
        "sentence": _sentence(kind_of(key), field, rule, answers, records),
        "waiting": waiting,
        "caution": caution,
    }


def _sentence(kind: str, field: str, rule: str, answers: "list[dict[str, Any]]", records: "Gathered") -> str:
    first = str(answers[0]["shown"])
    known = kinds.field_of(kind, field)
    if rule != "careful":
        return "Shown until someone picks: " + first + ", the later."
    if known and known.type == "tick":
        said: list[str] = []
        for one in answers:
            when = shown.clock(one["at_ms"], records.utc_offset_min)
            said.append(
                names.DEPARTMENT_LABELS.get(one["department"], "Someone") + " " + one["shown"] + " " + when
            )
        return ". ".join(sorted(said)) + ". Not done counts."
    return "The careful answer counts until someone picks: " + first + "."
