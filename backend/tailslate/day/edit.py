"""One act by one person on one record: its canonical text, its id, what makes it malformed.

Knows no clock, network or database: the author's time, counter and salt come in as arguments.
E1 an edit is its text, made once and hashed as received. E2 there is exactly one way to write it.
E3 a text that is not written that way, is too large, or is of another day is malformed: no edit.

A sample text, and its parts in order:

    [1,"d7k2","floor","a1b2c3d4e5",12,"Zk3v9Q1x",1,1764079200000,"p-grip","","","task","t-17",
     [["done",["done",[["task/t-17/title","Bag stand 3"]]],["a1b2c3d4e5.11.0123456789abcdef"]]]]

(one line, no white space): format, day, set, incarnation, counter, salt, rules, at [ms since 1970
UTC], by, for whom, how, kind, record, changes. A change is field, value, and the ids it replaces.
"""

import binascii
import hashlib
import json
import re

from tailslate.craft.errors import RuleError

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

FORMAT = 1  # raised when the parts or their order change; a newer one is kept and relayed, never read
SETS = ("floor", "health")
WAYS = ("", "paper", "server", "import", "demo")  # how an edit came about; "" is by hand
TEXT_LIMIT_BYTES = 16384
VALUE_LIMIT_BYTES = 8192
DEPTH_LIMIT = 4
WHOLE_NUMBER_LIMIT = 9007199254740991  # 2**53 - 1: the largest that every JSON reader keeps exact
NAME = re.compile("^[a-z][a-z_]*$")
RECORD_ID = re.compile("^[A-Za-z0-9_.~:-]+$")  # no "/" (it parts kind, record and field) and no space
RECORD_ID_LIMIT = 200
COUNTER = re.compile("^[1-9][0-9]*$")
DIGEST = re.compile("^[A-Za-z0-9_-]+$")


class Edit:
    """An edit as read from its text.

    Attributes: text, id, day, set, incarnation, counter, rules, at_ms, by, for_whom, how, kind,
    record, changes (list of [field, value, [seen ids]]).
    """

    def __init__(self, text: str, edit_id: str, parts: "list[Any]") -> None:
        """Keep the text beside its parts; `read` makes these, nothing else should."""
        self.text = text
        self.id = edit_id
        self.day: str = parts[1]
        self.set: str = parts[2]
        self.incarnation: str = parts[3]
        self.counter: int = parts[4]
        self.rules: int = parts[6]
        self.at_ms: int = parts[7]
        self.by: str = parts[8]
        self.for_whom: str = parts[9]
        self.how: str = parts[10]
        self.kind: str = parts[11]
        self.record: str = parts[12]
        self.changes: list[Any] = parts[13]

    @property
    def record_key(self) -> str:
        """The record as "kind/id"."""
        return self.kind + "/" + self.record


def make(
    *,
    day: str,
    set_name: str,
    incarnation: str,
    counter: int,
    salt: str,
    rules: int,
    at_ms: int,
    by: str,
    kind: str,
    record: str,
    changes: "dict[str, Any]",
    seen: "dict[str, list[str]]",
    for_whom: str = "",
    how: str = "",
) -> Edit:
    """Return a new edit, written and read back.

    Args:
        day: id of the day.
        set_name: "floor" or "health".
        incarnation: random name of this run of the engine, ten of a-z and 0-9.
        counter: 1, 2, 3 ... per incarnation and set, no gaps.
        salt: eight random characters.
        rules: version of the rules that the author runs.
        at_ms: the author's wall time [ms since 1970 UTC].
        by: id of the person, "" for a server.
        kind: kind of the record.
        record: id of the record.
        changes: field to value.
        seen: field to the ids that this act replaces, as its author's screen showed them.
        for_whom: id of the person ticked for, else "".
        how: one of WAYS.
    Returns: the edit.
    Raises: RuleError, as `read` does, when what was given cannot be an edit.
    """
    rows = [[field, changes[field], sorted(seen.get(field, []))] for field in sorted(changes)]
    parts = [FORMAT, day, set_name, incarnation, counter, salt, rules, at_ms]
    parts += [by, for_whom, how, kind, record, rows]
    return read(_write(parts), day=day)


def read(text: str, *, day: str) -> Edit:
    """Return the edit that a text is, or refuse the text as malformed.

    Args:
        text: as received.
        day: id of the day that the text must be of.
    Returns: the edit, with its id recomputed from the text.
    Raises: RuleError with one of the codes text_too_large, text_not_canonical, text_not_an_edit,
        format_newer, foreign_day, value_not_allowed, value_too_large.
    """
    octets = _octets(text)
    try:
        parts = json.loads(text)
        canonical = isinstance(parts, list) and _write(parts) == text
    except (ValueError, RuntimeError, TypeError, MemoryError):
        canonical = False
    if not canonical:
        raise _not_canonical()
    _check_parts(parts, day, len(octets))
    digest = id_digest(octets)
    return Edit(text, parts[3] + "." + str(parts[4]) + "." + digest, parts)


