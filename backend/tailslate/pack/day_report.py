"""The end of the day on paper: how each shot was really lit, takes, holds, what was used up, and who ticked safety.

Names stand beside safety ticks only, the clearing of a hold among them; everything else names departments. What nobody wrote down is said
to be not known, never left out.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal

from tailslate.day import gathered, kinds, merge, names, rows, shown, ticks
from tailslate.day.gathered import Gathered
from tailslate.pack import blocks, day_pack, told
from tailslate.pack.blocks import Block
from tailslate.pack.whole_day import ShotSheet, WholeDay

SAFETY_FIELDS = (
    "safety_on",
    "round_done",
)  # safety ticks by themselves; a task is one when it carries a caution
EXPOSURE = ("t_stop", "exposure_index", "frame_rate_per_s", "shutter_angle_deg", "calibration_constant")
BALANCE = ("reference_colour_k", "reference_duv")
SETUP = (
    "lens_mm", "sensor_width_mm", "camera_height_m", "camera_distance_m", "tilt_deg", "path",
)  # fmt: skip
NOT_SHOT = "No take is written down."


def of_day(day: WholeDay) -> list[Block]:
    """Return the report as blocks."""
    made = [*_shots(day)]
    for one in day.shots:
        made += _as_shot(one, day)
    return [*made, *_holds(day), *_incidents(day), *_used(day), *_safety(day)]


def _shots(day: WholeDay) -> Iterator[Block]:
    yield blocks.part("End of the day")
    yield blocks.strip("", day.title)
    yield from blocks.facts(
        (label, told.value(day.key, field, day.found))
        for field, label in (
            ("date_label", "date"),
            ("place", "place"),
            ("call_time", "call"),
            ("wrap_time", "wrap"),
        )
    )
    for sentence in day.incomplete:
        yield blocks.against(sentence)
    rows_of = []
    for one in day.shots:
        key = one.sheet["shot"]["record"]
        rows_of.append(
            [
                f"{one.sheet['shot']['number']} {one.sheet['shot']['title']}",
                shown.value("shot", "phase", one.sheet["shot"]["phase"]),
                told.value(key, "takes", one.records),
                one.sheet["light"]["key_to_fill"]["shown"]
                if one.sheet["light"]["key_to_fill"]
                else shown.NOT_KNOWN,
                _said(key, "match_note", one.records),
            ]
        )
    yield from blocks.table(
        ("shot", "phase", "takes", "key to fill", "match note"), rows_of, widths=(4, 2, 1.4, 2, 5)
    )


def _said(key: str, field: str, records: Gathered) -> str:
    said = told.value(key, field, records)
    return "" if said == shown.NOT_KNOWN else said


def _as_shot(one: ShotSheet, day: WholeDay) -> Iterator[Block]:
    found, records = one.sheet["shot"], one.records
    key = found["record"]
    setup = records.target(key, "setup")
    yield blocks.part(f"Shot {found['number']} as it stands")
    yield blocks.strip(found["number"], found["title"], shown.value("shot", "phase", found["phase"]))
    takes = records.whole(key, "takes")
    yield blocks.line(f"takes: {told.value(key, 'takes', records)}" if takes is not None else NOT_SHOT)
    settings = [_labelled(key, field, records) for field in EXPOSURE + BALANCE]
    settings += [_labelled(setup, field, records) for field in SETUP] if setup else []
    yield from told.titled("Settings", blocks.facts_in_short(settings))
    yield from told.titled("Light", told.light_in_short(one.sheet))
    yield from told.titled("Readings", _readings(key, day.found))
    yield from told.titled("Lit by", told.lit_by(key, records))
    notes = [_labelled(key, field, records) for field in ("match_note", "note") if records.entry(key, field)]
    notes += [
        ("note, " + names.who(day.found.entry(note, "text"), day.found), told.value(note, "text", day.found))
        for note in day.found.of_kind("note")
        if key in (day.found.target(note, "shot"), day.found.target(note, "on"))
    ]
    yield from told.titled("Notes", blocks.facts(notes))


def _labelled(key: str, field: str, records: Gathered) -> tuple[str, str]:
    known = kinds.field_of(gathered.kind_of(key), field)
    return (known.label if known else field, told.value(key, field, records))


def _readings(shot: str, found: Gathered) -> list[Block]:
    """Give every reading that was taken for a shot, in the order of their times."""
    told_of = []
    for key in found.pointing("reading", "shot", shot):
        taken = [found.entry(key, field) for field in ("illuminance_lx", "t_stop", "colour_k")]
        entry = next((one for one in taken if one), None)
        if entry:
            told_of.append((entry[gathered.AT_MS], key, entry))
    made = []
    for at_ms, key, entry in sorted(told_of, key=lambda one: (one[0], one[1])):
        figures = [_said(key, field, found) for field in ("illuminance_lx", "t_stop", "colour_k", "duv")]
        when = _said(key, "taken_time", found) or shown.clock(at_ms, found.utc_offset_min)
        made.append(
            [
                _said(key, "role", found) or "all",
                told.value(key, "point", found),
                ", ".join(one for one in figures if one),
                f"{when}, {names.who(entry, found)}",
                _said(key, "note", found),
            ]
        )
    return blocks.table(("of", "at", "read", "when, who", "note"), made, widths=(1.6, 3, 3, 2.6, 3))


def _holds(day: WholeDay) -> Iterator[Block]:
    """Give the log of holds, every act in the order of its time: what was raised stays, also when it was cleared."""
    yield blocks.part("Holds")
    acts = [one for one in day.edits if one.kind == "hold"]
    made = []
    for one in sorted(acts, key=lambda act: (act.at_ms, act.id)):
        key = one.record_key
        said = []
        for change in one.changes:
            known = kinds.field_of("hold", change[0])
            label = known.label if known else change[0]
            said.append(f"{label}: {names.value_words(key, change[0], change[1], day.found)}")
        live = _counts(one.id, key, [change[0] for change in one.changes], day.found)
        is_clearing = "cleared" in [
            change[0] for change in one.changes
        ]  # a safety tick; whoever raises needs no name
        entry = ["", None, one.at_ms, one.by, one.for_whom, "", 0]
        who = person(one.by, one.for_whom, day.found) if is_clearing else names.who(entry, day.found)
        made.append([day.clock(one.at_ms), "\n".join(said), who, live])
    if not made:
        yield blocks.line("No hold was raised.")
    yield from blocks.table(("time", "what was said", "who", ""), made, widths=(1.2, 6, 3, 2))
    for held in day.page["holds"]:
        yield blocks.hold(held["line"], "STILL HELD" if held["type"] != "watch" else "WATCH")


INCIDENT = ("happened_time", "place", "what", "told", "injured")


def _incidents(day: WholeDay) -> Iterator[Block]:
    """Give what happened, where, when and who was told, as it stands; unknown is said, and two answers both stand."""
    yield blocks.head("Incidents")
    made = []
    for key in day.found.of_kind("incident"):
        entry = day.found.entry(key, "what")
        at_ms = entry[gathered.AT_MS] if entry else 0
        shot = day.found.target(key, "shot")
        row = [told.value(key, field, day.found) for field in INCIDENT]
        row[2] += f"\nin {names.name_of(shot, day.found)}" if shot else ""
        made.append((at_ms, key, [*row, f"{names.who(entry, day.found)}, {day.clock(at_ms)}"]))
    if not made:
        yield blocks.line("No incident was written down.")
    yield from blocks.table(
        ("when", "where", "what happened", "who was told", "anyone hurt", "written by"),
        [row for _at, _key, row in sorted(made, key=lambda one: (one[0], one[1]))],
        widths=(1.2, 2.4, 4.4, 2.4, 1.4, 2),
    )


def _counts(edit_id: str, key: str, fields: list[str], found: Gathered) -> str:
    """Return what became of an act: stands, was replaced, or does not count."""
    for field in fields:
        cell = found.cell(key, field)
        if cell and edit_id in [entry[0] for entry in cell[merge.LIVE]]:
            return "stands"
    off = any(
        edit_id in str(cell[merge.OFF]) for cell in (found.cell(key, field) for field in fields) if cell
    )
    return "does not count yet" if off else "replaced since"


def person(by: str, for_whom: str, found: Gathered) -> str:
    """Return the name and role of whoever did something, and for whom."""
    told_of = []
    for one in (by, for_whom if for_whom != by else ""):
        key = "person/" + one
        parts = dict.fromkeys([found.text(key, "name"), found.text(key, "role")])
        if one:
            told_of.append(", ".join(part for part in parts if part) or "someone who is not listed")
    return " for ".join(told_of) or "the server"


def _used(day: WholeDay) -> Iterator[Block]:
    """Give what was used up: a record each, and the sum of each thing."""
    yield blocks.part("Used up", on_a_new_page=False)
    made = []
    for key in sorted(day.found.of_kind("used"), key=lambda one: (day.found.target(one, "on"), one)):
        on = day.found.target(key, "on")
        amounts = [_said(key, field, day.found) for field in ("amount_l", "amount")]
        take = _said(key, "take", day.found)
        shot = day.found.target(key, "shot")
        entry = day.found.entry(key, "amount_l") or day.found.entry(key, "amount")
        made.append(
            [
                names.name_of(on, day.found) if on else "not known",
                ", ".join(one for one in amounts if one) or shown.NOT_KNOWN,
                names.name_of(shot, day.found) if shot else "",
                take,
                names.signed("", entry, day.found).lstrip(". ") if entry else "",
            ]
        )
    if not made:
        yield blocks.line("Nothing is written down as used up.")
    yield from blocks.table(("what", "amount", "shot", "take", "when, who"), made, widths=(4, 2, 4, 1, 3))
    yield from blocks.facts(_sums(day))
    yield from told.titled("Kit and what it cost", blocks.table(*_kit(day), widths=(4, 2, 2, 2, 2, 3)))


def _sums(day: WholeDay) -> Iterator[tuple[str, str]]:
    """Give the sum of each thing; where a record does not say how much, or says two things, it is 'at least'."""
    for on in sorted({day.found.target(key, "on") for key in day.found.of_kind("used")} - {""}):
        for field in ("amount_l", "amount"):
            amount, is_whole = told.used_up(on, field, day.found)
            if amount:
                said = shown.figure(float(amount), "l") if field == "amount_l" else f"{amount} pieces"
                yield (f"{names.name_of(on, day.found)}, in all", said if is_whole else "at least " + said)


def _kit(day: WholeDay) -> tuple[tuple[str, ...], list[list[str]]]:
    """Return what of the kit was used up: there, used, left, cost of one and of all. What nobody counted is not known."""
    made = []
    used = {day.found.target(key, "on") for key in day.found.of_kind("used")}
    for key in sorted(one for one in used if gathered.kind_of(one) == "kit"):
        amount, is_whole = told.used_up(key, "amount", day.found)
        there = day.found.whole(key, "count")
        is_counted = is_whole and there is not None and not told.is_split(key, "count", day.found)
        left = str(max((there or 0) - amount, Decimal(0))) if is_counted else shown.NOT_KNOWN
        cost, in_all = told.value(key, "cost", day.found), shown.NOT_KNOWN
        price = PRICE.match(cost)
        if price and is_whole:
            in_all = f"{Decimal(price[1]) * amount:.2f} {price[2]}".strip()
        on_hand = shown.NOT_KNOWN if there is None else told.value(key, "count", day.found)
        used_words = str(amount) if is_whole else f"at least {amount}"
        made.append([names.name_of(key, day.found), on_hand, used_words, left, cost, in_all])
    return ("kit", "there", "used", "left", "cost of one", "cost of what was used"), made


PRICE = re.compile(r"(\d+(?:\.\d{1,2})?)(?: ([A-Z]{3}))?$")  # "12.50 GBP": a figure, and a code of ISO 4217


def _safety(day: WholeDay) -> Iterator[Block]:
    """Give every safety tick with the name of whoever gave it, and those that are open."""
    yield blocks.part("Safety ticks")
    yield blocks.caution("A tick says what someone looked at and when. " + day_pack.DECIDES)
    made: dict[tuple[str, str], list[str]] = {}
    for one in day.shots:
        for row in rows.all_rows(one.sheet["rows"]):
            is_safety = row["field"] in SAFETY_FIELDS or row["caution"] is not None
            if not is_safety or (row["state"] == ticks.OFF and not row["by"]):
                continue
            state = {ticks.OPEN: "NOT DONE", ticks.AGAIN: "done, then changed", ticks.TWO: "TWO ANSWERS"}
            signed = ""
            if row["at_ms"] and row["state"] != ticks.OPEN:
                signed = f"{person(row['by'], row['for_whom'], day.found)}, {day.clock(row['at_ms'])}"
            what = "\n".join([row["title"], *row["changes"]])
            found = made.setdefault((row["record"], row["field"]), ["", what, "", ""])
            number = one.sheet["shot"]["number"]
            found[0] = f"{found[0]}, {number}" if found[0] else number
            found[2], found[3] = str(state.get(row["state"], row["word"])), signed
    if not made:
        yield blocks.line("No safety tick was asked for.")
    yield from blocks.table(("shots", "what", "state", "who, when"), made.values(), widths=(2, 5, 2, 3.4))
