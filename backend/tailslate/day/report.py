"""The end of a day, for paper: how each shot was really lit, takes, holds, incidents, what was used up, safety ticks.

Knows no page: parts with ready words, which server and phone lay out. Names stand beside safety ticks only, the clearing
of a hold among them; everything else names departments. What nobody wrote down is said to be not known, never left out.
"""

from tailslate.craft.rounding import decimal_text, total, trimmed_text
from tailslate.day import gathered, kinds, merge, names, rows, shown, ticks
from tailslate.day.edit import is_whole
from tailslate.day.gathered import LIVE

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered

    Part = dict[str, Any]

SAFETY_FIELDS = (
    "safety_on",
    "round_done",
)  # safety ticks by themselves; others are when they carry a caution
OF_SHOT = (
    "t_stop", "exposure_index", "frame_rate_per_s", "shutter_angle_deg", "calibration_constant", "reference_colour_k",
    "reference_duv",
)  # fmt: skip
OF_SETUP = ("lens_mm", "sensor_width_mm", "camera_height_m", "camera_distance_m", "tilt_deg", "path")
INCIDENT = ("happened_time", "place", "what", "told", "injured")
OF_DAY = ("date_label", "place", "call_time", "wrap_time")
STATES = {ticks.OPEN: "NOT DONE", ticks.AGAIN: "done, then changed", ticks.TWO: "TWO ANSWERS"}
AT_LEAST = "at least "
DECIDE = "Local codes and licensed or competent people decide."


def part(name: str, title: str, **more: "Any") -> "Part":
    """Return one part: keys name, title, lines, cautions (sentences), facts (pairs), columns, rows (of texts)."""
    made: Part = {"name": name, "title": title, "lines": [], "cautions": [], "facts": []}
    made.update({"columns": [], "rows": []})
    made.update(more)
    return made


def of_shot(sheet: "dict[str, Any]", records: "Gathered") -> "dict[str, Any]":
    """Return how a shot was lit and what was ticked for it.

    Args:
        sheet: as sheet.of_shot gives it.
        records: the shot with what it reads, its readings, and the notes of the day.
    Returns: dict, keys number, title, phase, line (of the day's table of shots), parts, safety (list, as `of_day`
        takes it).
    """
    shot = sheet["shot"]
    key, contrast = shot["record"], sheet["light"]["key_to_fill"]
    phase, setup = shown.value("shot", "phase", shot["phase"]), records.target(key, "setup")
    settings = [_labelled(key, field, records) for field in OF_SHOT]
    settings += [_labelled(setup, field, records) for field in OF_SETUP] if setup else []
    takes = names.answers(key, "takes", records)
    line = "No take is written down." if takes == shown.NOT_KNOWN else "takes: " + takes
    return {
        "number": shot["number"],
        "title": shot["title"],
        "phase": phase,
        "line": [
            shot["number"] + " " + shot["title"],
            phase,
            takes,
            contrast["shown"] if contrast else shown.NOT_KNOWN,
            _said(key, "match_note", records),
        ],
        "parts": [
            part("takes", "", lines=[line]),
            part("settings", "Settings", facts=settings),
            light(sheet),
            _readings(key, records),
            lit_by(key, records),
            part("notes", "Notes", facts=_notes(key, records)),
        ],
        "safety": _safety_of(sheet, records),
    }


def light(sheet: "dict[str, Any]") -> "Part":
    """Return the target and the levels, a row each: stops and lux, and whether a meter said so."""
    made = []
    for one in sheet["light"]["levels"]:
        told = [one[name]["shown"] for name in ("stops", "lux") if one[name]]
        made.append([one["title"], ", ".join(told) or "NOT KNOWN", one["line"]])
    contrast = sheet["light"]["key_to_fill"]
    if contrast:
        made.append(["Key to fill", contrast["shown"], contrast["line"]])
    warned: list[str] = []
    for one in sheet["light"]["levels"]:
        if one["caution"] and one["caution"]["sentence"] not in warned:
            warned.append(one["caution"]["sentence"])
    told_of = {"lines": [sheet["shot"]["target"]["sentence"]], "rows": made, "cautions": warned}
    return part("light", "Light", columns=["level at", "from the shot's stop", "how it is known"], **told_of)


