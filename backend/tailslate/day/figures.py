"""One worked-out answer: a figure, how it came about, or what to fill in to know it.

Knows no trade. F1 what is not known is a state of its own and says what to fill in: never a pass.
F2 `within` says what the sum says, and gives no leave. F3 a figure with an open end says "at least".
F4 a field with two answers is not known until someone picks.
"""

from tailslate.craft.errors import RuleError
from tailslate.craft.rounding import compare
from tailslate.day import cautions, kinds, merge, shown
from tailslate.day.edit import is_whole
from tailslate.day.gathered import VALUE, kind_of, number_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import Any

    from tailslate.day.gathered import Gathered

    Figure = dict[str, Any]
    Missing = dict[str, str]

PLAIN, WITHIN, OVER, UNKNOWN = "plain", "within", "over", "unknown"
WORDS = {PLAIN: "", WITHIN: "within, by the sum", OVER: "over", UNKNOWN: "not known"}


class Facts:
    """Reads the fields of one record and keeps account of those that nobody filled in.

    Attributes: key (of the record); records; missing (list of dict, keys record, field, sentence).
    """

    def __init__(self, key: str, records: "Gathered") -> None:
        """Take the record to read."""
        self.key = key
        self.records = records
        self.missing: list[Missing] = []

    def number(self, field: str, ask: str = "") -> "float | None":
        """Return a quantity or a count; when nobody filled it in, it is missing.

        Args:
            field: name of the field.
            ask: what to do about it, "" for the field's own label.
        """
        found = self.known(field)
        if found is None:
            self.miss(field, ask)
        return found

    def above_zero(self, field: str, ask: str) -> "float | None":
        """Return a quantity that can be no 0; a 0 that somebody typed is as good as nothing.

        Args:
            field: name of the field.
            ask: what to do about it.
        """
        found = self.number(field, ask)
        if found is not None and compare(found, 0.0) <= 0:
            self.miss(field, ask)
            return None
        return found

    def known(self, field: str) -> "float | None":
        """Return a quantity or a count; nobody has to fill it in."""
        fields = self.records.records.get(self.key)
        cell = fields.get(field) if fields else None
        if not cell or not cell[merge.LIVE]:
            return None
        if cell[merge.MARK] == merge.TWO:
            known = kinds.field_of(kind_of(self.key), field)
            self.miss(field, (known.label if known else field) + " has two answers: pick one")
            return None
        value = cell[merge.LIVE][0][VALUE]
        return value * 1.0 if is_whole(value) else number_of(value)

    def miss(self, field: str, ask: str = "") -> None:
        """Note that a field is not filled in, once.

        Args:
            field: name of the field.
            ask: what to do about it, "" for the field's own label.
        """
        if not [one for one in self.missing if one["field"] == field]:
            known = kinds.field_of(kind_of(self.key), field)
            said = ask or "fill in: " + (known.label if known else field)
            self.missing.append({"record": self.key, "field": field, "sentence": said})


def plain(label: str, words: str, line: str = "", *, caution: str = "", **more: "Any") -> "Figure":
    """Return a figure that stands for itself.

    Args:
        label: what it is.
        words: the figure with its unit.
        line: how it came about.
        caution: code of the caution that stands beside it, "" for none.
        more: state, missing (list), value (raw number) where they are not at their usual value.
    Returns: dict, keys label, state, word, shown, line, missing, caution, value.
    """
    state = more.get("state", PLAIN)
    return {
        "label": label,
        "state": state,
        "word": WORDS[state],
        "shown": words,
        "line": line,
        "missing": more.get("missing", []),
        "caution": cautions.caution(caution) if caution else None,
        "value": more.get("value"),
    }


def unknown(
    label: str, missing: "list[Missing]", line: str = "", *, caution: str = "", words: str = shown.NOT_KNOWN
) -> "Figure":
    """Return a figure that is not known, with what to fill in.

    Args:
        label: what it is.
        missing: list of dict, keys record, field, sentence.
        line: how it came about; by default what is missing first.
        caution: code of the caution that stands beside it, "" for none.
        words: what is known all the same, such as "at least 4 A".
    """
    said = line or (missing[0]["sentence"] if missing else "")
    return plain(label, words, said, caution=caution, state=UNKNOWN, missing=missing)


def tried(label: str, make: "Callable[..., Figure]", *asked: "Any", caution: str = "") -> "Figure":
    """Return a figure, or why it cannot be worked out: a value that no rule accepts is not known.

    Args:
        label: what it is.
        make: returns the figure.
        asked: what `make` is called with.
        caution: code of the caution that stands beside it.
    """
    try:
        return make(*asked)
    except RuleError as error:
        return unknown(label, [], error.sentence, caution=caution)


def against(low: float, high: "float | None", limit: "float | None", *, reaches: bool = False) -> str:
    """Return how a figure known between two ends stands to a limit: within, over or unknown.

    Args:
        low: lower end, in the limit's unit.
        high: upper end; None is open: something in it is not known.
        limit: None is not known.
        reaches: a figure that reaches the limit is over it.

    >>> against(3.0, 5.0, 6.0), against(7.0, None, 6.0), against(5.0, 7.0, 6.0), against(1.0, 1.0, None)
    ('within', 'over', 'unknown', 'unknown')
    """
    if limit is None:
        return UNKNOWN
    edge = 0 if reaches else 1
    if compare(low, limit) >= edge:
        return OVER
    if high is None or compare(high, limit) >= edge:
        return UNKNOWN
    return WITHIN


def over(things: "list[dict[str, Any]]") -> "list[dict[str, Any]]":
    """Return what speaks against a shot among its figures, one sentence each.

    Args:
        things: list of dict, keys record, title, figures, caution.
    Returns: list of dict, keys record, label, sentence, caution (of the figure, else of its thing).
    """
    found = []
    for thing in things:
        for one in thing["figures"]:
            if one["state"] == OVER:
                said = thing["title"] + ", " + one["label"].lower() + ": " + one["shown"]
                said += "; " + one["line"] if one["line"] else ""
                told = {"record": thing["record"], "label": one["label"], "sentence": said}
                told["caution"] = one["caution"] or thing["caution"]
                found.append(told)
    return found


def from_words(key: str, records: "Gathered") -> str:
    """Return where a record's figures are from, as a sentence's end; "" when nobody said.

    Args:
        key: record key of a kind with the field `figures_from`.
        records: the record.
    """
    said = records.text(key, "figures_from")
    return "; figures from: " + said if said else ""
