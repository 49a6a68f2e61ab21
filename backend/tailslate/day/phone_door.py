"""JSON text in, JSON text out: the only file that the phone's engine calls. It decides nothing itself.

Here is what edits, merging and the exchange need; sheet_door.py has sheets, bring_door.py the rest.
"""

import io
import json

from tailslate.craft.errors import RuleError
from tailslate.day import check, exchange, kinds, merge, reads
from tailslate.day import edit as edits

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import Any


def call(text: str) -> str:
    """Do what one call asks and return the answer.

    Args:
        text: JSON object with the key "do" and what that act takes.
    Returns: JSON object, "ok": true with the act's own keys; or "ok": false with code, sentence, facts.
    """
    try:
        asked = json.loads(text)
        answer = _act(asked.pop("do"))(asked)
        answer["ok"] = True
    except RuleError as error:
        answer = {"ok": False, "code": error.code, "sentence": error.sentence}
        answer["facts"] = {name: str(error.facts[name]) for name in error.facts}
    return _written(answer, 2 * len(text))


def _written(answer: "dict[str, Any]", room: int) -> str:
    """Return JSON text; `room` is how long it may well be, for MicroPython copies a text again and again as it grows."""
    try:
        made: Any = io.StringIO(room)  # type: ignore[arg-type]
    except TypeError:  # CPython needs no room
        return json.dumps(answer)
    json.dump(answer, made, separators=(",", ":"))
    return str(made.getvalue())


def _act(name: str) -> "Callable[[dict[str, Any]], dict[str, Any]]":
    found = _ACTS.get(name)
    if found:
        return found
    from tailslate.day import sheet_door  # late: an act must not wait for all of it to be compiled

    if name in sheet_door.ACTS:
        return sheet_door.ACTS[name]
    from tailslate.day import bring_door  # later still: few ask for it

    return bring_door.ACTS[name]


def _kinds(_asked: "dict[str, Any]") -> "dict[str, Any]":
    departments = [{"name": n, "label": la, "short": s} for n, la, s in kinds.DEPARTMENTS]
    return {"rules": kinds.RULES, "kinds": kinds.table(), "departments": departments}


def _check(asked: "dict[str, Any]") -> "dict[str, Any]":
    return {"reasons": check.faults(asked["kind"], asked["set"])}


def _record_id(asked: "dict[str, Any]") -> "dict[str, Any]":
    return {"id": kinds.record_id_of_ends(asked["kind"], asked["set"])}


def _make(asked: "dict[str, Any]") -> "dict[str, Any]":
    one = edits.make(
        day=asked["day"],
        set_name=kinds.set_of(asked["kind"]),
        incarnation=asked["incarnation"],
        counter=asked["counter"],
        salt=asked["salt"],
        rules=kinds.RULES,
        at_ms=asked["at_ms"],
        by=asked["by"],
        for_whom=asked.get("for_whom", ""),
        how=asked.get("how", ""),
        kind=asked["kind"],
        record=asked["record"],
        changes=asked["changes"],
        seen=asked["seen"],
    )
    return {"text": one.text, "id": one.id}


def _merge(asked: "dict[str, Any]") -> "dict[str, Any]":
    """Join what counts; name the records that must be folded from all their texts instead."""
    found, refused = merge.read_all(asked["items"], asked["day"])
    cells = asked["cells"]
    counting, needs_fold, verdict_on = [], set(), set()
    for one in found:
        if one is None:
            continue
        fields = [change[0] for change in one.changes]
        if one.kind == "verdict":
            verdict_on.add(one.record)
        key = one.record_key
        has_off = any(cells.get(key + "/" + f, _NO_CELL)[merge.OFF] for f in fields)
        if has_off or kinds.is_reserved(one.kind, one.changes):
            needs_fold.add(key)
        else:
            counting.append(one)
    counting = [one for one in counting if one.record_key not in needs_fold]
    return {
        "cells": merge.join(cells, counting),
        "ids": [one.id if one else None for one in found],
        "refused": refused,
        "needs_fold": sorted(needs_fold),
        "verdict_on": sorted(verdict_on),
    }


_NO_CELL: "list[Any]" = merge.new_cell()


def _join_ids(asked: "dict[str, Any]") -> "dict[str, Any]":
    """Join on ids alone; the phone leaves out what `reserved` names and cells in which an edit is off."""
    merge.join_ids(asked["cells"], asked["edits"])
    return {"cells": asked["cells"]}


def _shown(asked: "dict[str, Any]") -> "dict[str, Any]":
    """Return the mark of each field and its live ids, the one shown first; an entry may end after its time."""
    told = {}
    for name, entries in asked["cells"].items():
        mark, live = merge.shown(name, entries)
        told[name] = [mark, [entry[0] for entry in live]]
    return {"cells": told}


def _reserved(asked: "dict[str, Any]") -> "dict[str, Any]":
    return {"reserved": [kinds.is_reserved(kind, changes) for kind, changes in asked["acts"]]}


def _fold(asked: "dict[str, Any]") -> "dict[str, Any]":
    found, _refused = merge.read_all(asked["items"], asked["day"])
    judged, _refused = merge.read_all(asked["verdicts"], asked["day"])
    words = merge.verdict_words([one for one in judged if one])
    return {"cells": merge.fold([one for one in found if one], words)}


def _presence(asked: "dict[str, Any]") -> "dict[str, Any]":
    return {"presence": merge.presence(asked["record"], asked["records"])}


def _removal(asked: "dict[str, Any]") -> "dict[str, Any]":
    return {"value": merge.removal(asked["records"], asked["record"])}


def _marks(asked: "dict[str, Any]") -> "dict[str, Any]":
    marks = exchange.add_to_marks(asked["marks"], asked.get("ids", []))
    for edit_id in asked.get("drop", []):
        marks = exchange.drop_from_marks(marks, edit_id)
    return {"marks": marks}


def _new_state(asked: "dict[str, Any]") -> "dict[str, Any]":
    return {"state": exchange.new_state(asked["sets"])}


def _completeness(asked: "dict[str, Any]") -> "dict[str, Any]":
    return {"reasons": exchange.completeness(**asked)}


_ACTS: "dict[str, Callable[[dict[str, Any]], dict[str, Any]]]" = {
    "kinds": _kinds,
    "check": _check,
    "record_id": _record_id,
    "make": _make,
    "merge": _merge,
    "join_ids": _join_ids,
    "shown": _shown,
    "reserved": _reserved,
    "fold": _fold,
    "presence": _presence,
    "removal": _removal,
    "marks": _marks,
    "new_state": _new_state,
    "next_request": lambda asked: exchange.next_request(**asked),
    "wait_after": lambda asked: {"wait_ms": exchange.wait_after(**asked)},
    "take_reply": lambda asked: exchange.take_reply(**asked),
    "settle": lambda asked: exchange.settle(**asked),
    "completeness": _completeness,
    "reads": lambda _asked: reads.table(),
}
