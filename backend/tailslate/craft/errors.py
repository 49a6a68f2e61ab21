"""RuleError: the one way in which craft and day refuse an input.

The code is for programs and screens, the sentence for people, the facts are the numbers in it.
Codes that any function may give for a plain number (facts: field, value, limit, unit):
not_a_number, not_positive, negative, outside_range, order_wrong. Others are named where raised.
"""

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any


UNITS = (
    "m", "m2", "mm", "kg", "n", "kn", "nm", "lx", "fc", "cd", "k", "w", "wh", "a", "ma", "v", "hz", "deg", "s", "min",
    "h", "l", "ml", "c", "stops", "mired", "ratio", "percent", "per",
)  # fmt: skip


def _spoken(sentence: str) -> str:
    """Return a sentence in which what carries its unit in its name is called as people call it: off_axis_deg, off axis."""
    return " ".join([_word(one) for one in sentence.split(" ")]) if "_" in sentence else sentence


def _word(word: str) -> str:
    name = word.rstrip(",;:.")
    parts = name.split("_")
    if len(parts) == 1 or parts[-1] not in UNITS:
        return word
    while len(parts) > 1 and parts[-1] in UNITS:
        parts.pop()
    return " ".join(parts) + word[len(name) :]


class RuleError(Exception):
    """An input that a rule refuses: a code, a sentence with the next step, the facts.

    Args:
        code: a short name of the refusal, the same for ever.
        sentence: field, value, limit and next step; names with their unit are put in plain words.
        facts: the numbers and names in the sentence, by field.
    """

    def __init__(self, code: str, sentence: str, **facts: "Any") -> None:
        sentence = _spoken(sentence)
        super().__init__(sentence)
        self.code = code
        self.sentence = sentence
        self.facts = facts
