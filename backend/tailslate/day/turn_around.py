"""From one shot to the next: what moves, comes, goes, is dimmed, dressed and reset, as a list for each department.

Knows no light and no time. TA1 what differs is told with both values. TA2 what nobody said is asked, never taken as
unchanged. TA3 what stays is counted, not listed. TA4 a line is ticked like any row: for these two shots in this order,
and for the values that it tells; what is asked is answered where it is filled in, and has no tick.
"""

from tailslate.day import (
    cautions,
    chain,
    gathered,
    kinds,
    names,
    rows,
    sheet,
    shown,
    task_id,
    templates,
    ticks,
)

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered

    Line = dict[str, Any]
    Row = dict[str, Any]

ADD, DROP, MOVE, DIM, SET, DRESS, RESET, ASK = ("add", "drop", "move", "dim", "set", "dress", "reset", "ask")
WORDS = {
    ADD: "Add", DROP: "Drop", MOVE: "Move", DIM: "Dim", SET: "Set", DRESS: "Dress", RESET: "Reset", ASK: "Ask",
}  # fmt: skip
DIMMERS = ("output_ratio", "dimmer_percent")  # either says how bright it is let through
PLACED = ("camera_height_m", "camera_distance_m", "x_m", "y_m", "pan_deg", "tilt_deg", "path")
OF_SHOT = ("t_stop", "exposure_index", "frame_rate_per_s", "shutter_angle_deg", "reference_colour_k")
# A list that is read in passing says less than a form does.
SHORT = {
    "distance_m": "distance", "point": "aimed at", "output_ratio": "light let through",
    "camera_distance_m": "to the subject", "x_m": "across", "y_m": "away", "pan_deg": "pan", "tilt_deg": "tilt",
    "path": "path",
}  # fmt: skip
OF_USE = {"bounce": "bounce", "seen": "in the picture", "eyeline": "eyeline", "covers": "cover"}
END = "What nobody wrote down is not in this list"


class _List:
    """The list as it grows.

    Attributes: lines (department to its lines); same (how many things stay as they are).
    """

    def __init__(self, now: str, then: str, records: "Gathered") -> None:
        self.now = now
        self.then = then
        self.records = records
        self.lines: dict[str, list[Line]] = {}
        self.same = 0

    def put(self, department: str, act: str, key: str, what: str, **more: "Any") -> None:
        """Add a line; `more` are second (text), caution, and ticked (record key, when the tick is of another record)."""
        line: Line = {"act": act, "word": WORDS[act], "record": key, "second": "", "caution": None}
        ticked = more.pop("ticked", key)
        line.update(more)
        line["sentence"] = WORDS[act] + ": " + what
        line["row"] = None if act == ASK else self._row(department, line, ticked)
        self.lines.setdefault(department, []).append(line)

    def _row(self, department: str, line: "Line", ticked: str) -> "Row":
        """Return the row of a line. A mark that is to be laid has a tick of its own."""
        field, record = "laid", ticked
        if line["act"] != ADD or gathered.kind_of(ticked) != "mark":
            field, record = "done", self.task(line["act"], ticked)
        told = {"title": line["sentence"], "second": line["second"], "caution": line["caution"]}
        return rows.row(record, field, self.records, department=department, **told)

    def task(self, act: str, ticked: str) -> str:
        """Return the record key of the tick of an act on a record between these shots."""
        ends = [self.now] + ([self.then] if self.then else [])
        return task_id.make(templates.TURN + act, ends + [ticked])

    def size(self) -> int:
        """Return how many lines there are."""
        return sum([len(self.lines[one]) for one in self.lines])

    def level(self, source: str, shot: str) -> str:
        """Return the record key of a source in a shot, "" when it is not there."""
        key = "level/" + gathered.id_of(source) + "~" + gathered.id_of(shot)
        return key if shot and self.records.is_there(key) else ""

    def words(self, key: str, field: str) -> str:
        """Return a value in words."""
        return names.value_words(key, field, self.records.value(key, field), self.records)


