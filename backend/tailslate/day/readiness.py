"""Shot -> ready, not ready, unknown or done, each with its reasons. Computed from a sheet, never edited.

    done        the shot's phase is done
    unknown     this copy is incomplete; or nothing speaks against the shot and a fact is missing:
                no must-do is listed, the key is not read or not read since, the target is not set,
                nobody said whether a thing hangs over people
    not_ready   something speaks against it: a hold that stands, two answers, a tick that asks again,
                an open must-do, a figure over its limit, a request that is not answered, or a must
                that is not done
    ready       none of these: every must-do is done and fresh, nobody owes an answer, no hold stands,
                and a fresh reading confirms the key

Moves only with the edits: any new edit may move a shot from any state to any other; while a shot rolls,
and once it is done, nothing asks again. P1 a missing fact gives unknown, never ready. P2 a hold that stands is named first,
whatever the state. P3 this file never says that it is safe to roll: it says what is confirmed.
"""

from tailslate.day import cautions, gathered, holds, kinds, names, shown, ticks
from tailslate.day.rows import all_rows, rig_keys, sources
from tailslate.day.two_answers import NOTES

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered

    Reason = dict[str, Any]

READY, NOT_READY, UNKNOWN, DONE = "ready", "not_ready", "unknown", "done"
WORDS = {READY: "READY", NOT_READY: "NOT READY", UNKNOWN: "UNKNOWN", DONE: "DONE"}
STILL_FETCHING = "still fetching"


def reason(code: str, sentence: str, **more: "Any") -> "Reason":
    """Return one reason: keys code, sentence, department, record, field (each "" for none), caution (or None)."""
    made: Reason = {"code": code, "sentence": sentence, "department": "", "record": "", "field": ""}
    made["caution"] = None
    made.update(more)
    return made


def of_shot(sheet: "dict[str, Any]", records: "Gathered") -> "dict[str, Any]":
    """Return the readiness of a shot.

    Args:
        sheet: as sheet.of_shot gives it.
        records: what the sheet read.
    Returns: dict, keys state, word, sentence, reasons (list of dict as `reason`), departments (name to
        dict, keys state, count, word), as_of_ms (time of the newest edit read).
    """
    rows = all_rows(sheet["rows"])
    held = _holds(sheet)
    against = held + _two_answers(sheet) + _rows(rows) + _over(sheet) + _requests(sheet)
    missing = _missing(sheet, rows, records)
    if sheet["shot"]["phase"] == "done":
        state, reasons = DONE, held
    elif sheet["incomplete"]:
        fetching = [reason("incomplete", sentence) for sentence in sheet["incomplete"]]
        state, reasons = UNKNOWN, held + fetching + against[len(held) :] + missing
    elif against:
        state, reasons = NOT_READY, against + missing
    else:
        state, reasons = (UNKNOWN, missing) if missing else (READY, [])
    return {
        "state": state,
        "word": WORDS[state],
        "sentence": _sentence(state, reasons, sheet, records),
        "reasons": reasons,
        "departments": _departments(sheet, rows),
        "as_of_ms": sheet["as_of_ms"],
    }


def _holds(sheet: "dict[str, Any]") -> "list[Reason]":
    found = []
    for one in sheet["holds"]:
        if holds.does_hold(one):
            sentence = "HOLD " + one["line"]
            where = {"department": one["department"], "record": one["record"], "field": "cleared"}
            found.append(reason("hold", sentence, caution=one["caution"], **where))
    return found


def _two_answers(sheet: "dict[str, Any]") -> "list[Reason]":
    found = []
    for one in sheet["two_answers"]:
        if one["field"] not in NOTES:
            said = " or ".join([answer["shown"] for answer in one["answers"]])
            sentence = one["label"] + " has two answers: " + said
            where = {"record": one["record"], "field": one["field"], "caution": one["caution"]}
            found.append(reason("two_answers", sentence, **where))
    return found


def _rows(rows: "list[dict[str, Any]]") -> "list[Reason]":
    again, left = [], []
    for one in rows:
        where = {name: one[name] for name in ("department", "record", "field", "caution")}
        if one["must"] and one["state"] == ticks.AGAIN:
            again.append(reason("again", one["title"] + ": tick again. " + one["changes"][0], **where))
        elif one["must"] and one["state"] == ticks.OPEN:
            left.append(reason("left", one["title"] + ": not done", **where))
    return again + left


def _over(sheet: "dict[str, Any]") -> "list[Reason]":
    """Return figures that are over their limit: a breaker, a rating, a batch out of the cold too long."""
    found = []
    for one in sheet["over"]:
        known = kinds.KINDS.get(one["record"].split("/")[0])
        department = known.departments[0] if known and known.departments else ""
        where = {"department": department, "record": one["record"], "caution": one["caution"]}
        found.append(reason("over", one["sentence"], **where))
    return found


