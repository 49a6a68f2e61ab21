"""Which records a sheet reads, as steps that a store can follow without knowing any rule.

Steps are taken in order, each once, over what is gathered so far (to start with: the shot itself).
R1 a step is [kind, field, of kind]:
  [kind, field, of kind]  all records of that kind whose field points to a gathered record of `of kind`
  [kind, "~", ""]         the derived tasks whose id names first a gathered record, of whatever kind
  ["", field, kind]       the records that this field of a gathered record of that kind points to
  [kind, "", ""]          all records of that kind
  ["person", "by", ""]    the people who made the live edits of what is gathered, or for whom
R2 what a value points to goes by its field's type in the table of kinds: a reference holds the id of its
`kind`; an any_reference holds "kind/id"; cells and the inputs of a tick hold "kind/id/field".
"""

from tailslate.day import gathered, task_id

TYPE_CHECKING = False
if TYPE_CHECKING:
    from tailslate.day.gathered import Gathered

    Step = tuple[str, str, str]

# What belongs to a shot: a hold on any of these holds it, and two answers in any of these are asked.
OWN = (
    ("", "scene", "shot"),
    ("", "setup", "shot"),
    ("level", "shot", "shot"),
    ("reading", "shot", "shot"),
    ("serves", "shot", "shot"),
    ("mark", "shot", "shot"),
    ("task", "shot", "shot"),
    ("task", "scene", "scene"),
    ("", "source", "level"),
    ("", "point", "level"),
    ("", "point", "reading"),
    ("layer", "source", "source"),
    ("rig", "source", "source"),
    ("", "rig", "layer"),
    ("", "circuit", "source"),
    ("", "dressing", "serves"),
    ("", "point", "serves"),
    ("drink", "scene", "scene"),
    ("ingredient", "drink", "drink"),
    ("food", "scene", "scene"),
    ("taping", "shot", "shot"),
    ("taping", "scene", "scene"),
    ("taping", "source", "source"),
    ("booking", "shot", "shot"),
    ("task", "~", ""),
)
# What is read beside it: inputs of ticks, requests, all holds with their targets, and who said so.
BESIDE = (
    ("reading", "of_source", "source"),  # of a source alone, in any shot: it corrects the source here too
    # what else stands in the place, and hangs on its circuits
    ("source", "scene", "scene"),
    ("", "circuit", "source"),
    ("source", "circuit", "circuit"),
    ("layer", "source", "source"),
    ("rig", "source", "source"),
    ("dressing", "scene", "scene"),
    ("serves", "dressing", "dressing"),  # in which other shots it is somebody's bounce
    ("", "shot", "serves"),
    ("template", "", ""),
    ("", "roll", "mark"),
    ("", "roll", "taping"),
    ("used", "on", "drink"),
    ("day", "", ""),
    ("", "relies_on", "task"),
    ("", "done", "task"),
    ("request", "shot", "shot"),
    ("word", "shot", "shot"),
    ("hold", "", ""),
    ("", "on", "hold"),
    ("", "shot", "hold"),
    ("", "scene", "hold"),
    ("", "kit", "booking"),
    ("booking", "kit", "kit"),
    ("", "shot", "booking"),  # who else needs it, perhaps at the same time
    ("layer", "source", "source"),  # parts of what a hold is on: an edit in one brings the whole back
    ("person", "by", ""),
)
SHOT_STEPS = OWN + BESIDE
DAY_STEPS = (
    ("day", "", ""),
    ("scene", "", ""),
    ("shot", "", ""),
    ("person", "", ""),
    ("hold", "", ""),
    ("request", "", ""),
    ("", "on", "hold"),
    ("layer", "source", "source"),
)


def follow(start: "list[str]", steps: "tuple[Step, ...]", records: "Gathered") -> "list[str]":
    """Return the keys that the steps reach, sorted.

    Args:
        start: record keys to begin with.
        steps: tuple of (kind, field, of kind), as above.
        records: at least all that can be reached; what is removed is reached too, for it says so itself.
    """
    found = {key for key in start if key in records.records}
    for kind, field, of_kind in steps:
        if (kind, field) == ("person", "by"):
            found.update(_authors(found, records))
        elif not field:
            found.update(records.keys_of(kind))
        elif field == "~":
            found.update([key for key in records.keys_of(kind) if task_id.first_named(key) in found])
        elif kind:
            found.update(_pointing(kind, field, of_kind, found, records))
        else:
            for key in records.keys_of(of_kind):
                if key in found:
                    reached = gathered.pointed_at(of_kind, field, records.value(key, field))
                    found.update([one for one in reached if one in records.records])
    return sorted(found)


def _pointing(kind: str, field: str, of_kind: str, found: "set[str]", records: "Gathered") -> "list[str]":
    keys = []
    for key in records.keys_of(kind):
        target = records.target(key, field)
        if target in found and gathered.kind_of(target) == of_kind:
            keys.append(key)
    return keys


def _authors(found: "set[str]", records: "Gathered") -> "list[str]":
    people = set()
    for key in found:
        for field in records.records[key]:
            for entry in records.records[key][field][1]:
                people.update(["person/" + entry[gathered.BY], "person/" + entry[gathered.FOR_WHOM]])
    return [key for key in people if key in records.records]


def table() -> "dict[str, list[list[str]]]":
    """Return the steps as plain lists: {"shot": [...], "day": [...]}."""
    return {"shot": [list(step) for step in SHOT_STEPS], "day": [list(step) for step in DAY_STEPS]}