def id_digest(octets: bytes) -> str:
    """Return the digest part of an id: the first 12 bytes of SHA-256, base64url, 16 characters.

    Args:
        octets: the canonical text in UTF-8.
    """
    cut = hashlib.sha256(octets).digest()[:12]
    return binascii.b2a_base64(cut).decode().strip().replace("+", "-").replace("/", "_")


def digest_of(edit_id: str) -> str:
    """Return the 16 characters of the digest in an id."""
    return edit_id[edit_id.rfind(".") + 1 :]


def counter_of(edit_id: str) -> "tuple[str, int]":
    """Return the incarnation and the counter that an id names."""
    incarnation, counter, _digest = edit_id.split(".")
    return incarnation, int(counter)


def is_id(value: "Any") -> bool:
    """Tell whether a value has the form of an id: incarnation, counter, digest."""
    if not isinstance(value, str) or len(value) > 60:
        return False
    parts = value.split(".")
    if len(parts) != 3 or not _is_token(parts[0]) or len(parts[2]) != 16:
        return False
    return len(parts[1]) < 10 and matches(COUNTER, parts[1]) and matches(DIGEST, parts[2])


def matches(pattern: "Any", value: "Any") -> bool:
    """Tell whether a value is text that fits a pattern up to its end.

    On CPython a "$" also fits before a line feed at the end, on MicroPython it does not; here neither does.

    Args:
        pattern: a compiled pattern that begins with "^" and ends with "$".
        value: anything.
    """
    return isinstance(value, str) and "\n" not in value and pattern.match(value) is not None


def is_whole(value: "Any") -> bool:
    """Tell whether a value is a whole number; True and False are none (they are in CPython)."""
    return isinstance(value, int) and value is not True and value is not False


def _write(parts: "Any") -> str:
    return _dumps(parts)


if b"\xc3\xa9".decode() in json.dumps([b"\xc3\xa9".decode()], separators=(",", ":")):

    def _dumps(parts: "Any") -> str:  # MicroPython: never escapes beyond ASCII
        return json.dumps(parts, separators=(",", ":"))

else:

    def _dumps(parts: "Any") -> str:
        return json.dumps(parts, separators=(",", ":"), ensure_ascii=False)  # server only


def _octets(text: str) -> bytes:
    """Return the text in UTF-8, or refuse its size or its characters."""
    if not isinstance(text, str):
        raise RuleError("text_not_an_edit", "an edit travels as one text; got something else")
    if len(text) > TEXT_LIMIT_BYTES:
        raise _too_large(len(text))
    try:
        octets = text.encode("utf-8")
    except (UnicodeError, ValueError):
        raise _bad_characters()
    if len(octets) > TEXT_LIMIT_BYTES:
        raise _too_large(len(octets))
    rest = text.replace("\\\\", "").replace('\\"', "").replace("\\n", "").replace("\\t", "")
    if "\\" in rest or "\x00" in text or re.search("[\x01-\x1f]", text):
        raise _bad_characters()
    at = octets.find(b"\xed")
    while at >= 0:  # three bytes ED A0..BF are half a surrogate pair: no character
        if octets[at + 1 : at + 2] >= b"\xa0":
            raise _bad_characters()
        at = octets.find(b"\xed", at + 1)
    return octets


def _too_large(size_bytes: int) -> RuleError:
    return RuleError(
        "text_too_large",
        "an edit may be at most {} bytes, this one has {}; shorten it or part it in two".format(
            TEXT_LIMIT_BYTES, size_bytes
        ),
        size_bytes=size_bytes,
        limit_bytes=TEXT_LIMIT_BYTES,
    )


def _bad_characters() -> RuleError:
    return RuleError(
        "text_not_canonical",
        "the text holds characters that no edit may hold (NUL, control characters, half of a "
        "surrogate pair) or escapes what must stand as itself; remove them and send it again",
    )


def _not_canonical() -> RuleError:
    return RuleError(
        "text_not_canonical",
        "the text is not in the one form that an edit is written in (no white space, no decimal "
        "numbers, nothing escaped that can stand as itself); it was damaged on its way or made by "
        "something else, send the original",
    )


def _not_an_edit(part: str, why: str) -> RuleError:
    return RuleError("text_not_an_edit", "the {} of this edit {}".format(part, why), part=part)


