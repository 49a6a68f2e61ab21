"""RuleError: the one way in which craft and day refuse an input.

The code is for programs and screens, the sentence for people, the facts are the numbers in it.
Codes that any function may give for a plain number (facts: field, value, limit, unit):
not_a_number, not_positive, negative, outside_range, order_wrong. Others are named where raised.
"""

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any


class RuleError(Exception):
    """An input that a rule refuses: a code, a sentence with the next step, the facts.

    Args:
        code: a short name of the refusal, the same for ever.
        sentence: field, value, limit and next step, in plain words.
        facts: the numbers and names in the sentence, by field.
    """

    def __init__(self, code: str, sentence: str, **facts: "Any") -> None:
        super().__init__(sentence)
        self.code = code
        self.sentence = sentence
        self.facts = facts
