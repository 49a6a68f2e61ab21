"""A whole day as one file: what it says of itself, and which of its edits are as they were written. Knows no store.

{"file": "tailslate-day-1", "day": id, "title": text, "digests": {"floor": text}, "sets": {"floor": [text, ...]}}

F1 every edit stands as it was written, so taking a file in twice changes nothing.
F2 `digests` joins the last 16 characters of each edit's id: what is damaged is named by its place, the rest is whole.
F3 a file lets go of no hold and of no allergy: a server's word on those is taken from a server alone.
"""

from tailslate.craft.errors import RuleError
from tailslate.day import edit as edits

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

FORMAT = "tailslate-day-1"
FAMILY = "tailslate-day-"
DIGEST_LETTERS = 16
LIMIT_BYTES = 64000000  # some 200 000 edits: twenty days as large as any was
WAITS_FOR_SERVER = ("hold", "allergy")  # kinds of record on which a verdict from a file does not count
EXPORT_AGAIN = "export the day again on the phone or server that has it"


def whole(day: str, title: str, sets: "dict[str, list[str]]") -> "dict[str, Any]":
    """Return what a file holds, digests included.

    Args:
        day: id of the day.
        title: of the day.
        sets: set name to its edits' texts.
    """
    digests = {}
    for name in sets:
        digests[name] = "".join([edits.id_digest(text.encode("utf-8")) for text in sets[name]])
    return {"file": FORMAT, "day": day, "title": title, "digests": digests, "sets": sets}


def closed(text: str) -> str:
    """Return a file that was cut off, closed behind its last whole edit; "" when it holds none.

    Args:
        text: JSON text that does not end.
    """
    end = text.rfind(']"')  # only an edit's text ends so: within one each quotation mark is escaped
    return text[: end + 2] + "]}}" if end >= 0 else ""


def read_head(
    head: "Any", *, day: str = "", size_bytes: int = 0, sets: "tuple[str, ...]" = edits.SETS
) -> "list[dict[str, Any]]":
    """Return what is wrong with a file as a whole, by part; refuse what is no day.

    Args:
        head: what the file holds, with the number of edits in place of each set's list.
        day: id of the day that it must be of; "" takes any.
        size_bytes: of the file.
        sets: names of the sets that may be held here.
    Returns: list of dict, keys part (name of a set), place (0: the whole part), code, sentence. A part with
        code "not_for_this_phone" is to be left out.
    Raises: RuleError file_too_large, not_a_day, file_newer, file_damaged, another_day.
    """
    if size_bytes > LIMIT_BYTES:
        sentence = "this file has {} bytes, a day may have {}; choose the file of one day"
        raise RuleError("file_too_large", sentence.format(size_bytes, LIMIT_BYTES))
    form = head.get("file") if isinstance(head, dict) else None
    if form != FORMAT:
        if isinstance(form, str) and form.startswith(FAMILY):
            sentence = "this file is {}, this version reads up to {}; update the app, then choose it again"
            raise RuleError("file_newer", sentence.format(form[:40], FORMAT))
        raise RuleError("not_a_day", "this file is no day; choose one that Tailslate exported")
    if not _is_named(head):
        raise RuleError("file_damaged", "this file lacks its day, title or sets; " + EXPORT_AGAIN)
    if day and head["day"] != day:
        sentence = "this file is of another day ({}); open that day, or choose the file of this one"
        raise RuleError("another_day", sentence.format(head["title"][:80]), day=head["day"])
    found = []
    for name in sorted(head["sets"]):
        if name not in sets:
            found.append(
                _fault(name, 0, "not_for_this_phone", "{} records may not be held here".format(name))
            )
            continue
        digests = digests_of(head, name)
        named = len(digests) // DIGEST_LETTERS
        if digests and named != head["sets"][name]:
            sentence = "{} of {} edits are there: the file is cut off; {}"
            found.append(_fault(name, 0, "cut_off", sentence.format(head["sets"][name], named, EXPORT_AGAIN)))
    return found


def _is_named(head: "dict[str, Any]") -> bool:
    day, sets = head.get("day"), head.get("sets")
    return (
        isinstance(head.get("title"), str)
        and edits.matches(edits.RECORD_ID, day)
        and isinstance(sets, dict)
        and all(edits.is_whole(sets[name]) for name in sets)
        and isinstance(head.get("digests", {}), dict)
    )


def digests_of(head: "dict[str, Any]", name: str) -> str:
    """Return the digests that a file gives of a set, "" when it gives none."""
    digests = head.get("digests", {}).get(name, "")
    return digests if isinstance(digests, str) else ""


def _fault(part: str, place: int, code: str, sentence: str) -> "dict[str, Any]":
    return {"part": part, "place": place, "code": code, "sentence": sentence}


def read_page(
    texts: "list[Any]", *, day: str, part: str, digests: str = "", judged: "dict[str, str]"
) -> "tuple[list[edits.Edit | None], list[dict[str, Any]]]":
    """Return the edits of some texts of a set, None where one is not to be taken, and why not.

    Args:
        texts: as the file holds them.
        day: id of the file's day.
        part: name of the set.
        digests: of these texts, "" when the file has none.
        judged: id of an edit to its kind, for what verdicts in the file are about.
    """
    taken: list[edits.Edit | None] = []
    faults = []
    for place, text in enumerate(texts):
        code, sentence, one = "", "", None
        try:
            one = edits.read(text, day=day)
        except RuleError as error:
            code, sentence = error.code, error.sentence
        wanted = digests[place * DIGEST_LETTERS : (place + 1) * DIGEST_LETTERS]
        if wanted and (one is None or edits.digest_of(one.id) != wanted):
            code, sentence = "changed", "it is not what was exported; " + EXPORT_AGAIN
        elif one and one.set != part:
            code, sentence = "wrong_set", "it is of the set {}; {}".format(one.set, EXPORT_AGAIN)
        elif one and one.kind == "verdict" and judged.get(one.record) in WAITS_FOR_SERVER:
            code, sentence = "waits_for_server", "the server says it again itself: a file lets go of no hold"
        taken.append(None if code else one)
        if code:
            faults.append(_fault(part, place + 1, code, sentence))
    return taken, faults