def _requests(sheet: "dict[str, Any]") -> "list[Reason]":
    found = []
    for one in sheet["requests"]:
        to = names.DEPARTMENT_LABELS.get(one["to"], "Nobody yet")
        said = names.DEPARTMENT_LABELS.get(one["from"], "Someone") + " asks " + to + ": " + one["ask"]
        if one["answer"] == "asked":
            found.append(
                reason("request", said + ". No answer yet", department=one["to"], record=one["record"])
            )
        elif one["must"] == "must":
            said += ". " + one["answer"][0].upper() + one["answer"][1:] + ", not done"
            found.append(reason("request_not_done", said, department=one["to"], record=one["record"]))
    return found


def _missing(sheet: "dict[str, Any]", rows: "list[dict[str, Any]]", records: "Gathered") -> "list[Reason]":
    """Return what is not known, light first."""
    found = _light(sheet)
    if not [one for one in rows if one["must"]]:
        found.append(
            reason("nothing_listed", "nothing is listed to do: nobody has said what this shot needs")
        )
    shot = sheet["shot"]["record"]
    covered = [records.target(key, "source") for key in rig_keys(shot, records)]
    for source in sources(shot, records):
        overhead, name = records.text(source, "overhead"), names.name_of(source, records)
        where: dict[str, Any] = {"department": "grip", "record": source, "field": "overhead"}
        where["caution"] = cautions.caution("overhead")
        if overhead == "yes" and source not in covered:
            found.append(reason("no_rig", name + " is over people and no rig is listed for it", **where))
        elif overhead not in ("yes", "no"):
            found.append(
                reason("overhead", "nobody has said whether " + name + " hangs over people", **where)
            )
    return found


def _light(sheet: "dict[str, Any]") -> "list[Reason]":
    found = []
    keys = [one for one in sheet["light"]["levels"] if one["role"] == "key"]
    if not keys:
        found.append(
            reason("no_key", "no key light is named: say which source is the key", department="electric")
        )
    for one in keys:
        if one["fresh"]:
            continue
        where = {"department": "electric", "record": one["point"], "field": ""}
        if one["changed"]:
            found.append(reason("key_old", one["title"] + ": read again. " + one["changed"][0], **where))
        else:
            said = one["missing"][0]["sentence"] if one["missing"] else "Worked out only"
            found.append(reason("key_not_read", one["title"] + ": not read yet. " + said, **where))
    missing = sheet["shot"]["target"]["missing"]
    if missing:
        where = {"department": "camera", "record": missing[0]["record"], "field": missing[0]["field"]}
        found.append(reason("no_target", sheet["shot"]["target"]["sentence"], **where))
    return found


def _departments(sheet: "dict[str, Any]", rows: "list[dict[str, Any]]") -> "dict[str, dict[str, Any]]":
    """Return how each department stands; with nothing listed for it, it is `none`: unknown, never done."""
    held = [one["department"] for one in sheet["holds"] if holds.does_hold(one)]
    split = set()  # who disagrees settles it
    for two in sheet["two_answers"]:
        if two["field"] not in NOTES:
            split.update([answer["department"] for answer in two["answers"]])
    found = {}
    for name in kinds.DEPARTMENT_NAMES:
        own = [row for row in rows if row["department"] == name and row["state"] != ticks.OFF]
        found[name] = _department(own, name in held, name in split)
    return found


def _department(rows: "list[dict[str, Any]]", is_held: bool, is_split: bool) -> "dict[str, Any]":
    must = [row for row in rows if row["must"]]
    counts = {}
    for state in (ticks.TWO, ticks.AGAIN, ticks.OPEN):
        counts[state] = len([row for row in must if row["state"] == state])
    if is_held:
        return {"state": "hold", "count": 1, "word": "hold"}
    if counts[ticks.TWO] or is_split:
        return {"state": "two", "count": max(1, counts[ticks.TWO]), "word": "two"}
    if counts[ticks.AGAIN]:
        return {"state": "again", "count": counts[ticks.AGAIN], "word": str(counts[ticks.AGAIN]) + " again"}
    if counts[ticks.OPEN]:
        return {"state": "left", "count": counts[ticks.OPEN], "word": str(counts[ticks.OPEN]) + " left"}
    if not rows:
        return {"state": "none", "count": 0, "word": "no word"}
    return {"state": "done", "count": len(rows), "word": "done"}


def _sentence(state: str, reasons: "list[Reason]", sheet: "dict[str, Any]", records: "Gathered") -> str:
    """Return the one line of the day list: what stands first, and how much more there is."""
    if state == DONE and not reasons:
        return _how_it_went(sheet["shot"]["record"], records)
    if state == READY:
        keys = [one["line"] for one in sheet["light"]["levels"] if one["role"] == "key"]
        return "Listed work is done, key " + str(keys[0]) + ". People decide"
    said: str = reasons[0]["sentence"]
    if sheet["incomplete"] and not said.startswith(("HOLD", STILL_FETCHING)):
        said = STILL_FETCHING + ": " + said
    more = len(reasons) - 1
    return said + (". " + str(more) + shown.HARD_SPACE + "more" if more else "")


def _how_it_went(shot: str, records: "Gathered") -> str:
    entry, takes = records.entry(shot, "phase"), records.whole(shot, "takes")
    said = [shown.clock(entry[gathered.AT_MS], records.utc_offset_min)] if entry else []
    if takes is not None:
        said.append(str(takes) + (" take" if takes == 1 else " takes"))
    return ", ".join(said)
