"""The day on paper: call and emergency card, shots with their readiness, each shot's sheet, checklists to tick by pen.

Paper grows old the moment it is printed: what it says of readiness carries its time, and nothing on it says that it
is safe to roll. Departments, no names.
"""

from __future__ import annotations

import io
import itertools
import json
from collections.abc import Iterator, Mapping
from typing import Any

import segno

from tailslate.day import holds, kinds, names, paper_list, readiness, report, sheet, shown, ticks, turn_around
from tailslate.day.gathered import Gathered
from tailslate.pack import blocks, drawing, pictures, told
from tailslate.pack.blocks import Block
from tailslate.pack.whole_day import ShotSheet, WholeDay

FILL_IN = "NOT KNOWN: fill in before the day"
CARD = (
    "emergency_number", "address", "nearest_hospital", "assembly_point", "first_aider", "medic", "who_decides",
)  # fmt: skip
SAID_ONLY = ("medic",)  # an older field beside the first aider: printed where somebody filled it in
CALL = ("date_label", "place", "call_time", "meal_time", "wrap_time")
DECIDES = (
    "In an emergency ring the number above first, then stop the set. Figures here are arithmetic for planning: "
    "local codes and licensed or competent people decide."
)
HEAD_ROWS, SHORT_ROWS, LINE_LETTERS = 3, 26, 80  # lines of a head, of two thirds of a page; letters of a line
SHORT_TABLE = 12  # shots whose table is surely shorter than a page
REASONS = 6  # of a shot on its own sheet; the rest stands in the checklists


def of_day(
    day: WholeDay, *, join_link: str = "", pictures_held: Mapping[str, bytes] | None = None
) -> list[Block]:
    """Return the day pack as blocks; `pictures_held` is SHA-256 to bytes, None leaves the pictures out."""
    made = [*_card(day, join_link), *_shots(day)]
    before: dict[str, str] = {}
    for one in day.shots:
        made += _sheet(one, day, before)
    made += _drinks(day)
    numbers = Numbers(day)
    for department, label, _short in kinds.DEPARTMENTS:
        listed, size = _checklist(department, day, numbers)
        if listed:
            is_short = size <= SHORT_ROWS  # such lists share a page
            listed = [blocks.part(f"{label}: checklist", on_a_new_page=not is_short), *listed]
            made += [blocks.together(listed)] if is_short else listed
    made += _from_shot_to_shot(day)
    if pictures_held is not None:
        made += pictures.of_day(day, pictures_held)
    return made


def _card(day: WholeDay, join_link: str) -> Iterator[Block]:
    yield blocks.part("Call and emergency card")
    yield blocks.strip("", day.title)
    yield from blocks.facts_in_short(_fact(field, day, shown.NOT_KNOWN) for field in CALL)
    filled = [field for field in CARD if field not in SAID_ONLY or day.found.entry(day.key, field)]
    yield from blocks.big(_fact(field, day, FILL_IN) for field in filled)
    yield blocks.caution(DECIDES)
    for sentence in day.incomplete:
        yield blocks.against(sentence)
    for one in day.page["holds"]:
        yield _hold(one)
    yield from blocks.facts(
        [("note", names.answers(day.key, "note", day.found))] if day.found.text(day.key, "note") else []
    )
    if join_link:
        yield blocks.code(
            qr(join_link), beside=f"Join the day: open this with the phone's camera.\n{join_link}"
        )


def _fact(field: str, day: WholeDay, unknown: str) -> tuple[str, str]:
    known = kinds.field_of("day", field)
    said = names.answers(day.key, field, day.found)
    return (known.label if known else field, unknown if said == shown.NOT_KNOWN else said)


def qr(link: str) -> str:
    """Return a QR code (ISO/IEC 18004) as an SVG drawing."""
    target = io.BytesIO()
    segno.make(link, error="m", micro=False).save(target, kind="svg", border=4, svgns=True, xmldecl=False)
    return target.getvalue().decode("utf-8")


def _hold(one: dict[str, object]) -> Block:
    if one["cleared"]:
        return blocks.line(f"Cleared: {one['line']}")
    return blocks.hold(str(one["line"]), "HOLD" if holds.does_hold(one) else "WATCH")


