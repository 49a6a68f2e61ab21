"""A set of edits -> live answers -> what is shown. Knows no clock, network or database.

M1 any order and any batching give the same cells. M2 an edit seen twice counts once.
M3 an edit replaces only what its author saw. M4 an edit that does not count is never live and hides
nothing itself; whoever saw it also saw, transitively, all that it had seen.
M5 ids that someone saw and that have not arrived are kept, in snapshots too.
M6 of several live answers the field's rule picks the one shown; the others stay beside it.

A cell is one field of one record: [mark, live, gone, absent, off].
  mark    ONE one answer; SAME several edits, one answer (or a plain field: the latest stands);
          TWO answers differ and a person picks; CAREFUL they differ and the most careful is shown
  live    entries [id, value, at_ms, by, for_whom, how, rules], the one shown first
  gone    ids that arrived and were replaced
  absent  ids that someone saw and that have not arrived
  off     ids that arrived and do not count
"""

from tailslate.craft.errors import RuleError
from tailslate.day import edit as edits
from tailslate.day import kinds

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.edit import Edit

    Cell = list[Any]
    Cells = dict[str, Cell]

ONE, SAME, TWO, CAREFUL = 0, 1, 2, 3
MARK, LIVE, GONE, ABSENT, OFF = 0, 1, 2, 3, 4


def new_cell() -> "Cell":
    """Return the cell of a field that nobody has set."""
    return [ONE, [], [], [], []]


def join(cells: "Cells", batch: "list[Edit]") -> "Cells":
    """Merge edits that all count into cells in which all count, and return the cells that changed.

    Args:
        cells: cell key ("kind/id/field") to cell, for every field that the batch sets; a missing
            one was never set. Not changed.
        batch: list of Edit, any order, repeats allowed.
    Returns: cell key to new cell, only those that the batch touches.
    """
    changed: Cells = {}
    entries: dict[str, dict[str, list[Any]]] = {}
    for one in batch:
        key = one.record_key + "/"
        for field, value, seen in one.changes:
            name = key + field
            cell = changed.get(name)
            if cell is None:
                old = cells.get(name) or new_cell()
                cell = changed[name] = [old[MARK]] + [list(part) for part in old[1:]]
                entries[name] = {entry[0]: entry for entry in old[LIVE]}
                cell[LIVE] = [entry[0] for entry in old[LIVE]]
            _take(cell[LIVE], cell[GONE], cell[ABSENT], one.id, seen)
            entries[name].setdefault(one.id, _entry(one, value))
    for name in changed:
        cell = changed[name]
        cell[LIVE] = [entries[name][edit_id] for edit_id in cell[LIVE]]
        _settle(name, cell)
    return changed


def join_ids(cells: "list[list[list[Any]]]", batch: "list[list[Any]]") -> None:
    """Merge as `join` does, on ids alone: what is live, gone, absent. Who is shown, `shown` says.

    A phone that comes back merges thousands of edits. Their words need not cross into the rules for
    that, and an id may be any number that stands for it.

    Args:
        cells: list of [live, gone, absent], each a list of ids; changed in place. Of what is gone only the
            ids that the batch names need to be there.
        batch: list of [place in cells, own id, ids seen].
    """
    for place, own, seen in batch:
        live, gone, absent = cells[place]
        _take(live, gone, absent, own, seen)


def _take(live: "list[Any]", gone: "list[Any]", absent: "list[Any]", own: "Any", seen: "list[Any]") -> None:
    if own in gone or own in live:
        return  # M2: an edit seen twice counts once, so a lost reply may be sent again
    if own in absent:
        absent.remove(own)  # M5: someone had already seen and replaced it
        gone.append(own)
    else:
        live.append(own)
    for id_seen in seen:
        if id_seen in live:
            live.remove(id_seen)
            gone.append(id_seen)
        elif id_seen not in gone and id_seen not in absent:
            absent.append(id_seen)


def _entry(one: "Edit", value: "Any") -> "list[Any]":
    return [one.id, value, one.at_ms, one.by, one.for_whom, one.how, one.rules]


def fold(batch: "list[Edit]", verdicts: "dict[str, str]") -> "Cells":
    """Return the cells of some records from nothing: from all their edits and the verdicts on them.

    Args:
        batch: list of Edit, all the edits of these records, any order, repeats allowed.
        verdicts: id to "out", "parked" or "counts" as `verdict_words` gives it.
    Returns: cell key to cell.
    """
    by_cell: dict[str, dict[str, Any]] = {}
    for one in batch:
        for field, value, seen in one.changes:
            by_cell.setdefault(one.record_key + "/" + field, {})[one.id] = (one, value, seen)
    cells: Cells = {}
    for name in by_cell:
        cell = _fold_cell(by_cell[name], verdicts)
        _settle(name, cell)
        cells[name] = cell
    return cells


