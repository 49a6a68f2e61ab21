"""Keys cut and joined: "layer/l-2" of "layer/l-2/gap_m". Knows no records.

On the phone a text that is cut or joined costs ten times a look into a dict (each new text is sought among all names of
the program), and a sheet cuts the same few thousand keys at every edit. What follows from a key alone is therefore
kept; it can never be out of date.
"""

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

KEPT = 4000  # keys of a few shots; the phone's memory is small
_kinds: "dict[str, str]" = {}
_ends: "dict[str, tuple[str, str]]" = {}
_joined: "dict[str, dict[str, str]]" = {}


def room(kept: "dict[Any, Any]", most: int = KEPT) -> None:
    """Empty what is kept once it is full."""
    if len(kept) >= most:
        kept.clear()


def kind_of(key: str) -> str:
    """Return the kind in a record key."""
    known = _kinds.get(key)
    if known is None:
        room(_kinds)
        known = _kinds[key] = key[: key.find("/")]
    return known


def ends_of(cell_key: str) -> "tuple[str, str]":
    """Return the record key and the field in a cell key."""
    known = _ends.get(cell_key)
    if known is None:
        room(_ends)
        cut = cell_key.rfind("/")
        known = _ends[cell_key] = (cell_key[:cut], cell_key[cut + 1 :])
    return known


def record_of(cell_key: str) -> str:
    """Return the record key in a cell key: "layer/l-2" of "layer/l-2/gap_m"."""
    return ends_of(cell_key)[0]


def joined(first: str, last: str) -> str:
    """Return a cell key of a record and a field, or a record key of a kind and an id.

    >>> joined("layer/l-2", "gap_m"), joined("layer", "l-2")
    ('layer/l-2/gap_m', 'layer/l-2')
    """
    own = _joined.get(first)
    if own is None:
        room(_joined, 500)
        own = _joined[first] = {}
    known = own.get(last)
    if known is None:
        known = own[last] = first + "/" + last
    return known