def lit_by(shot: str, records: "Gathered") -> "Part":
    """Return how each source was set: lamp, what stands before it, distance, dimmer, what it is aimed at."""
    made = []
    for key in records.pointing("level", "shot", shot):
        source = records.target(key, "source")
        if not records.is_there(source):
            continue
        before = []
        for one in sorted(
            records.pointing("layer", "source", source),
            key=lambda one: (records.whole(one, "order") or 0, one),
        ):
            size = names.answers(one, "width_m", records) + " by " + names.answers(one, "height_m", records)
            before.append(
                names.name_of(one, records) + " " + size + ", gap " + names.answers(one, "gap_m", records)
            )
        burns = {"yes": "", "no": ", not burning"}.get(records.text(key, "on"), ", nobody said if it burns")
        aimed = [names.answers(key, "distance_m", records), names.answers(key, "point", records)]
        aimed += [one + " off axis" for one in [_said(key, "off_axis_deg", records)] if one]
        dimmer = [_said(key, field, records) for field in ("dimmer_percent", "output_ratio")]
        made.append(
            [
                names.name_of(source, records) + "\n" + names.answers(key, "role", records) + burns,
                names.answers(source, "lamp", records)
                + "\nto the lens "
                + names.answers(source, "height_m", records),
                "\n".join(before) or "nothing listed",
                "\n".join(aimed),
                ", ".join([one for one in dimmer if one]) or shown.NOT_KNOWN,
            ]
        )
    columns = ["source", "lamp, height", "before it, lamp first", "distance, aimed at", "dimmer"]
    return part("lit_by", "Lit by", columns=columns, rows=made)


def _labelled(key: str, field: str, records: "Gathered") -> "list[str]":
    known = kinds.field_of(gathered.kind_of(key), field)
    return [known.label if known else field, names.answers(key, field, records)]


def _said(key: str, field: str, records: "Gathered") -> str:
    said = names.answers(key, field, records)
    return "" if said == shown.NOT_KNOWN else said


def _readings(shot: str, records: "Gathered") -> "Part":
    """Return every reading that was taken for a shot, in the order of their times."""
    taken = []
    for key in records.pointing("reading", "shot", shot):
        for field in ("illuminance_lx", "t_stop", "colour_k"):
            entry = records.entry(key, field)
            if entry:
                taken.append((entry[gathered.AT_MS], key, entry))
                break
    made = []
    for at_ms, key, entry in sorted(taken, key=lambda one: (one[0], one[1])):
        figures = [_said(key, field, records) for field in ("illuminance_lx", "t_stop", "colour_k", "duv")]
        when = _said(key, "taken_time", records) or shown.clock(at_ms, records.utc_offset_min)
        made.append(
            [
                _said(key, "role", records) or "all",
                names.answers(key, "point", records),
                ", ".join([one for one in figures if one]),
                when + ", " + names.who(entry, records),
                _said(key, "note", records),
            ]
        )
    return part("readings", "Readings", columns=["of", "at", "read", "when, who", "note"], rows=made)


def _notes(shot: str, records: "Gathered") -> "list[list[str]]":
    made = [_labelled(shot, field, records) for field in ("match_note", "note") if records.entry(shot, field)]
    for note in records.of_kind("note"):
        if shot in (records.target(note, "shot"), records.target(note, "on")):
            who = names.who(records.entry(note, "text"), records)
            made.append(["note, " + who, names.answers(note, "text", records)])
    return made


def _safety_of(sheet: "dict[str, Any]", records: "Gathered") -> "list[list[str]]":
    """Return the safety ticks of a shot: key of the tick, number of the shot, what, state, who and when."""
    made = []
    for row in rows.all_rows(sheet["rows"]):
        is_safety = row["field"] in SAFETY_FIELDS or row["caution"] is not None
        if not is_safety or (row["state"] == ticks.OFF and not row["by"]):
            continue
        signed = ""
        if row["at_ms"] and row["state"] != ticks.OPEN:
            when = shown.clock(row["at_ms"], records.utc_offset_min)
            signed = person(row["by"], row["for_whom"], records) + ", " + when
        state = STATES.get(row["state"], row["word"])
        what = "\n".join([row["title"]] + row["changes"])
        made.append([row["record"] + "/" + row["field"], sheet["shot"]["number"], what, state, signed])
    return made


