"""What to send, what a reply means, when to try next. Knows no network, clock or chance: they come in.

X1 confirmed means that the server said so for this very edit, by id; nothing else marks it as sent.
X2 a place counts only within its epoch; after a new epoch both sides compare marks and send differences.
X3 an answer that is not ours (a sign-in page, half a text, an old reply) changes nothing.
X4 waiting grows with failures and is drawn by chance each time, so that phones do not come back at once;
   only someone who asks, or looks again, or a network that comes up cuts it short.
X5 a copy is complete when it has read up to what it was promised, no counter has a gap, and no id that
   someone saw is absent; until then nothing is called ready.

The state is what a phone keeps, one for each day, as JSON:

    {"epoch": text, "failures": n, "heard_ms": n, "matched_ms": n, "next_ms": n,
     "sets": {"floor": {"place": n, "reach": n, "mark": [count, xor] or null, "ask": bool,
                        "details": {incarnation: [count, gapless, xor]} or null, "rounds": n}}}

Marks are kept apart from it, for each set: {incarnation: [count, gapless, xor, highest, beyond]}, where
gapless is the highest counter up to which none is missing and beyond lists counters above it.
"""

import binascii

from tailslate.craft.errors import RuleError
from tailslate.day import edit as edits
from tailslate.day import kinds

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    State = dict[str, Any]
    Marks = dict[str, list[Any]]

PROTOCOL = "tailslate-exchange-1"
EDITS_LIMIT = 500  # edits in one request, and in one page of a reply
BODY_LIMIT_BYTES = 524288
SEND_LIMIT_BYTES = 400000  # of texts in one request; the rest of the body needs room too
COMPARE_LIMIT = 4000  # ids in one request
COMPARE_ROUNDS_LIMIT = 40  # after which a difference is left until the next epoch or reload
REST_MS = 30000  # between two rounds when there is nothing to do and the app is on screen
ACKNOWLEDGE_MS = 2000  # after news was read: the next request says so, and a hold's author learns who has it
FIRST_WAIT_MS = 2000
LONGEST_WAIT_MS = 300000
CHANCE_PARTS = 1000000  # chance is a whole number from 0 to 999999
OLD_MS = 900000  # 15 minutes: older knowledge is called old


def new_state(sets: "list[str]") -> "State":
    """Return the state of a phone that has just joined.

    Args:
        sets: the sets that its credential allows, "floor" and perhaps "health".
    """
    state = {"epoch": "", "failures": 0, "heard_ms": 0, "matched_ms": 0, "next_ms": 0}
    state["sets"] = {name: _new_set() for name in sets}
    return state


def _new_set() -> "dict[str, Any]":
    return {"place": 0, "reach": -1, "mark": None, "ask": False, "details": None, "rounds": 0}


def next_request(
    state: "State",
    *,
    now_ms: int,
    nonce: str,
    unsent: "dict[str, list[list[str]]]",
    marks: "dict[str, Marks]",
    ids: "dict[str, dict[str, list[str]]]",
    open_holds: "list[str]",
    urge: str = "time",
) -> "dict[str, Any]":
    """Decide whether to send now, and what.

    Args:
        state: as kept.
        now_ms: the phone's time [ms].
        nonce: random text; the reply must echo it.
        unsent: set to list of [id, text], oldest first; more than fits is left for the next round.
        marks: set to the phone's marks, over all edits that it holds.
        ids: set to incarnation to ids, for the incarnations that `differing` names; else empty.
        open_holds: ids of edits that raised holds which are not cleared.
        urge: what calls for it. "time": nothing but the clock. "news": an act or a bell; a rest is cut short,
            a wait after failures is not. "asked": someone taps for it or looks at the app again, or the
            network came up; any wait is cut short.
    Returns: dict with "wait_ms"; when it is 0 also "body" (the request) and "sent" (set to ids).
    """
    waits = state["next_ms"] - now_ms
    if waits > LONGEST_WAIT_MS:
        waits = 0  # the phone's clock was set back; a stored time must not silence it
    if waits > 0 and urge != "asked" and (state["failures"] or urge != "news"):
        return {"wait_ms": waits}
    sent = {}
    sets = {}
    room_bytes = SEND_LIMIT_BYTES
    room = EDITS_LIMIT
    for name in sorted(state["sets"]):
        one = state["sets"][name]
        chosen: list[list[str]] = []
        for pair in unsent.get(name, []):
            size_bytes = len(pair[1].encode("utf-8"))
            if room < 1 or (size_bytes > room_bytes and chosen):
                break
            chosen.append(pair)
            room -= 1
            room_bytes -= size_bytes
        sent[name] = [pair[0] for pair in chosen]
        sets[name] = {"place": one["place"], "edits": [pair[1] for pair in chosen]}
        if one["details"] is not None:
            sets[name]["compare"] = _compare(one, marks.get(name, {}), ids.get(name, {}))
        if one["ask"] or one["details"] is not None:
            sets[name]["details"] = True
    body = {"protocol": PROTOCOL, "nonce": nonce, "rules": kinds.RULES, "sets": sets}
    body["epoch"] = state["epoch"] or None
    body["heard_of"] = open_holds[:200]
    return {"wait_ms": 0, "body": body, "sent": sent}