def word_on_paper(one: ShotSheet, day: WholeDay) -> str:
    """Return a shot's state as paper may say it: what was ready is told with its time."""
    word: str = one.readiness["word"]
    if one.readiness["state"] == readiness.READY:
        return f"WAS READY at {day.clock(one.readiness['as_of_ms'])}: confirm by voice"
    return word


def _shots(day: WholeDay) -> Iterator[Block]:
    if not day.shots:
        yield blocks.part("Shots", on_a_new_page=False)
        yield blocks.line("No shot is listed yet.")
        return
    rows = []
    for one in day.shots:
        found = one.sheet["shot"]
        key = found["record"]
        scene = one.records.target(key, "scene")
        planned = names.answers(key, "planned_roll_time", one.records)
        rows.append(
            [
                f"{found['number']} {found['title']}",
                one.records.text(scene, "number") if scene else "",
                shown.value("shot", "phase", found["phase"]),
                "" if planned == shown.NOT_KNOWN else planned,
                word_on_paper(one, day),
                one.readiness["sentence"],
            ]
        )
    listed = blocks.table(
        ("shot", "scene", "phase", "to roll", "state", "what stands first"),
        rows,
        widths=(4, 1.2, 1.8, 1.4, 2.6, 6),
    )
    if len(rows) <= SHORT_TABLE:  # all of the day at a glance
        yield blocks.together([blocks.part("Shots", on_a_new_page=False), *listed])
    else:
        yield blocks.part("Shots", on_a_new_page=False)
        yield from listed


def _once(title: str, body: Iterator[Block], number: str, before: dict[str, str]) -> list[Block]:
    """Return a section; where an earlier sheet had the very same, its stops and where its figures stand."""
    found = list(body)
    first = before.setdefault(json.dumps([title, found]), number)
    if found and first != number:
        kept = [one for one in found if one["block"] in ("hold", "against")]
        found = [*kept, blocks.line(f"The same as on the sheet of {first}.")]
    return told.titled(title, found)


def _sheet(one: ShotSheet, day: WholeDay, before: dict[str, str]) -> Iterator[Block]:
    made, found = one.sheet, one.sheet["shot"]
    yield blocks.part(f"Shot {found['number']}")
    yield blocks.strip(found["number"], found["title"], word_on_paper(one, day))
    for held in made["holds"]:
        yield _hold(held)
    yield from told.cautions(made["holds"])
    reasons = [each for each in one.readiness["reasons"] if each["code"] != "hold"]
    for each in reasons[:REASONS]:
        yield blocks.against(each["sentence"])
    if len(reasons) > REASONS:
        yield blocks.line(f"and {len(reasons) - REASONS} more: see the checklists")
    against = [*made["over"], *made["two_answers"]]
    yield from told.cautions(against)
    in_full = [each["caution"] for each in against]
    called = [
        each["caution"]["code"] for each in reasons[:REASONS] if each["caution"] not in [None, *in_full]
    ]
    if called:
        names = ", ".join(dict.fromkeys(code.replace("_", " ") for code in called))
        yield blocks.caution(f"{names}: in full in the checklists. They say who decides.")
    yield from told.titled("Speaks against it", (blocks.against(each["sentence"]) for each in made["over"]))
    yield from told.titled(
        "Two answers",
        (blocks.against(f"{each['label']}. {each['sentence']}") for each in made["two_answers"]),
    )
    settings = [
        each for each in made["setup"] if each["field"] not in sheet.SHOT_FACTS
    ]  # the target has those
    yield from blocks.facts_in_short((each["label"], each["shown"]) for each in settings)
    yield from told.parts([report.light(made), report.lit_by(found["record"], one.records)])
    yield from told.titled("Rigging", told.rigging(made["rigging"]))
    yield from _once("Power", told.power(made["power"]), found["number"], before)
    yield from _once("Tape", told.tape(made["tape"]), found["number"], before)
    yield from told.titled("Frame", told.frame(made["frame"]))
    yield from told.titled("From above", _from_above(one))


def _from_above(one: ShotSheet) -> Iterator[Block]:
    svg, lines = drawing.from_above(one.records, shot=one.sheet["shot"]["record"], frame=one.sheet["frame"])
    if svg:
        yield blocks.drawing(svg)
    yield from (blocks.line(sentence) for sentence in lines)