def of_shots(now: str, then: str, records: "Gathered") -> "dict[str, Any]":
    """Return what is to be done between two shots.

    Args:
        now: id of the shot that comes.
        then: id of the shot before it, "" when it is the first: then all is to be set up.
        records: both shots with what they read; told whether ticks ask again, by the phase of the shot that comes.
    Returns: dict, keys to and from (number and title), to_number, from_number, departments (list of dict, keys department, label, lines:
        list of dict, keys act, word, record, sentence, second, caution, row (as rows.row gives it; None of what is
        asked)), count (open), done, asked, same, sentence.
    """
    made = _List("shot/" + now, "shot/" + then if then else "", records)
    records.asks_again = records.text(made.now, "phase") not in sheet.SETTLED
    scenes = [records.target(key, "scene") if key else "" for key in (made.now, made.then)]
    if scenes[1] and scenes[0] != scenes[1]:
        away = names.name_of(scenes[1], records) + " to " + _scene_name(scenes[0], records)
        made.put("assistant_directors", MOVE, made.now, "everyone, from " + away)
    for source in _sources(made):
        _source(source, made)
    _camera(made)
    _marks(made)
    _dressing(made)
    _glasses(scenes, made)
    return _told(made)


def _scene_name(key: str, records: "Gathered") -> str:
    return names.name_of(key, records) if key else "a scene that nobody named"


def _told(made: _List) -> "dict[str, Any]":
    departments, count, asked, done = [], 0, 0, 0
    for name, label, _short in kinds.DEPARTMENTS:
        lines = made.lines.get(name, [])
        if lines:
            departments.append({"department": name, "label": label, "lines": lines})
        asked += len([one for one in lines if one["act"] == ASK])
        done += len([one for one in lines if one["row"] and one["row"]["state"] == ticks.DONE])
        count += len([one for one in lines if one["row"] and one["row"]["state"] != ticks.DONE])
    said = [str(count) + " to do"] + ([str(done) + " done"] if done else [])
    said += [str(asked) + " to ask"] if asked else []
    said += [str(made.same) + (" stays" if made.same == 1 else " stay")] if made.same else []
    return {
        "to": names.name_of(made.now, made.records),
        "from": names.name_of(made.then, made.records) if made.then else "",
        "to_number": _number(made.now, made.records),
        "from_number": _number(made.then, made.records),
        "departments": departments,
        "count": count,
        "done": done,
        "asked": asked,
        "same": made.same,
        "sentence": ", ".join(said) + ". " + END,
    }


def _number(shot: str, records: "Gathered") -> str:
    return (records.text(shot, "number") or gathered.id_of(shot)) if shot else ""


def _compared(keys: "tuple[str, str]", field: str, made: _List) -> "tuple[str, str]":
    """Return how a field stands now and before: state (same, differs, unknown, split, none) and words.

    Args:
        keys: record of now and record of before.
        field: of both; "none" means that neither side ever said.
        made: the list.
    """
    records = made.records
    label = _label(gathered.kind_of(keys[0]), field)
    if records.is_split(keys[0], field) or records.is_split(keys[1], field):
        return "split", label + ": two answers, pick one"
    values = [records.value(key, field) for key in keys]
    if values[0] is None and values[1] is None:
        return "none", label
    if values[0] is None:
        return "unknown", label + " not known, was " + made.words(keys[1], field)
    if values[1] is None:
        return "differs", label + " " + made.words(keys[0], field) + ", was not known"
    if not ticks.has_moved(gathered.kind_of(keys[0]), field, values[1], values[0]):
        return "same", ""
    return "differs", label + " " + made.words(keys[0], field) + ", was " + made.words(keys[1], field)


def _label(kind: str, field: str) -> str:
    if field in SHORT:
        return SHORT[field]
    known = kinds.field_of(kind, field)
    return known.label if known else field


# Lamps and what carries them


def _sources(made: _List) -> "list[str]":
    found = set()
    for shot in (made.now, made.then):
        for key in made.records.pointing("level", "shot", shot) if shot else ():
            source = made.records.target(key, "source")
            if source and made.records.is_there(source):
                found.add(source)
    order = [(made.records.whole(one, "order") or 0, one) for one in found]
    return [one for _place, one in sorted(order)]


def _burns(level: str, records: "Gathered") -> "bool | None":
    """Tell whether a source burns in a shot: what is not listed there does not; None when nobody said."""
    if not level:
        return False
    said = records.text(level, "on")
    return None if said not in ("yes", "no") or records.is_split(level, "on") else said == "yes"


