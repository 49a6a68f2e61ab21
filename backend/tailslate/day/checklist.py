"""The tasks that a set-up implies, with quantities: set-up -> rows. Computed, never stored; only their state is.

A tick of such a row is a record of kind `task` whose id follows from the template and what it is for, so two
phones make the same one. A1 what a record's own tick already asks (dressing in place, mark laid, drink mixed,
allergy round, safety on) is that row, not a second one. A2 every row names its template and what it comes from.
A3 a tick whose task is no longer derived stays to be seen as 'no longer asked'.
"""

from tailslate.day import cautions, derived, rows, task_id, templates, ticks
from tailslate.day import checklist_things as things
from tailslate.day.checklist_shot import Shot
from tailslate.day.gathered import id_of, kind_of
from tailslate.day.keys import joined

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.checklist_shot import Asked
    from tailslate.day.gathered import Gathered
    from tailslate.day.rows import Row
    from tailslate.day.templates import Template

FIRST = 200000  # order of derived rows: after those that people gave an order, and after those without one
PRACTICALS = {"key": "practicals", "title": "Practicals"}
# What the ticks that records carry take, and what comes before them: minutes, needs, when.
CARRIED = {
    "rig/safety_on": ((2, 3, 5), ("rig_stand",)),
    "dressing/in_place": ((2, 5, 15), ()),
    "mark/laid": ((1, 2, 4), ()),
    "drink/round_done": ((2, 5, 10), ()),
    "drink/mixed": ((5, 10, 20), ("label_drink",)),
    "food/round_done": ((2, 5, 10), ()),
}


def add(
    shot: str, made: "dict[str, Any]", sheet: "dict[str, Any]", reached: "list[str]", records: "Gathered"
) -> None:
    """Add the derived rows of a shot to its rows, and say of all rows what they come from.

    Args:
        shot: record key of the shot.
        made: rows by place, as `sheet.of_shot` makes them; its tasks are added to.
        sheet: the sheet's rigging, power, drinks, tape and frame.
        reached: record keys that belong to the shot, removed ones too.
        records: the shot with what it reads.
    """
    found = Shot(shot, sheet, records)
    replaced = [records.target(row["record"], "instead_of") for row in made["tasks"]]
    fresh = []
    for template, asked in _asked(found):
        key = task_id.make(template.name, asked[0])
        if key not in replaced:
            fresh.append(_row(key, template, asked, found))
    _carried(made, found)
    _tell_needs(rows.all_rows(made) + fresh)
    _order(fresh, found)
    made["tasks"] = made["tasks"] + rows.in_order(fresh + _orphans(fresh, replaced, reached, records))


def _asked(shot: Shot) -> "list[tuple[Template, Asked]]":
    """Return what every template asks for, the production's own last."""
    records, found = shot.records, []
    own = records.of_kind("template")
    left_out = [records.text(key, "instead_of") for key in own]
    for template in templates.TEMPLATES:
        if template.name not in left_out:
            for asked in things.ASK[template.name](shot):
                found.append((template, asked))
    for key in own:
        made = derived.of_record(key, records)
        if made and shot.is_set_up():
            amount, unit = records.text(key, "amount"), records.text(key, "unit")
            for record in things.of_kind(shot, made.over[0]):
                found.append((made, ([record], amount, unit, "")))
    return found


def _row(key: str, template: "Template", asked: "Asked", shot: Shot) -> "Row":
    named, amount, unit, words = asked
    comes_from = _comes_from(named[-1], shot)
    title = template.title.replace("{}", shot.named(named[-1]))
    said = "" if title.startswith(comes_from) else "from " + comes_from
    row = rows.row(
        key,
        "done",
        shot.records,
        title=shot.records.text(key, "title") or title,
        second=", ".join([one for one in (words, said) if one]),
        department=template.department,
        must=template.must,
        amount=amount,
        unit=unit,
        caution=_caution(template, named[-1], shot.records),
        fold=_fold(template, named[-1], shot),
    )
    row["derived"] = _derived(template.name, comes_from, template.when, template.minutes)
    return row


def _derived(name: str, comes_from: str, when: str, minutes: "tuple[int, int, int]") -> "dict[str, Any]":
    return {"template": name, "from": comes_from, "when": when, "minutes": list(minutes), "needs": []}


def _caution(template: "Template", key: str, records: "Gathered") -> "dict[str, str] | None":
    if template.caution:
        return cautions.caution(template.caution)
    if kind_of(key) in ("drink", "food"):
        return rows.of_glass(key, records)
    return cautions.of_record(key, records)


def _comes_from(key: str, shot: Shot) -> str:
    """Return in words from what a task comes: "Saloon key, over people"."""
    records, kind = shot.records, kind_of(key)
    if kind == "shot":
        return shot.named(shot.setup) if shot.setup else "the shot's lamps"
    if kind == "scene":
        return "scene " + shot.named(key)
    if kind == "layer":
        return shot.named(records.target(key, "source"))
    if kind != "rig":
        return shot.named(key)
    source = records.target(key, "source")
    overhead = records.text(key, "overhead")
    where = {"yes": ", over people", "no": ""}.get(overhead, ", nobody said whether over people")
    return (shot.named(source) if records.is_there(source) else shot.named(key)) + where


