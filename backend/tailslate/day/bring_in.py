"""A list that people have, from a spreadsheet -> acts that put it on the day, or each row's fault and what to do.

Shots, dressing, drinks or kit. Knows no file and no screen; nothing is stored here.
L1 all of it is taken or nothing; a row is left out only when the person says so. L2 a record takes its id from the
list's own key, and what stands on the day already is found by that key: bringing a list in twice adds nothing.
L3 what the day has and the list says otherwise stays, unless the person says that the list is right.
"""

from tailslate.craft.errors import RuleError
from tailslate.day import bring_in_cells as cells
from tailslate.day import bring_in_columns as columns
from tailslate.day import check, gathered, kinds, names, shown, split_table
from tailslate.day.gathered import Gathered

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Records

# A shooting day has some hundred rows of anything: what is longer is another list, or a part of it is enough.
# Each row costs every phone of the crew room and time for as long as the day is kept.
ROWS_LIMIT = 500
BYTES_LIMIT = 400000
COLUMNS_LIMIT = 60
ORDER_STEP = 10
SAMPLES = 3
# What documents of other programs begin with, whatever their name says.
NOT_LISTS = ("%pdf-", "{\\rtf", "<!doctype", "<html", "<?xml")
# Merged cells leave only the first of theirs filled. What is filled down unless the person says otherwise; the rest is offered.
FILLED_DOWN = ("scene",)


def read(asked: "dict[str, Any]", records: "Records") -> "dict[str, Any]":
    """Return what a list comes to.

    Args:
        asked: keys text; line_count, size_bytes (of all of it, when text is only its beginning); kind ("" guesses);
            columns (list of field names, None guesses); column_units (column to unit); fill_down (list of columns
            whose empty cells hold what stands above, None guesses); corrections ("row/column" to text); left_out (list of rows); list_is_right (L3); units.
        records: those of the kind and of kinds scene and setup that are on the day.
    Returns: dict, keys kind, separator, header (row, 0 for none), columns (list of dict: heading, field, label, unit,
        takes_unit, samples, gaps (empty cells below a filled one), is_filled), options, rows (list of dict: row, title, state "new" | "same" | "adds" | "differs", and
        differs: list of sentences), faults (list of dict: row, column, heading, value, code, sentence), notes (list
        of sentences), acts (list of dict kind, record, set; empty while there is a fault).
    Raises: RuleError list_empty, list_too_long, list_too_large, not_text, quote_open, not_for_a_list.
    """
    text = asked["text"]
    _refuse_size(asked.get("line_count", 0), asked.get("size_bytes", 0), text)
    separator = split_table.separator_of(text)
    rows = split_table.split(text, separator)
    header, kind = columns.header_at(rows)
    kind = asked.get("kind") or kind
    if kind not in columns.HEADINGS:
        raise RuleError("not_for_a_list", "no list of {} can be brought in; choose another".format(kind))
    found = _Reading(kind, rows, header, asked, Gathered(records, units=asked.get("units", "metric")))
    found.read_rows()
    if not found.rows:
        raise RuleError("list_empty", "there is no row to bring in; paste the list with its rows")
    return {
        "kind": kind,
        "separator": separator,
        "header": header + 1,
        "columns": found.told_columns(),
        "options": columns.options(kind),
        "rows": found.rows,
        "faults": found.faults,
        "notes": found.notes,
        "acts": [] if found.faults else found.acts,
    }


def _refuse_size(line_count: int, size_bytes: int, text: str) -> None:
    if not text.strip():
        raise RuleError("list_empty", "there is no row to bring in; paste the list with its rows")
    start = text.lstrip().lower()
    if "\x00" in text or any([start.startswith(mark) for mark in NOT_LISTS]):
        sentence = (
            "this is not text in a form that is known here; save it as CSV in UTF-8, then choose it again"
        )
        raise RuleError("not_text", sentence)
    lines = max(line_count, text.count("\n"))
    if lines > ROWS_LIMIT + columns.HEADER_ROWS:
        sentence = "this list has {} rows, at most {} come in at once: a day holds few more; bring in the part for it"
        raise RuleError("list_too_long", sentence.format(lines, ROWS_LIMIT), rows=lines, limit=ROWS_LIMIT)
    size = max(size_bytes, len(text))
    if size > BYTES_LIMIT:
        sentence = "this list has {} bytes, at most {} come in at once; leave columns out, or bring in a part"
        raise RuleError("list_too_large", sentence.format(size, BYTES_LIMIT), size_bytes=size)


