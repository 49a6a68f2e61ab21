"""What a shot holds, looked up once for the templates that ask by it. Records and the sheet's figures -> one place to ask.

Knows no template and no tick.
"""

from tailslate.day import names, rows, shown

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered

    Asked = tuple[list[str], str, str, str]  # records, amount, unit, words beside it


class Shot:
    """What a shot holds, looked up once.

    Attributes: key, scene, setup (record keys, "" for none); levels (keys of what burns or may, with its source
    there); source_of (level to source); sources, rigs, circuits, drinks, foods (sorted keys); layers (source to
    keys); figures (record to label to figure); frame and rolls (the sheet's); records.
    """

    def __init__(self, key: str, things: "dict[str, Any]", records: "Gathered") -> None:
        """Take the shot and the sheet's rigging, power, drinks, tape and frame."""
        self.key = key
        self.records = records
        self.frame = things["frame"]
        self.rolls = things["tape"]["rolls"]
        self.scene = self._there(records.target(key, "scene"))
        self.setup = self._there(records.target(key, "setup"))
        self.sources = rows.sources(key, records)
        self.rigs = rows.rig_keys(key, records)
        self.source_of: dict[str, str] = {}
        for level in records.pointing("level", "shot", key):
            source = records.target(level, "source")
            if source in self.sources and records.text(level, "on") != "no":
                self.source_of[level] = source
        self.levels = sorted(self.source_of)
        self.layers = {one: _from_the_lamp(one, records) for one in self.sources}
        circuits = {self._there(records.target(one, "circuit")) for one in self.sources}
        self.circuits = sorted([one for one in circuits if one])
        self.drinks = records.pointing("drink", "scene", self.scene) if self.scene else []
        self.foods = records.pointing("food", "scene", self.scene) if self.scene else []
        self.figures: dict[str, dict[str, Any]] = {}
        power = things["power"]
        for thing in (
            things["rigging"]
            + power["circuits"]
            + power["batteries"]
            + things["drinks"]
            + things["tape"]["jobs"]
        ):
            labels = self.figures.setdefault(thing["record"], {})
            for figure in thing["figures"]:
                labels[figure["label"]] = figure

    def _there(self, key: str) -> str:
        return key if key and self.records.is_there(key) else ""

    def figure(self, record: str, label: str) -> "Any":
        """Return a figure of the sheet, None when it has none."""
        return self.figures.get(record, {}).get(label)

    def words(self, record: str, label: str) -> str:
        """Return what a figure shows, "" when it has none or is not known at all."""
        found = self.figure(record, label)
        return "" if not found or found["shown"] == shown.NOT_KNOWN else str(found["shown"])

    def named(self, key: str) -> str:
        """Return what a record is called."""
        return names.name_of(key, self.records)

    def said(self, key: str, field: str) -> str:
        """Return a field in words, "" when nobody filled it in."""
        held = self.records.value(key, field)
        return "" if held is None else names.value_words(key, field, held, self.records)

    def of_roles(self, roles: "tuple[str, ...]") -> "list[str]":
        """Return the levels in these roles."""
        return [one for one in self.levels if self.records.text(one, "role") in roles]

    def rigs_of(self, source: str) -> "list[str]":
        """Return the rigs of a source that are in the shot."""
        return self.records.pointing("rig", "source", source)

    def is_set_up(self) -> bool:
        """Tell whether anyone said how the shot is made: a lamp or a camera position."""
        return bool(self.levels or self.setup)

    def scene_says(self, field: str, word: str) -> bool:
        """Tell whether the scene says that word of a field; what nobody said is unknown."""
        return bool(self.scene) and (self.records.text(self.scene, field) or "unknown") == word


def _from_the_lamp(source: str, records: "Gathered") -> "list[str]":
    """Return the layers before a source, the nearest to the lamp first."""

    def place(layer: str) -> "tuple[int, str]":
        order = records.whole(layer, "order")
        return (rows.LAST if order is None else order, layer)

    return sorted(records.pointing("layer", "source", source), key=place)