def _compare(one: "dict[str, Any]", marks: "Marks", ids: "dict[str, list[str]]") -> "dict[str, list[str]]":
    chosen: dict[str, list[str]] = {}
    room = COMPARE_LIMIT
    for incarnation in differing(one["details"], marks):
        own = ids.get(incarnation, [])
        if len(own) > room and chosen:
            break
        chosen[incarnation] = sorted(own)
        room -= len(own)
    return chosen


def differing(details: "dict[str, list[Any]] | None", marks: "Marks") -> "list[str]":
    """Return the incarnations of which two copies hold different edits, sorted.

    Args:
        details: incarnation to [count, gapless, xor] of the other copy; None gives none.
        marks: the own marks.
    """
    if details is None:
        return []
    names = []
    for incarnation in sorted(set(details) | set(marks)):
        theirs = details.get(incarnation)
        own = marks.get(incarnation)
        if theirs is None or own is None or theirs[0] != own[0] or theirs[2] != own[2]:
            names.append(incarnation)
    return names


def take_reply(
    state: "State",
    *,
    now_ms: int,
    chance: int,
    nonce: str,
    sent: "dict[str, list[str]]",
    status: int,
    content_type: str,
    reply: "Any",
    retry_after_s: int,
) -> "dict[str, Any]":
    """Say what a reply means, or the lack of one.

    Args:
        state: as kept; not changed.
        now_ms: the phone's time [ms].
        chance: a whole number from 0 to 999999, drawn anew.
        nonce: that of the request.
        sent: as `next_request` gave it.
        status: HTTP status; 0 when nothing came back in time.
        content_type: of the reply, "" when there was none.
        reply: the parsed JSON, in which the carrier may leave out the texts of groups and missing;
            None when it could not be parsed.
        retry_after_s: the server's Retry-After [s], 0 when it named none.
    Returns: dict, keys
        state: to be stored in the same transaction as the edits that came with the reply;
        outcome: "taken", "no_signal", "sign_in_page", "not_allowed", "busy", "too_large", "refused";
        sentence: what to show, "" when all is well;
        confirmed, refused, want: set to ids, to [id, code, sentence], to ids that the server lacks;
        void: set to ids of refused edits, whose counters the author's phone declares void;
        heard: id of a hold to how many other devices have it;
        again: true when there is more to do at once.
    """
    found = _failure(status, content_type, reply, nonce)
    if found:
        return _failed(state, found, now_ms, chance, retry_after_s)
    told: dict[str, Any] = {"confirmed": {}, "refused": {}, "want": {}, "void": {}}
    after: State = {"failures": 0, "heard_ms": now_ms, "matched_ms": state["matched_ms"]}
    after["epoch"] = reply["epoch"]
    after["sets"] = {}
    is_new_epoch = state["epoch"] not in ("", reply["epoch"])
    again, has_read_on = False, False
    for name in state["sets"]:
        one, answer = state["sets"][name], reply["sets"].get(name) or {}
        if answer.get("not_allowed"):
            after["sets"][name] = one
            continue
        _take_answers(told, name, sent.get(name, []), answer)
        fresh, more = _take_place(one, answer, is_new_epoch)
        after["sets"][name] = fresh
        again = again or more or bool(told["want"][name])
        has_read_on = has_read_on or fresh["place"] > one["place"]
    rest_ms = ACKNOWLEDGE_MS if has_read_on else REST_MS
    after["next_ms"] = now_ms if again else now_ms + rest_ms // 2 + rest_ms * chance // CHANCE_PARTS
    told.update({"state": after, "outcome": "taken", "sentence": "", "again": again})
    told["heard"] = reply.get("heard") or {}
    return told