def _source(source: str, made: _List) -> None:
    levels = (made.level(source, made.now), made.level(source, made.then))
    burns = [_burns(one, made.records) for one in levels]
    name = names.name_of(source, made.records)
    for place, shot in ((0, made.now), (1, made.then)):
        if burns[place] is None:
            asked = name + ": does it burn in " + _number(shot, made.records) + "? Nobody said"
            made.put("electric", ASK, levels[place], asked)
    if None in burns or burns == [False, False]:
        return
    if burns[0] and burns[1]:
        _relit((levels[0], levels[1]), source, name, made)
    elif burns[0]:
        caution = cautions.of_source(source, made.records)
        made.put("electric", ADD, levels[0], name + _setting(levels[0], made), caution=caution)
        _stands(source, ADD, "holds " + name, made)
    else:
        caution = cautions.of_source(source, made.records)
        made.put("electric", DROP, levels[1], name, second="off, or out", caution=caution)
        _stands(source, DROP, "held " + name + ": out, or left clear of the frame", made)


def _stands(source: str, act: str, second: str, made: _List) -> None:
    """Put the stands of a lamp and of its frames, once each."""
    records = made.records
    rigs = set(records.pointing("rig", "source", source))
    rigs.update([records.target(one, "rig") for one in chain.layers_of(source, records)])
    for rig in sorted([one for one in rigs if one and records.is_there(one)]):
        said = [one for one in made.lines.get("grip", []) if one["record"] == rig]
        if not said:
            named = names.name_of(rig, records)
            made.put("grip", act, rig, named, second=second, caution=cautions.of_rig(rig, records))


def _setting(level: str, made: _List) -> str:
    """Return how a source that comes is set: what it is aimed at, how far, how dimmed."""
    records = made.records
    point = records.target(level, "point")
    words = " as " + made.words(level, "role") if records.entry(level, "role") else ""
    words += " on " + names.name_of(point, records) if point else ", aimed at " + shown.NOT_KNOWN
    words += ", distance " + made.words(level, "distance_m")
    dimmed = [
        _label("level", one) + " " + made.words(level, one) for one in DIMMERS if records.entry(level, one)
    ]
    return words + ", " + (", ".join(dimmed) or "dimmer " + shown.NOT_KNOWN)


def _relit(levels: "tuple[str, str]", source: str, name: str, made: _List) -> None:
    """Put what changes of a source that burns in both shots."""
    is_carried = made.records.pointing("rig", "source", source) or chain.layers_of(source, made.records)
    mover = "grip" if is_carried else "electric"
    before = made.size()
    for act, department, fields in (
        (MOVE, mover, ("distance_m", "point", "off_axis_deg", "role")),
        (DIM, "electric", DIMMERS),
    ):
        found = [_compared(levels, field, made) for field in fields]
        words = [said for state, said in found if state == "differs"]
        if words:
            caution = cautions.of_source(source, made.records) if act == MOVE else None
            made.put(department, act, levels[0], name + ", " + "; ".join(words), caution=caution)
        asks = [said for state, said in found if state in ("unknown", "split")]
        needed = found if act == DIM else found[:1]
        if all([state == "none" for state, _said in needed]):
            asks.append(" or ".join([said for _state, said in needed]) + " not known in either shot")
        for said in asks:
            made.put(department, ASK, levels[0], name + ", " + said)
    if made.size() == before:
        made.same += 1


# Camera, marks


def _camera(made: _List) -> None:
    records = made.records
    setups = (
        records.target(made.now, "setup"),
        records.target(made.then, "setup") if made.then else "",
    )
    if not setups[0]:
        made.put("camera", ASK, made.now, "set-up not known: nobody said where the camera goes")
    elif setups[0] == setups[1]:
        made.same += 1
    else:
        came = " from " + names.name_of(setups[1], records) if setups[1] else ""
        placed, asks = _fields(setups, PLACED, made)
        what = "camera" + came + " to " + names.name_of(setups[0], records)
        caution = cautions.caution("path")
        made.put("camera", MOVE, setups[0], what, second="; ".join(placed), caution=caution)
        if asks:
            made.put("camera", ASK, setups[0], "; ".join(asks))
    _settings(setups, made)