def of_day(
    shots: "list[dict[str, Any]]", acts: "list[dict[str, Any]]", records: "Gathered", incomplete: "list[str]"
) -> "list[Part]":
    """Return the parts that are of the whole day.

    Args:
        shots: what `of_shot` gave for each, in order.
        acts: every act on a hold: dict, keys id, record, at_ms, by, for_whom, set (field to value).
        records: the day, its holds, incidents, what was used up, kit, people, and what these are about.
        incomplete: sentences, why this copy is not all that there is.
    Returns: parts day, holds, incidents, used, kit, safety.
    """
    days = records.of_kind("day")
    return [
        part(
            "day",
            "End of the day",
            facts=[_labelled(days[0], field, records) for field in OF_DAY] if days else [],
            lines=incomplete,
            columns=["shot", "phase", "takes", "key to fill", "match note"],
            rows=[one["line"] for one in shots],
        ),
        _holds(acts, records),
        _incidents(records),
        _used(records),
        _kit(records),
        _safety(shots),
    ]


def _holds(acts: "list[dict[str, Any]]", records: "Gathered") -> "Part":
    """Return the log of holds, every act in the order of its time: what was raised stays, also when it was cleared."""
    made = []
    for one in sorted(acts, key=lambda act: (act["at_ms"], act["id"])):
        key, fields = one["record"], sorted(one["set"])
        said = []
        for field in fields:
            known = kinds.field_of("hold", field)
            label = known.label if known else field
            said.append(label + ": " + names.value_words(key, field, one["set"][field], records))
        if "cleared" in fields:  # a safety tick; whoever raises needs no name
            who = person(one["by"], one["for_whom"], records)
        else:
            who = names.who(["", None, one["at_ms"], one["by"], one["for_whom"], "", 0], records)
        when = shown.clock(one["at_ms"], records.utc_offset_min)
        made.append([when, "\n".join(said), who, _counts(one["id"], key, fields, records)])
    lines = [] if made else ["No hold was raised."]
    return part("holds", "Holds", columns=["time", "what was said", "who", ""], rows=made, lines=lines)


def _counts(edit_id: str, key: str, fields: "list[str]", records: "Gathered") -> str:
    """Return what became of an act: stands, was replaced, or does not count."""
    cells = [cell for cell in [records.cell(key, field) for field in fields] if cell]
    for cell in cells:
        if edit_id in [entry[0] for entry in cell[LIVE]]:
            return "stands"
    off = [cell for cell in cells if edit_id in str(cell[merge.OFF])]
    return "does not count yet" if off else "replaced since"


def _incidents(records: "Gathered") -> "Part":
    """Return what happened, where, when and who was told, as it stands; unknown is said, and two answers both stand."""
    found = []
    for key in records.of_kind("incident"):
        entry = records.entry(key, "what")
        at_ms = entry[gathered.AT_MS] if entry else 0
        shot = records.target(key, "shot")
        row = [names.answers(key, field, records) for field in INCIDENT]
        row[2] += "\nin " + names.name_of(shot, records) if shot else ""
        when = shown.clock(at_ms, records.utc_offset_min) if at_ms else ""
        found.append((at_ms, key, row + [names.who(entry, records) + ", " + when]))
    made = [row for _at, _key, row in sorted(found, key=lambda one: (one[0], one[1]))]
    columns = ["when", "where", "what happened", "who was told", "anyone hurt", "written by"]
    lines = [] if made else ["No incident was written down."]
    return part("incidents", "Incidents", columns=columns, rows=made, lines=lines)


def person(by: str, for_whom: str, records: "Gathered") -> str:
    """Return the name and role of whoever did something, and for whom."""
    told = []
    for one in (by, for_whom if for_whom != by else ""):
        if one:
            name, role = records.text("person/" + one, "name"), records.text("person/" + one, "role")
            both = [name, role] if name != role else [name]
            told.append(", ".join([each for each in both if each]) or "someone who is not listed")
    return " for ".join(told) or "the server"