def _fold(template: "Template", key: str, shot: Shot) -> "dict[str, str] | None":
    if template.name == "bulb_in":
        return PRACTICALS
    if template.name == "lay_cable":
        circuit = shot.records.target(key, "circuit")
        return {"key": circuit, "title": shot.named(circuit)}
    thing = things.thing_of(shot, key)
    return {"key": thing, "title": shot.named(thing)} if thing else None


def _order(fresh: "list[Row]", shot: Shot) -> None:
    """Give derived rows their places: stand by stand in the order of the sources, then the shot's; what is for
    between takes and afterwards comes last."""
    whens = (templates.BEFORE, templates.BETWEEN, templates.AFTER)

    def place(row: "Row") -> "tuple[int, int, str, int, str]":
        fold = row["fold"]["key"] if row["fold"] else ""
        source = shot.records.target(fold, "source") if kind_of(fold) == "rig" else fold
        order = shot.records.whole(source, "order") if kind_of(source) in ("source", "drink") else None
        template = templates.PLACE.get(row["derived"]["template"], len(templates.TEMPLATES))
        when = whens.index(row["derived"]["when"])
        return (when, rows.LAST if order is None else order, fold or "~", template, row["record"])

    placed = [
        place(row) + (at,) for at, row in enumerate(fresh)
    ]  # each once: MicroPython asks a key again and again
    for order, found in enumerate(sorted(placed)):
        fresh[found[-1]]["order"] = FIRST + order


def _tell_needs(everything: "list[Row]") -> None:
    """Say of each row which ticks come first: of the same stand or glass where there is one, of the same record,
    or else all of that template."""
    of_template: dict[str, list[tuple[str, str, str]]] = {}
    placed = []
    for row in everything:
        if row["derived"]:
            fold = row["fold"]["key"] if row["fold"] else ""
            last = _last_named(row["record"])
            cell = joined(row["record"], row["field"])
            of_template.setdefault(row["derived"]["template"], []).append((fold, last, cell))
            placed.append((row, fold, last))
    for row, fold, last in placed:
        name, found = row["derived"]["template"], []
        known = templates.BY_NAME.get(name)
        for need in known.needs if known else CARRIED.get(name, ((), ()))[1]:
            alike = of_template.get(need, [])
            near = [one for one in alike if fold and one[0] == fold]
            found.extend([one[2] for one in near or [one for one in alike if one[1] == last] or alike])
        row["derived"]["needs"] = found


def _last_named(key: str) -> str:
    found = task_id.parse(key)
    return found[1][-1] if found else key


def _carried(made: "dict[str, Any]", shot: Shot) -> None:
    """Say of the ticks that records carry what they come from, how many, and what comes first."""
    for row in rows.all_rows(made):
        name = joined(kind_of(row["record"]), row["field"])
        if name in CARRIED:
            comes_from = _comes_from(row["record"], shot)
            row["derived"] = _derived(name, comes_from, templates.BEFORE, CARRIED[name][0])
            if name == "drink/mixed":
                _mixed(row, shot)
            elif name == "dressing/in_place":
                _kept(row, shot)
            elif name == "rig/safety_on":
                row["second"] = ", ".join(
                    [one for one in (shot.words(row["record"], "Safety"), "from " + comes_from) if one]
                )


def _mixed(row: "Row", shot: Shot) -> None:
    key = row["record"]
    row["amount"] = shot.words(key, "To mix")
    said = [shot.said(key, "glasses"), shot.said(key, "spares"), shot.said(key, "line_height_m")]
    words = [
        one
        for one in (
            said[0] and "glasses: " + said[0],
            said[1] and "spare sets: " + said[1],
            said[2] and "line at " + said[2],
        )
        if one
    ]
    row["second"] = ", ".join(words)


def _kept(row: "Row", shot: Shot) -> None:
    """Say of a piece of dressing that it must stay, because it is the bounce of these shots."""
    shots = []
    for serves in shot.records.pointing("serves", "dressing", row["record"]):
        one = shot.records.target(serves, "shot")
        if shot.records.text(serves, "use") == "bounce" and shot.records.is_there(one):
            shots.append(shot.records.text(one, "number") or id_of(one))
    if shots:
        row["second"] = ", ".join(
            [one for one in (row["second"], "keep it: bounce of " + " and ".join(shots)) if one]
        )


def _orphans(
    fresh: "list[Row]", replaced: "list[str]", reached: "list[str]", records: "Gathered"
) -> "list[Row]":
    """Return the ticks of tasks that this shot asked for and no longer does."""
    asked = {row["record"] for row in fresh}
    found = []
    for key in reached:
        named = task_id.parse(key) if key.startswith("task/") else None
        if not named or key in asked or key in replaced or not records.entry(key, "done"):
            continue
        if named[0].startswith(templates.TURN):
            continue  # of the list from shot to shot
        if ticks.state(key, "done", records)["state"] != ticks.OPEN and not [
            one for one in named[1] if one not in reached
        ]:
            found.append(_no_longer_asked(key, records))
    return found


def _no_longer_asked(key: str, records: "Gathered") -> "Row":
    found, named = derived.read(key, records), task_id.parse(key)
    row = rows.row(key, "done", records, department=found[0].department if found else "", must=False)
    row["state"], row["word"], row["changes"] = ticks.OFF, ticks.WORDS[ticks.OFF], []
    row["derived"] = _derived(named[0] if named else "", "", templates.BEFORE, (0, 0, 0))
    return row