def _fields(keys: "tuple[str, str]", fields: "tuple[str, ...]", made: _List) -> "tuple[list[str], list[str]]":
    """Return what differs in words, and what is to be asked."""
    differs, asks = [], []
    for field in fields:
        state, said = _compared(keys, field, made)
        if state == "differs":
            differs.append(said if keys[1] else said[: said.rfind(", was ")])
        elif state in ("unknown", "split"):
            asks.append(said)
    return differs, asks


def _settings(setups: "tuple[str, str]", made: _List) -> None:
    """Put lens, stop and the rest as one line: they are set in one go. What is to be asked stands by itself."""
    found: list[str] = []
    for keys, fields in ((setups, ("lens_mm",)), ((made.now, made.then), OF_SHOT)):
        differs, asks = _fields(keys, fields, made) if keys[0] and keys[0] != keys[1] else ([], [])
        found.extend(differs)
        for said in asks:
            made.put("camera", ASK, keys[0], said)
    if found:
        made.put("camera", SET, made.now, "; ".join(found))


def _marks(made: _List) -> None:
    records = made.records
    for key in records.pointing("mark", "shot", made.now):
        made.put("camera", ADD, key, "mark, " + _mark_words(key, made))
    for key in records.pointing("mark", "shot", made.then) if made.then else ():
        made.put("camera", DROP, key, "mark, " + _mark_words(key, made))


def _mark_words(key: str, made: _List) -> str:
    told = [made.words(key, field) for field in ("colour", "place") if made.records.entry(key, field)]
    return ", ".join([names.name_of(key, made.records)] + told)


# Dressing, glasses


def _dressing(made: _List) -> None:
    records = made.records
    pieces: dict[str, list[str]] = {}
    for place, shot in ((0, made.now), (1, made.then)):
        for key in records.pointing("serves", "shot", shot) if shot else ():
            piece = records.target(key, "dressing")
            if piece and records.is_there(piece):
                pieces.setdefault(piece, ["", ""])[place] = key
    for _place, piece in sorted([(records.whole(one, "order") or 0, one) for one in pieces]):
        now, then = pieces[piece]
        name = names.name_of(piece, records)
        if now and not then:
            ticked = ticks.state(piece, "in_place", records)["state"] == ticks.DONE
            at = made.words(piece, "place") if records.entry(piece, "place") else "place not known"
            second = at + (", ticked as in place" if ticked else "")
            caution = cautions.of_dressing(piece, records)
            told = {"second": second, "caution": caution, "ticked": now}
            made.put("art", ADD, piece, name + ", " + _use(now, made), **told)
        elif then and not now:
            second = "out, or left clear of the frame"
            made.put("art", DROP, piece, name + ", was " + _use(then, made), second=second, ticked=then)
        elif _use(now, made) != _use(then, made):
            what = name + ", " + _use(now, made) + ", was " + _use(then, made)
            caution = cautions.of_dressing(piece, records)
            made.put("art", DRESS, piece, what, ticked=now, caution=caution)
        else:
            made.same += 1


def _use(serves: str, made: _List) -> str:
    records = made.records
    use = records.text(serves, "use")
    point = records.target(serves, "point")
    words = OF_USE.get(use, "for what is not known")
    return words + (" for " + names.name_of(point, records) if point else "")


def _glasses(scenes: "list[str]", made: _List) -> None:
    """Put the glasses and plates back as they begin the scene; those of another scene go."""
    records = made.records
    for kind in ("drink", "food"):
        found = records.pointing(kind, "scene", scenes[0]) if scenes[0] else []
        for _place, key in sorted([(records.whole(one, "order") or 0, one) for one in found]):
            act = RESET if scenes[0] == scenes[1] else ADD
            made.put("props", act, key, _fill(key, made), caution=rows.of_glass(key, records))
        if scenes[1] and scenes[1] != scenes[0]:
            for key in records.pointing(kind, "scene", scenes[1]):
                made.put("props", DROP, key, names.name_of(key, records))


def _fill(key: str, made: _List) -> str:
    name = names.name_of(key, made.records)
    if gathered.kind_of(key) == "food":
        return name + ", one portion for each who eats"
    said = [name]
    for field, lead in (("glasses", ""), ("fill_l", "to "), ("line_height_m", "line at ")):
        unit = " glasses" if field == "glasses" else ""
        if made.records.whole(key, field) == 1:
            unit = " glass"
        said.append(lead + made.words(key, field) + unit)
    return ", ".join(said)