_SENTENCES = {
    "no_signal": "No answer from the server. Everything stays on this phone; it tries again by itself.",
    "sign_in_page": "This network answers with its own page: it may want you to sign in. "
    "Nothing was sent, everything stays on this phone.",
    "not_allowed": "The server no longer knows this phone. Join again with a new code to send; "
    "reading and editing go on, nothing is lost.",
    "busy": "The server is busy. It tries again by itself.",
    "too_large": "The server refused the size of what was sent. It tries again with less.",
    "refused": "The server could not read what was sent. Everything stays on this phone; "
    "update the app or tell whoever runs the server.",
}


def _failure(status: int, content_type: str, reply: "Any", nonce: str) -> str:
    """Return the outcome of a reply that is not ours or not a success, "" for a success."""
    is_json = content_type.split(";")[0].strip() == "application/json"
    if status == 0:
        return "no_signal"
    if not is_json or status == 511 or not isinstance(reply, dict):
        return "sign_in_page" if status < 500 or status == 511 else "no_signal"
    if status in (401, 403):
        return "not_allowed"
    if status in (429, 503, 507):
        return "busy"
    if status == 413:
        return "too_large"
    if status != 200:
        return "no_signal" if status >= 500 else "refused"
    is_ours = reply.get("protocol") == PROTOCOL and reply.get("nonce") == nonce
    if not is_ours or not isinstance(reply.get("sets"), dict):
        return "sign_in_page"
    return "" if isinstance(reply.get("epoch"), str) and reply["epoch"] else "sign_in_page"


def wait_after(failures: int, chance: int, retry_after_s: int) -> int:
    """Return how long to wait after tries in vain (X4) [ms], for edits and for pictures.

    Args:
        failures: tries in vain since the last that went well.
        chance: a whole number from 0 to 999999.
        retry_after_s: what the server asked for; it is not asked before.

    >>> wait_after(1, 500000, 0), wait_after(20, 999999, 0), wait_after(1, 0, 60)
    (2200, 300199, 60000)
    """
    longest_ms: int = min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** min(failures, 20))
    wait_ms = 200 + longest_ms * chance // CHANCE_PARTS
    return max(wait_ms, min(retry_after_s, 3600) * 1000)


def _failed(state: "State", outcome: str, now_ms: int, chance: int, retry_after_s: int) -> "dict[str, Any]":
    failures = min(state["failures"] + 1, 20)
    after = dict(state)
    after.update({"failures": failures, "next_ms": now_ms + wait_after(failures, chance, retry_after_s)})
    told: dict[str, Any] = {"state": after, "outcome": outcome, "sentence": _SENTENCES[outcome]}
    told.update({"confirmed": {}, "refused": {}, "want": {}, "void": {}, "heard": {}})
    told["again"] = False
    return told


def _take_answers(told: "dict[str, Any]", name: str, sent: "list[str]", answer: "dict[str, Any]") -> None:
    confirmed, refused = [], []
    waiting = set(sent)
    for row in answer.get("answers") or []:
        word, edit_id = row[0], row[1]
        if edit_id not in waiting:
            continue  # X1: only for what was asked, by id
        if word in ("stored", "known"):
            confirmed.append(edit_id)
        elif word == "refused":
            refused.append([edit_id, row[2], row[3]])
    told["confirmed"][name] = confirmed
    told["refused"][name] = refused
    told["void"][name] = [row[0] for row in refused]
    told["want"][name] = list(answer.get("want") or [])


def _take_place(
    one: "dict[str, Any]", answer: "dict[str, Any]", is_new_epoch: bool
) -> "tuple[dict[str, Any], bool]":
    fresh = dict(one)
    details = answer.get("details")
    if is_new_epoch:  # X2: the old place means nothing any more, compare instead
        fresh = _new_set()
        fresh.update({"reach": answer["reach"], "details": details, "ask": details is None})
        return fresh, True
    fresh["reach"] = answer["reach"]
    fresh["mark"] = answer.get("mark")
    fresh["ask"] = False
    if details is not None:
        fresh["details"] = details
        fresh["rounds"] = one["rounds"] + 1
        return fresh, True
    if answer.get("from") == one["place"]:
        fresh["place"] = max(one["place"], answer["place"])
    return fresh, fresh["place"] < fresh["reach"]