def used_up(thing: str, field: str, records: "Gathered") -> "tuple[float, bool]":
    """Return how much of a thing is written down as used up, and whether every record of it says how much.

    Args:
        thing: record key of what is used up.
        field: amount_l [l] or amount [pieces].
        records: with the records of the kind `used`.
    """
    amounts, is_all = [], True
    for key in records.pointing("used", "on", thing):
        held = records.value(key, field)
        number = float(held) if is_whole(held) else gathered.number_of(held)
        if records.is_split(key, field):
            is_all = False
        elif number is not None:
            amounts.append(number)
        elif not records.entry(key, "amount_l") and not records.entry(key, "amount"):
            is_all = False
    return total(amounts), is_all


def _used(records: "Gathered") -> "Part":
    """Return what was used up: a record each, and the sum of each thing, 'at least' where one does not say how much."""
    made, things = [], []
    for on, key in sorted([(records.target(key, "on"), key) for key in records.of_kind("used")]):
        amounts = [_said(key, field, records) for field in ("amount_l", "amount")]
        shot = records.target(key, "shot")
        entry = records.entry(key, "amount_l") or records.entry(key, "amount")
        made.append(
            [
                names.name_of(on, records) if on else shown.NOT_KNOWN,
                ", ".join([one for one in amounts if one]) or shown.NOT_KNOWN,
                names.name_of(shot, records) if shot else "",
                _said(key, "take", records),
                names.signed("", entry, records).lstrip(". ") if entry else "",
            ]
        )
        things += [on] if on and on not in things else []
    sums = []
    for on in things:
        for field in ("amount_l", "amount"):
            amount, is_all = used_up(on, field, records)
            if amount:
                said = (
                    shown.figure(amount, "l") if field == "amount_l" else trimmed_text(amount, 0) + " pieces"
                )
                sums.append([names.name_of(on, records) + ", in all", said if is_all else AT_LEAST + said])
    lines = [] if made else ["Nothing is written down as used up."]
    columns = ["what", "amount", "shot", "take", "when, who"]
    return part("used", "Used up", columns=columns, rows=made, facts=sums, lines=lines)


def _kit(records: "Gathered") -> "Part":
    """Return what of the kit was used up: there, used, left, cost of one and of all. What nobody counted is not known."""
    made = []
    for key in sorted({records.target(key, "on") for key in records.of_kind("used")}):
        if gathered.kind_of(key) != "kit":
            continue
        amount, is_all = used_up(key, "amount", records)
        there, used = records.whole(key, "count"), trimmed_text(amount, 0)
        is_counted = is_all and there is not None and not records.is_split(key, "count")
        left = trimmed_text(max((there or 0) - amount, 0.0), 0) if is_counted else shown.NOT_KNOWN
        cost, on_hand = names.answers(key, "cost", records), names.answers(key, "count", records)
        in_all = (_cost(cost, amount) if is_all else "") or shown.NOT_KNOWN
        made.append(
            [names.name_of(key, records), on_hand, used if is_all else AT_LEAST + used, left, cost, in_all]
        )
    columns = ["kit", "there", "used", "left", "cost of one", "cost of what was used"]
    return part("kit", "Kit and what it cost", columns=columns, rows=made)


def _cost(cost: str, amount: float) -> str:
    """Return what so many cost, "" when the cost of one is no plain figure: "12.50 GBP", with a code of ISO 4217."""
    figure, _space, currency = cost.partition(" ")
    whole, _point, cents = figure.partition(".")
    is_price = whole.isdigit() and (figure == whole or (cents.isdigit() and len(cents) <= 2))
    is_code = not currency or (len(currency) == 3 and currency.isalpha() and currency.upper() == currency)
    return (decimal_text(float(figure) * amount, 2) + " " + currency).strip() if is_price and is_code else ""


def _safety(shots: "list[dict[str, Any]]") -> "Part":
    """Return every safety tick with the name of whoever gave it, and those that are open; one of several shots once."""
    found: dict[str, list[str]] = {}
    order = []
    for shot in shots:
        for key, number, what, state, signed in shot["safety"]:
            if key not in found:
                order.append(key)
            numbers = found[key][0] + ", " + number if key in found else number
            found[key] = [numbers, what, state, signed]
    lines = [] if order else ["No safety tick was asked for."]
    warned = ["A tick says what someone looked at and when, not that it is safe. " + DECIDE]
    columns = ["shots", "what", "state", "who, when"]
    made = [found[key] for key in order]
    return part("safety", "Safety ticks", columns=columns, rows=made, lines=lines, cautions=warned)
