"""One way out of too little light: what it is called, what it costs, what would do it.

Minutes are common practice, no source: they rank, they promise nothing.
"""

from tailslate.craft.rounding import decimal_text

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.trial import Act

    Way = dict[str, Any]

MINUTES = {
    "open_up": 1, "raise_index": 1, "open_up_and_raise_index": 1, "drop_layer": 3, "move_in": 5,
    "swap_layer": 8, "other_lamp": 15,
}  # fmt: skip
EVERY_SHOT = "in every shot that uses it"


def new(name: str, title: str, acts: "list[Act]", costs: "list[str]") -> "Way":
    """Return a way before it is tried: keys way, title, acts, costs, minutes, caution, missing, on_hand, is_enough.

    Args:
        name: one of MINUTES.
        title: what to do, in words.
        acts: what would do it, the dimmer aside.
        costs: sentences.
    """
    made: Way = {"way": name, "title": title, "acts": acts, "costs": costs, "minutes": MINUTES[name]}
    made.update({"caution": None, "missing": [], "on_hand": True, "is_enough": None})
    return made


def gain_words(gain: float) -> str:
    """Return a gain of light [stop] in words."""
    text = decimal_text(gain, 1)
    return text + (" stop" if text == "1.0" else " stops")