def settle(
    state: "State", *, now_ms: int, marks: "dict[str, Marks]", unsent: "dict[str, int]"
) -> "dict[str, Any]":
    """Compare marks after a reply was taken and its edits were merged.

    Args:
        state: as kept.
        now_ms: the phone's time [ms].
        marks: set to the phone's marks, the merged edits included.
        unsent: set to how many edits wait.
    Returns: dict, keys state; differing (set to incarnations whose ids the next request needs);
        again (true when there is more to do at once).
    """
    after = dict(state)
    after["sets"] = {}
    names: dict[str, list[str]] = {}
    again, matched = False, True
    for name in state["sets"]:
        one = dict(state["sets"][name])
        own = marks.get(name, {})
        if one["details"] is not None:
            names[name] = differing(one["details"], own)
            if not names[name]:
                one["place"] = max(one["place"], one["reach"])
                one.update({"details": None, "rounds": 0, "mark": total(own)})
            elif one["rounds"] > COMPARE_ROUNDS_LIMIT:
                one.update({"details": None, "ask": False})
            else:
                again = True
        at_rest = one["details"] is None and one["place"] == one["reach"] and not unsent.get(name)
        equal = one["mark"] is not None and list(one["mark"]) == total(own)
        if at_rest and not equal and one["mark"] is not None:
            if one["rounds"] <= COMPARE_ROUNDS_LIMIT:
                one["ask"] = again = True
        matched = matched and at_rest and equal
        after["sets"][name] = one
    if matched:
        after["matched_ms"] = now_ms
    return {"state": after, "differing": names, "again": again}


def completeness(
    state: "State", *, marks: "dict[str, Marks]", absent: "list[str]", voids: "list[str]"
) -> "list[dict[str, str]]":
    """Return why this copy is incomplete, an empty list when it is not.

    Args:
        state: as kept.
        marks: set to the phone's marks.
        absent: ids that someone saw and that have not arrived.
        voids: record ids of kind void: an id, or "incarnation.counter", that will never arrive.
    Returns: list of dict, keys code, sentence.
    """
    reasons = []
    if not state["heard_ms"]:
        reasons.append({"code": "never_heard", "sentence": "still fetching: nothing heard yet"})
    for name in sorted(state["sets"]):
        one = state["sets"][name]
        if one["place"] < one["reach"] or one["details"] is not None:
            reasons.append({"code": "not_read", "sentence": "still fetching the day"})
            break
    for name in sorted(marks):
        if any(_has_gap(i, marks[name][i], voids) for i in marks[name]):
            reasons.append({"code": "gap", "sentence": "still fetching: edits of one phone are missing"})
            break
    if any(not _is_void(one, voids) for one in absent):
        reasons.append({"code": "absent", "sentence": "still fetching: an edit that someone saw is missing"})
    return reasons


def _is_void(edit_id: str, voids: "list[str]") -> bool:
    return edit_id in voids or edit_id[: edit_id.rfind(".")] in voids


def _has_gap(incarnation: str, mark: "list[Any]", voids: "list[str]") -> bool:
    _count, gapless, _xor, highest, beyond = mark
    return any(
        counter not in beyond and incarnation + "." + str(counter) not in voids
        for counter in range(gapless + 1, highest)
    )


def add_to_marks(marks: "Marks", new_ids: "list[str]") -> "Marks":
    """Return the marks with edits added that were not held before.

    Args:
        marks: incarnation to [count, gapless, xor, highest, beyond]; not changed.
        new_ids: ids, each once, none of them held before.
    """
    after = dict(marks)
    fresh = set()
    for edit_id in new_ids:
        incarnation, counter, digest = edit_id.split(".")
        if incarnation not in fresh:
            fresh.add(incarnation)
            old = after.get(incarnation) or [0, 0, "0" * 24, 0, []]
            after[incarnation] = [old[0], old[1], int(old[2], 16), old[3], set(old[4])]
        mark = after[incarnation]
        mark[0] += 1
        mark[2] ^= _digest_number(digest)
        mark[3] = max(mark[3], int(counter))
        if int(counter) > mark[1]:
            mark[4].add(int(counter))
    for incarnation in fresh:
        mark = after[incarnation]
        while mark[1] + 1 in mark[4]:
            mark[1] += 1
            mark[4].remove(mark[1])
        mark[2] = _hex24(mark[2])
        mark[4] = sorted(mark[4])
    return after