def _is_token(value: "Any") -> bool:
    return isinstance(value, str) and len(value) <= 40 and matches(RECORD_ID, value)


def _is_record_id(value: "Any") -> bool:
    return isinstance(value, str) and len(value) <= RECORD_ID_LIMIT and matches(RECORD_ID, value)


def _check_parts(parts: "list[Any]", day: str, size_bytes: int) -> None:
    if not parts or not is_whole(parts[0]) or parts[0] < 1:
        raise _not_an_edit("format", "must be a whole number from 1")
    if parts[0] > FORMAT:
        raise RuleError(
            "format_newer",
            "this edit has format {}, this copy reads up to {}; update to read it".format(parts[0], FORMAT),
            format=parts[0],
        )
    if len(parts) != 14:
        raise _not_an_edit("list", "must have 14 parts, it has {}".format(len(parts)))
    if parts[1] != day:
        raise RuleError("foreign_day", "this edit is of another day; send it to that day", day=day)
    if parts[2] not in SETS:
        raise _not_an_edit("set", "must be floor or health")
    if not _is_token(parts[3]) or "." in parts[3]:
        raise _not_an_edit("incarnation", "must be 1 to 40 letters and digits")
    if not is_whole(parts[4]) or not 0 < parts[4] < 1000000000:
        raise _not_an_edit("counter", "must be a whole number from 1 to 999999999")
    if not isinstance(parts[5], str) or len(parts[5]) != 8:
        raise _not_an_edit("salt", "must be 8 characters")
    for place, part in ((6, "rules version"), (7, "time")):
        if not is_whole(parts[place]) or not 0 <= parts[place] <= WHOLE_NUMBER_LIMIT:
            raise _not_an_edit(part, "must be a whole number from 0")
    for place, part in ((8, "author"), (9, "person ticked for")):
        if parts[place] != "" and not _is_record_id(parts[place]):
            raise _not_an_edit(part, "must be the id of a person, or empty")
    if parts[10] not in WAYS:
        raise _not_an_edit("way", "must be one of: by hand, paper, server, import, demo")
    if not isinstance(parts[11], str) or len(parts[11]) > 40 or not matches(NAME, parts[11]):
        raise _not_an_edit("kind", "must be a name in small letters")
    if not _is_record_id(parts[12]):
        raise _not_an_edit("record", "must be an id of 1 to 200 letters, digits and _ . ~ : -")
    _check_changes(parts[13], size_bytes)


def _check_changes(changes: "Any", text_bytes: int) -> None:
    if not isinstance(changes, list) or not changes:
        raise _not_an_edit("list of changes", "must hold one change or more")
    last = ""
    for change in changes:
        if not isinstance(change, list) or len(change) != 3:
            raise _not_an_edit("list of changes", "must hold field, value and ids seen")
        field, value, seen = change
        if not isinstance(field, str) or len(field) > 40 or not matches(NAME, field):
            raise _not_an_edit("field", "must be a name in small letters")
        if field <= last:
            raise _not_an_edit("list of changes", "must be sorted by field, each once")
        last = field
        if not isinstance(seen, list) or not all(is_id(one) for one in seen):
            raise _not_an_edit("ids seen", "must be ids of edits")
        if seen != sorted(set(seen)):
            raise _not_an_edit("ids seen", "must be sorted, each once")
        _check_value(field, value, 0)
        # No value is larger than the text that holds it, and few texts are as large as a value may be.
        size_bytes = len(_write(value).encode("utf-8")) if text_bytes > VALUE_LIMIT_BYTES else 0
        if size_bytes > VALUE_LIMIT_BYTES:
            raise RuleError(
                "value_too_large",
                "{} may hold at most {} bytes, got {}; shorten it".format(
                    field, VALUE_LIMIT_BYTES, size_bytes
                ),
                field=field,
            )


def _check_value(field: str, value: "Any", depth: int) -> None:
    if value is None or value is True or value is False or isinstance(value, str):
        return
    if is_whole(value) and -WHOLE_NUMBER_LIMIT <= value <= WHOLE_NUMBER_LIMIT:
        return
    if isinstance(value, list) and depth < DEPTH_LIMIT:
        for part in value:
            _check_value(field, part, depth + 1)
        return
    if isinstance(value, float):  # the two Pythons write these differently, so none has a canonical text
        raise _not_canonical()
    raise RuleError(
        "value_not_allowed",
        "{} may hold text, whole numbers within 2^53, yes, no, nothing, or lists of these {} deep".format(
            field, DEPTH_LIMIT
        ),
        field=field,
    )