def _drinks(day: WholeDay) -> list[Block]:
    """Give the drinks and the food of the day, each once."""
    found = {thing["record"]: thing for one in day.shots for thing in one.sheet["drinks"]}
    made = list(told.drinks(list(found.values()))) if found else []
    return [blocks.part("Drinks and food"), *made] if made else []


class Numbers:
    """The number of each row in its shot's list, and the list's code, as the phones count them."""

    def __init__(self, day: WholeDay) -> None:
        """Count every list once."""
        self.codes: dict[str, str] = {}
        self.of: dict[tuple[str, str, str], int] = {}
        for one in day.shots:
            listed = paper_list.of_sheet(one.sheet["rows"])
            self.codes[one.shot] = listed["code"]
            for each in listed["rows"]:
                self.of[(one.shot, each["row"]["record"], each["row"]["field"])] = each["number"]


def _checklist(department: str, day: WholeDay, numbers: Numbers) -> tuple[list[Block], float]:
    """Return a department's boxes under their shots, and how many lines they take, about."""
    groups = sheet.of_department(department, [{"shot": one.shot, "sheet": one.sheet} for one in day.shots])
    shots_of: dict[tuple[str, str], list[str]] = {}
    for group in groups:
        for row in group["rows"]:
            shots_of.setdefault((row["record"], row["field"]), []).append(group["number"])
    made: list[Block] = []
    size = float(HEAD_ROWS)
    printed: set[tuple[str, str]] = set()
    cautioned: set[str] = set()
    for group in groups:
        rows: list[dict[str, Any]] = []
        for row in group["rows"]:
            key = (row["record"], row["field"])
            if key in printed or row["state"] == ticks.OFF:
                continue
            printed.add(key)
            others = shots_of[key][1:]
            more = ["also for " + ", ".join(others)] if others else []
            caution = row["caution"]
            if caution and caution["code"] in cautioned:  # in full where the list has it first
                more.append("CAUTION as above: " + caution["code"].replace("_", " "))
                caution = None
            cautioned.update([caution["code"]] if caution else [])
            number = numbers.of[(group["shot"], *key)]
            rows.append(told.row(row, number=number, more=more, caution=caution))
            size += _lines(rows[-1])
        if rows:
            code = f"list {numbers.codes[group['shot']]}"
            made += [blocks.strip(group["number"], group["title"], code, is_small=True), *blocks.ticks(rows)]
            size += HEAD_ROWS / 2
    return made, size


def _from_shot_to_shot(day: WholeDay) -> list[Block]:
    """Give what is to be done between shots, with boxes; before the first one the checklists say all.

    Departments follow each other without a new page: the whole is pinned up, and read out when the set turns round.
    """
    records = Gathered(day.records, units=day.units, utc_offset_min=day.offset)
    pairs = itertools.pairwise(one.shot for one in day.shots)
    turns = [turn_around.of_shots(now, then, records) for then, now in pairs]
    made: list[Block] = []
    for department, label, _short in kinds.DEPARTMENTS:
        cautioned: set[str] = set()
        before: dict[str, str] = {}
        found: list[Block] = []
        for turn in turns:
            name = f"{turn['from_number']} to {turn['to_number']}"
            lines = [one["lines"] for one in turn["departments"] if one["department"] == department]
            rows = [told.turn_line(line, cautioned) for line in (lines[0] if lines else [])]
            if rows:
                # the same glasses to the same line, shot after shot, are one box
                same = before.setdefault(json.dumps([row["title"] for row in rows]), name)
                if same != name:
                    boxes = {row["box"] for row in rows}
                    box = boxes.pop() if len(boxes) == 1 else blocks.OPEN
                    rows = [{"box": box, "title": f"All as from {same}", "must": False}]
                found += [blocks.strip("", name, is_small=True), *blocks.ticks(rows)]
        made += [blocks.head(label), *found] if found else []
    return [blocks.part("From shot to shot"), *made] if made else []


def _lines(row: dict[str, Any]) -> float:
    """Return how many lines a row takes, about."""
    said = [row["title"] + row["word"] + row["second"], *row["lines"], row["caution"]]
    return sum(-(-len(one) // LINE_LETTERS) for one in said) * 1.0