def drop_from_marks(marks: "Marks", edit_id: str) -> "Marks":
    """Return the marks without one edit: its text was refused, so it is no edit anywhere."""
    incarnation, _counter, digest = edit_id.split(".")
    after = dict(marks)
    mark = list(after[incarnation])
    mark[0] -= 1
    mark[2] = _hex24(int(mark[2], 16) ^ _digest_number(digest))
    after[incarnation] = mark
    if not mark[0]:
        after.pop(incarnation)
    return after


def total(marks: "Marks") -> "list[Any]":
    """Return [count, xor] over all incarnations: equal on two copies that hold the same edits."""
    count, number = 0, 0
    for incarnation in marks:
        count += marks[incarnation][0]
        number ^= int(marks[incarnation][2], 16)
    return [count, _hex24(number)]


def details(marks: "Marks") -> "dict[str, list[Any]]":
    """Return incarnation to [count, gapless, xor], what one side sends of its marks."""
    return {i: [marks[i][0], marks[i][1], marks[i][2]] for i in marks}


def _digest_number(digest: str) -> int:
    octets = binascii.a2b_base64(digest.replace("-", "+").replace("_", "/").encode())
    return int.from_bytes(octets, "big")


def _hex24(number: int) -> str:
    text = "{:x}".format(number)
    return "0" * (24 - len(text)) + text


def read_request(body: "Any", *, sets_allowed: "list[str]") -> "dict[str, Any]":
    """Check the frame of a request, as the server does before it looks at any edit.

    Args:
        body: the parsed JSON.
        sets_allowed: the sets of the device's credential.
    Returns: the body, sound: protocol, nonce, rules, epoch, sets, heard_of.
    Raises: RuleError "not_an_exchange", with the part that is wrong.
    """
    if not isinstance(body, dict) or body.get("protocol") != PROTOCOL:
        raise _not_an_exchange("protocol", "must be " + PROTOCOL)
    if not isinstance(body.get("nonce"), str) or not 0 < len(body["nonce"]) <= 64:
        raise _not_an_exchange("nonce", "must be 1 to 64 characters")
    if not edits.is_whole(body.get("rules")):
        raise _not_an_exchange("rules", "must be a whole number")
    if not isinstance(body.get("epoch"), (str, type(None))):
        raise _not_an_exchange("epoch", "must be text, or null")
    if not isinstance(body.get("sets"), dict):
        raise _not_an_exchange("sets", "must name the sets that are exchanged")
    heard_of = body.get("heard_of") or []
    if not isinstance(heard_of, list) or len(heard_of) > 200:
        raise _not_an_exchange("heard_of", "must be at most 200 ids")
    if not all(edits.is_id(one) for one in heard_of):
        raise _not_an_exchange("heard_of", "must be ids of edits")
    count = 0
    for name in body["sets"]:
        if name not in edits.SETS:
            raise _not_an_exchange("sets", "must be floor or health")
        if name in sets_allowed:
            count += _check_set(body["sets"][name])
    if count > EDITS_LIMIT:
        raise _not_an_exchange("edits", "may be at most {}".format(EDITS_LIMIT))
    return body


def _check_set(one: "Any") -> int:
    """Refuse what is wrong with one set of a request; return how many edits it brings."""
    if not isinstance(one, dict) or not isinstance(one.get("edits"), list):
        raise _not_an_exchange("edits", "must be a list of texts")
    if not edits.is_whole(one.get("place")) or not 0 <= one["place"] <= edits.WHOLE_NUMBER_LIMIT:
        raise _not_an_exchange("place", "must be a whole number from 0")
    compare = one.get("compare") or {}
    if not isinstance(compare, dict):
        raise _not_an_exchange("compare", "must name incarnations")
    for incarnation in compare:
        ids = compare[incarnation]
        if not isinstance(ids, list) or not all(edits.is_id(i) for i in ids):
            raise _not_an_exchange("compare", "must list ids of edits for each incarnation")
    return len(one["edits"])


def _not_an_exchange(part: str, why: str) -> RuleError:
    return RuleError(
        "not_an_exchange",
        "the {} of this request {}; update the app".format(part, why),
        part=part,
    )