class _Reading:
    """One list as it is being read: what it came to so far."""

    def __init__(
        self, kind: str, rows: "list[list[str]]", header: int, asked: "dict[str, Any]", day: Gathered
    ) -> None:
        self.kind, self.day, self.asked = kind, day, asked
        self.header = header
        self.units = asked.get("units", "metric")
        self.body = [(place + 1, row) for place, row in enumerate(rows) if place > header]
        self.notes: list[str] = []
        self.faults: list[dict[str, Any]] = []
        self.rows: list[dict[str, Any]] = []
        self.acts: list[dict[str, Any]] = []
        self.corrections = asked.get("corrections", {})
        self.left_out = asked.get("left_out", [])
        self.headings = columns.headings_of(rows, header)
        if len(self.headings) > COLUMNS_LIMIT:
            sentence = "this list has {} columns, at most {} are read; leave some out"
            raise RuleError("list_too_large", sentence.format(len(self.headings), COLUMNS_LIMIT))
        body = [row for _place, row in self.body]
        self.fields = list(asked.get("columns") or columns.guess(kind, self.headings, body))
        self.fields += [""] * (len(self.headings) - len(self.fields))
        self.of_fields = [columns.field_of(kind, name) if name else None for name in self.fields]
        self.above: dict[str, str] = {}
        self.gaps = [self._fill(at, False) for at in range(len(self.headings))]
        fill_down = asked.get("fill_down")
        self.filled = [
            at
            for at, name in enumerate(self.fields)
            if self.gaps[at] and (name in FILLED_DOWN if fill_down is None else at in fill_down)
        ]
        for at in self.filled:
            count = self._fill(at, True)
            said = "{}: cells filled down from the one above, as merged cells mean: {}."
            self.notes.append(said.format(self.headings[at] or "column " + str(at + 1), count))
        self.column_units: list[str] = []
        for at in range(len(self.headings)):
            self.column_units.append(self._unit_of(at))
        self._note_what_is_left(rows)
        self.by_key = self._keys_of_day()
        self.scenes = {_key(day.text(key, "number")): key for key in day.of_kind("scene")}
        self.order = max([day.whole(key, "order") or 0 for key in day.keys_of(kind)] + [0])
        self.first_row: dict[str, int] = {}

    def _cell(self, place: int, row: "list[str]", at: int) -> str:
        corrected = self.corrections.get("{}/{}".format(place, at))
        if corrected is not None:
            return str(corrected)
        cell = row[at].strip() if at < len(row) else ""
        return cell or self.above.get("{}/{}".format(place, at), "")

    def _fill(self, at: int, is_meant: bool) -> int:
        """Return how many cells of a column are empty below a filled one; they take it when that `is_meant`."""
        count, last = 0, ""
        for place, row in self.body:
            if not "".join(row).strip():
                last = ""  # no merged cell goes on across a row that holds nothing
                continue
            cell = row[at].strip() if at < len(row) else ""
            if not cell and last:
                count += 1
                if is_meant:
                    self.above["{}/{}".format(place, at)] = last
            last = cell or last
        return count

    def _column(self, at: int) -> "list[str]":
        found = [self._cell(place, row, at) for place, row in self.body]
        return [cell for cell in found if cell]

    def _unit_of(self, at: int) -> str:
        of = self.of_fields[at]
        if not of:
            return ""
        said = self.asked.get("column_units", {}).get(str(at)) or columns.without_unit(self.headings[at])[1]
        return cells.unit_of_column(of[1], said, self._column(at), self.units)

    def _note_what_is_left(self, rows: "list[list[str]]") -> None:
        if self.header > 0:
            said = " ".join([" ".join(row).strip() for row in rows[: self.header]]).strip()
            if said:
                self.notes.append("Before the headings, left out: " + said[:120])
        if self.header < 0:
            self.notes.append("No row looks like headings: what each column holds is guessed from its cells.")
        empty = [at for at in range(len(self.headings)) if not self._column(at)]
        if empty:
            self.notes.append("Empty columns: {}.".format(len(empty)))
        left = [
            self.headings[at] or "column " + str(at + 1) for at, name in enumerate(self.fields) if not name
        ]
        left = [one for one in left if one] if len(empty) < len(left) else []
        if left:
            self.notes.append("Left out, nobody said what it is: " + ", ".join(left) + ".")

    def _keys_of_day(self) -> "dict[str, list[str]]":
        found: dict[str, list[str]] = {}
        for key in self.day.of_kind(self.kind):
            found.setdefault(_key(self.day.text(key, columns.KEYS[self.kind])), []).append(key)
        return found

    def read_rows(self) -> None:
        """Read every row that holds something."""
        formulas = 0
        for place, row in self.body:
            if not "".join(row).strip() or place in self.left_out:
                continue
            if len(self.rows) >= ROWS_LIMIT:
                sentence = "this list has more than {} rows; bring in the part for this day"
                raise RuleError("list_too_long", sentence.format(ROWS_LIMIT), limit=ROWS_LIMIT)
            over = [cell for cell in row[len(self.headings) :] if cell.strip()]
            if over:  # never: a heading is made for each column of the longest row
                self._fault(place, len(self.headings), over[0], "no_column", "it stands under no heading")
            formulas += len([cell for cell in row if cells.begins_as_formula(cell.strip())])
            self._read_row(place, row)
        if formulas:
            said = "Cells that begin as a formula, kept as text and never run: {}."
            self.notes.append(said.format(formulas))
        if self.left_out:
            self.notes.append("Rows left out as you said: {}.".format(len(self.left_out)))

    def _read_row(self, place: int, row: "list[str]") -> None:
        count = len(self.faults)
        sets: dict[str, dict[str, Any]] = {self.kind: {}, "setup": {}}
        scene = ""
        for at, of in enumerate(self.of_fields):
            cell = self._cell(place, row, at)
            if of and cell:
                of_kind, field = of
                if field.name == "scene":
                    scene = cell
                    continue
                try:
                    read = cells.value(of_kind, field, cell, unit=self.column_units[at], units=self.units)
                    if read is not None:
                        self._put(of_kind, sets[of_kind], field, read, at)
                except RuleError as error:
                    self._fault(place, at, cell, error.code, error.sentence)
        key_field = columns.KEYS[self.kind]
        name = sets[self.kind].get(key_field, "")
        if len(self.faults) > count:
            self._row_at_fault(place, name or self._cell(place, row, 0))
        elif not name:
            at = self.fields.index(key_field) if key_field in self.fields else 0
            label = columns.field_of(self.kind, key_field)[1].label
            sentence = "this row has no {}; write one here, or leave the row out".format(label)
            self._fault(place, at, "", "no_key", sentence)
            self._row_at_fault(place, self._cell(place, row, 0))
        else:
            self._take(place, sets, scene)

    def _put(
        self, of_kind: str, changes: "dict[str, Any]", field: "kinds.Field", read: "Any", at: int
    ) -> None:
        """Set a field; several columns may go to the same text, each with its heading before it in a note."""
        if (
            field.name == "note"
            and len([one for one in self.fields if one == "note"]) > 1
            and self.headings[at]
        ):
            read = self.headings[at] + ": " + read
        before = changes.get(field.name)
        changes[field.name] = before + ", " + read if before and field.name in columns.JOINED else read
        for fault in check.faults(of_kind, {field.name: changes[field.name]}):
            raise RuleError(fault["code"], fault["sentence"])

    def _fault(self, place: int, at: int, cell: str, code: str, sentence: str) -> None:
        heading = self.headings[at] if at < len(self.headings) else ""
        self.faults.append(
            {"row": place, "column": at, "heading": heading or "column " + str(at + 1), "value": cell[:80]}
        )
        self.faults[-1].update({"code": code, "sentence": sentence})

    def _row_at_fault(self, place: int, title: str) -> None:
        self.rows.append({"row": place, "title": title[:80], "state": "fault", "differs": []})

    def _take(self, place: int, sets: "dict[str, dict[str, Any]]", scene: str) -> None:
        """Turn a row without a fault into the acts that it needs, against what stands on the day."""
        changes = sets[self.kind]
        name = changes[columns.KEYS[self.kind]]
        list_key = self._list_key(changes, scene)
        if list_key in self.first_row:
            at = self.fields.index(columns.KEYS[self.kind])
            sentence = "{} stands in row {} too; write another here, or leave one of the two out"
            self._fault(place, at, name, "twice", sentence.format(name, self.first_row[list_key]))
            self._row_at_fault(place, name)
            return
        self.first_row[list_key] = place
        scene_key = self._scene(scene, name)
        if scene_key and kinds.field_of(self.kind, "scene"):
            changes["scene"] = gathered.id_of(scene_key)
        record = self._on_day(changes, list_key)
        if sets["setup"]:
            setup = self.day.target(record, "setup") or "setup/" + cells.digest("setup", list_key)
            changes["setup"] = gathered.id_of(setup)
            more = {"title": name, "scene": changes.get("scene")}
            sets["setup"].update({one: more[one] for one in more if more[one]})
            told = self._act(setup, sets["setup"], ("title", "scene"))
        else:
            told = {"is_new": False, "count": 0, "differs": []}
        if kinds.field_of(self.kind, "order"):
            self.order += ORDER_STEP
            changes["order"] = self.order
        mine = self._act(record, changes, ("order", "setup", "scene", columns.KEYS[self.kind]))
        differs = mine["differs"] + told["differs"]
        state = "new" if mine["is_new"] else "adds" if mine["count"] + told["count"] else "same"
        title = name + (" " + changes.get("title", "") if self.kind == "shot" else "")
        is_open = differs and not self.asked.get("list_is_right")
        row = {
            "row": place,
            "title": title.strip(),
            "state": "differs" if is_open else state,
            "differs": differs,
        }
        self.rows.append(row)

    def _list_key(self, changes: "dict[str, Any]", scene: str) -> str:
        parts = [self.kind, _key(changes[columns.KEYS[self.kind]]), _key(scene)]
        return "\n".join(parts + [_key(changes.get("place", ""))])

    def _scene(self, said: str, name: str) -> str:
        """Return the key of the scene that a row is of, made when the list names a new one; "" when nobody says."""
        if said:
            number = _key(said)
            if number not in self.scenes:
                self.scenes[number] = "scene/" + cells.digest("scene", number)
                self._act(self.scenes[number], {"number": said, "order": len(self.scenes) * ORDER_STEP}, ())
            return self.scenes[number]
        digits = ""
        for mark in name:
            if mark not in "0123456789":
                break
            digits += mark
        if self.kind == "shot" and digits in self.scenes:
            return self.scenes[digits]
        return next(iter(self.scenes.values())) if len(self.scenes) == 1 else ""

    def _on_day(self, changes: "dict[str, Any]", list_key: str) -> str:
        """Return the key of the record that this row is: one of the same name in the same scene and place, or its own."""
        own = self.kind + "/" + cells.digest(*list_key.split("\n"))
        if self.day.is_there(own):
            return own
        for key in self.by_key.get(_key(changes[columns.KEYS[self.kind]]), []):
            scene, place = self.day.text(key, "scene"), self.day.text(key, "place")
            if scene not in ("", changes.get("scene", scene)):
                continue
            if not changes.get("place") or not place or _key(place) == _key(changes["place"]):
                return key
        return own

    def _act(self, key: str, changes: "dict[str, Any]", quiet: "tuple[str, ...]") -> "dict[str, Any]":
        """Add the act that a record needs, if any; fields in `quiet` are set only where nothing stands."""
        is_there = self.day.is_there(key)
        kind, id_ = gathered.kind_of(key), gathered.id_of(key)
        kept, differs = {}, []
        for field in sorted(changes):
            there = self.day.value(key, field) if is_there else None
            said = changes[field]
            if said is None or kinds.comparable(kind, field, there) == kinds.comparable(kind, field, said):
                continue
            if there is None or there == "":
                kept[field] = said
            elif field not in quiet:
                differs.append(self._differing(key, field, there, said))
                if self.asked.get("list_is_right"):
                    kept[field] = said
        if kept:
            self.acts.append({"kind": kind, "record": id_, "set": kept, "how": "import"})
        return {"is_new": not is_there, "count": len(kept), "differs": differs}

    def _differing(self, key: str, field: str, there: "Any", said: "Any") -> str:
        kind = gathered.kind_of(key)
        known = kinds.field_of(kind, field)
        label = known.label if known else field
        day, this = (
            names.value_words(key, field, there, self.day),
            shown.value(kind, field, said, self.units),
        )
        return "{}: {} on the day, {} in the list".format(label, day, this)

    def told_columns(self) -> "list[dict[str, Any]]":
        """Return what each column holds, as the person sees and corrects it."""
        found = []
        for at, heading in enumerate(self.headings):
            of = self.of_fields[at]
            takes_unit = bool(of and of[1].type == "quantity" and of[1].unit in shown.IMPERIAL)
            row: dict[str, Any] = {"heading": heading or "column " + str(at + 1), "field": self.fields[at]}
            row.update({"label": of[1].label if of else "", "unit": self.column_units[at]})
            row.update({"takes_unit": takes_unit, "samples": self._column(at)[:SAMPLES]})
            row.update({"gaps": self.gaps[at], "is_filled": at in self.filled})
            found.append(row)
        return found


def _key(words: str) -> str:
    """Return what two names are compared by: no case, no spaces at the ends or twice."""
    return " ".join(words.lower().split())