def _fold_cell(rows: "dict[str, Any]", verdicts: "dict[str, str]") -> "Cell":
    counting = [i for i in rows if counts(rows[i][0], verdicts.get(i, ""))]
    hidden: set[str] = set()
    waiting = list(counting)
    while waiting:  # M4: all that a counting edit saw, and all that those had seen
        for id_seen in rows[waiting.pop()][2]:
            if id_seen not in hidden:
                hidden.add(id_seen)
                if id_seen in rows:
                    waiting.append(id_seen)
    absent: set[str] = set()
    for i in rows:
        absent.update([id_seen for id_seen in rows[i][2] if id_seen not in rows])
    live = [_entry(rows[i][0], rows[i][1]) for i in counting if i not in hidden]
    gone = [i for i in counting if i in hidden]
    off = [i for i in rows if i not in counting]
    return [ONE, live, gone, list(absent), off]


def counts(one: "Edit", verdict: str) -> bool:
    """Tell whether an edit counts: by its verdict, and without one unless its act is reserved.

    Args:
        one: the edit.
        verdict: "counts", "out", "parked", or "" when there is none yet.
    """
    reserved = kinds.is_reserved(one.kind, one.changes)
    if verdict == "parked":
        return one.kind == "hold" and not reserved  # a parked hold still holds
    return verdict == "counts" or (not verdict and not reserved)


def verdict_words(verdict_edits: "list[Edit]") -> "dict[str, str]":
    """Return what stands on each edit that has verdicts.

    Args:
        verdict_edits: list of Edit of kind verdict.
    Returns: id of the judged edit to "out", "parked" or "counts": out over parked over counts, unless
        a later verdict names those that it replaces. What is not understood is "out".
    """
    words = {}
    for name, cell in join({}, verdict_edits).items():
        if name.endswith("/says") and cell[LIVE]:
            value = cell[LIVE][0][1]
            known = isinstance(value, list) and value and value[0] in ("parked", "counts")
            words[name[len("verdict/") : -len("/says")]] = value[0] if known else "out"
    return words


def _settle(name: str, cell: "Cell") -> None:
    """Sort a cell so that equal sets give equal bytes, the answer shown first, and mark it."""
    for part in (GONE, ABSENT, OFF):
        cell[part].sort()
    cell[MARK], cell[LIVE] = shown(name, cell[LIVE])


def shown(name: str, live: "list[Any]") -> "tuple[int, list[Any]]":
    """Return the mark of a field and its live entries, the one shown first (M6).

    Args:
        name: cell key, "kind/id/field".
        live: list of entries as in a cell, any order.
    """
    if len(live) < 2:
        return ONE, live
    kind, _record, field = name.split("/")
    rule = kinds.rule_of(kind, field)
    live = sorted(live, key=lambda entry: (entry[2], entry[0]), reverse=True)  # ids differ: a total order
    values = [kinds.comparable(kind, field, entry[1]) for entry in live]
    differ = any(value != values[0] for value in values)
    if rule == "careful":
        ranked = [(kinds.careful_rank(kind, field, e[1]), place) for place, e in enumerate(live)]
        return CAREFUL if differ else SAME, [live[place] for _rank, place in sorted(ranked)]
    return TWO if rule == "ask" and differ else SAME, live


def presence(record_key: str, records: "dict[str, dict[str, Cell]]") -> str:
    """Tell whether a record is on the day.

    M7 a removal covers what its author saw; any live edit of the record or of its parts that it does
    not list brings the record back, marked.

    Args:
        record_key: "kind/id".
        records: record key to field to cell: the record and all its parts.
    Returns: "present", "removed", or "back" (removed by someone, edited by another who had not seen it).
    """
    cell = records.get(record_key, {}).get("present")
    removals = [e[1] for e in cell[LIVE] if isinstance(e[1], list)] if cell else []
    if not cell or not removals:
        return "present"
    if len(removals) < len(cell[LIVE]):
        return "back"
    covered = set()
    for removal in removals:
        covered.update(removal[1])
    for key in records:
        for field in records[key]:
            if key == record_key and field == "present":
                continue
            for entry in records[key][field][LIVE]:
                if entry[0] not in covered:
                    return "back"
    return "removed"


def removal(records: "dict[str, dict[str, Cell]]", record_key: str) -> "list[Any]":
    """Return the value of `present` that removes a record: the live ids that its author saw.

    Args:
        records: record key to field to cell: the record and all its parts.
        record_key: "kind/id".
    """
    covers = set()
    for key in records:
        for field in records[key]:
            if key != record_key or field != "present":
                covers.update([entry[0] for entry in records[key][field][LIVE]])
    return ["removed", sorted(covers)]


def read_all(texts: "list[str]", day: str) -> "tuple[list[Edit | None], list[list[Any]]]":
    """Read texts one by one; a malformed one loses nothing of the others.

    Args:
        texts: list of canonical texts as received.
        day: id of the day.
    Returns: the edits in the same order, None for each that is malformed; and a list of
        [place in texts, code, sentence] of those.
    """
    found: list[Edit | None] = []
    refused = []
    for place, text in enumerate(texts):
        try:
            found.append(edits.read(text, day=day))
        except RuleError as error:
            found.append(None)
            refused.append([place, error.code, error.sentence])
    return found, refused
