"""A shot's sheet as plain text, line by line, in the words of the rules."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

LINE = 100
SIGNS = {"within": " ", "plain": " ", "over": "!", "unknown": "?"}
SIGN_WORDS = "! over   ? not known   (nothing here says that it is safe to roll)"


def lines(sheet: dict[str, Any], readiness: dict[str, Any]) -> Iterator[str]:
    """Give a sheet line by line, as plain text.

    Args:
        sheet: as the rules give it.
        readiness: as the rules give it.
    """
    shot = sheet["shot"]
    yield f"{shot['number']}  {shot['title']}"
    yield from _wrapped(f"{readiness['word']}: {readiness['sentence']}")
    yield SIGN_WORDS
    against = [f"! {one['sentence']}" for one in sheet["over"]]
    yield from _titled("Speaks against it", [*against, *_cautions(sheet["over"])])
    held = [one["line"] for one in sheet["holds"]]
    yield from _titled("Holds", [*held, *_cautions(sheet["holds"])])
    twos = [f"{one['label']}. {one['sentence']}" for one in sheet["two_answers"]]
    yield from _titled("Two answers", [*twos, *_cautions(sheet["two_answers"])])
    yield from _titled("Why", _reasons(readiness["reasons"]))
    yield from _titled("Set-up", _facts(sheet["setup"]))
    yield from _titled("Light", _light(sheet))
    yield from _titled("Colour", _colour(sheet["light"]["colour"]))
    yield from _titled("Rigging", [*_cautions(sheet["rigging"]), *_things(sheet["rigging"])])
    yield from _titled("Power", _power(sheet["power"]))
    yield from _titled("Drinks and food", _drinks(sheet["drinks"]))
    yield from _titled("Kit", [*_cautions(sheet["kit"]), *_things(sheet["kit"])])
    yield from _titled("Tape", _tape(sheet["tape"]))
    yield from _titled("Frame", _frame(sheet["frame"]))
    yield from _titled("To do", _rows(sheet["rows"]))


def _titled(title: str, body: Iterable[str]) -> Iterator[str]:
    told = list(body)
    if told:
        yield ""
        yield title.upper()
        for one in told:
            yield from _wrapped(one)


def _wrapped(text: str) -> Iterator[str]:
    """Break a line between words; what goes on is set in by two more."""
    indent = " " * (len(text) - len(text.lstrip()))
    line = ""
    for word in text.split():
        if line and len(indent) + len(line) + len(word) + 1 > LINE:
            yield indent + line
            line, indent = word, " " * (len(text) - len(text.lstrip())) + "  "
        else:
            line = f"{line} {word}".strip()
    yield indent + line


def _facts(facts: list[dict[str, str]]) -> Iterator[str]:
    for one in facts:
        yield f"  {one['label']}: {one['shown']}"


def _figure(one: dict[str, Any]) -> Iterator[str]:
    line = f"; {one['line']}" if one["line"] else ""
    yield f"  {SIGNS[one['state']]} {one['label']}: {one['shown']}{line}"
    asked = [missing["sentence"] for missing in one["missing"] if missing["sentence"] != one["line"]]
    if one["state"] == "unknown" and asked:
        yield f"      to know it: {'; '.join(asked)}"


def _things(things: list[dict[str, Any]]) -> Iterator[str]:
    for thing in things:
        yield thing["title"]
        for one in thing["figures"]:
            yield from _figure(one)


def _cautions(things: list[dict[str, Any]]) -> Iterator[str]:
    """Give the cautions of things and of their figures, each once, to stand before the figures."""
    told = [
        one
        for thing in things
        for one in [thing["caution"], *(two["caution"] for two in thing.get("figures", []))]
    ]
    sentences = {one["code"]: one["sentence"] for one in told if one}
    for sentence in sentences.values():
        yield f"CAUTION {sentence}"


def _reasons(reasons: list[dict[str, Any]]) -> Iterator[str]:
    """Give why a shot is not ready: what stands in a part of its own above is not said again."""
    told = [one for one in reasons if one["code"] not in ("over", "hold", "two_answers")]
    for one in told:
        yield f"  {one['sentence']}"
    yield from _cautions(told)


def _light(sheet: dict[str, Any]) -> Iterator[str]:
    light = sheet["light"]
    yield from _cautions(light["levels"] + light["bounces"])
    yield sheet["shot"]["target"]["sentence"]
    for change in light["changes"]:
        yield f"  ! {'. '.join([change['sentence'], *change['because']])}"
    for one in light["levels"]:
        if one["kind"] == "unknown":
            yield f"  ? {one['title']}: {one['line']}"
        else:
            told = [one[name]["shown"] for name in ("stops", "lux", "footcandles", "from_key") if one[name]]
            yield f"    {one['title']}: {', '.join(told)}. {one['line']}"
    contrast, spread = light["key_to_fill"], light["spread"]
    if contrast:
        yield f"    Key to fill: {contrast['shown']}. {contrast['line']}"
    if spread:
        yield f"    Spread: {spread['shown']}. {spread['line']}"
    for one in light["settings"]:
        sign = "!" if one["short"] else "?" if one["missing"] else " "
        yield f"  {sign} Dimmer, {one['title']}: {one['line']}"
    for one in light["ladders"]:
        told = [f"{stage['title']} {stage['loss']['shown']}" for stage in one["stages"] if stage["loss"]]
        if told:
            yield f"    Lost on the way, {one['title']}: {'; '.join(told)}"
    for one in light["softness"]:
        yield f"    Softness, {one['title']}: {one['line']}"
    for one in light["bounces"]:
        gives = f"{one['stops']['shown']}. " if one["stops"] else ""
        yield f"  {' ' if one['stops'] else '?'} {one['title']}, on {one['lifts']}: {gives}{one['line']}"
    for one in light["corrections"]:
        yield f"  {'!' if one['is_outside'] else ' '} {one['title']}: {one['line']}"


def _colour(colour: dict[str, Any]) -> Iterator[str]:
    yield f"balanced for: {colour['reference']['shown']}"
    for one in colour["sources"] + colour["points"]:
        if one["kind"] == "unknown":
            yield f"  ? {one['title']}: {one['line']}"
        else:
            match = one["match"]
            told = [one["shown"], match["shown"] if match else "", match.get("change", "") if match else ""]
            yield f"    {one['title']}: {'; '.join(part for part in told if part)}. {one['line']}"
    yield colour["threshold"]


def _power(power: dict[str, Any]) -> Iterator[str]:
    yield from _cautions(power["circuits"] + power["batteries"])
    for circuit in power["circuits"]:
        yield from _things([circuit])
        for one in circuit["loads"]:
            said = [
                f"{one['title']} {one['shown']}",
                "" if one["burning"] else "not in this shot",
                one["from"],
            ]
            yield "      " + ", ".join(word for word in said if word)
    yield from _things(power["batteries"])
    for one in power["nowhere"]:
        yield f"  ? {one['sentence']}"


def _drinks(drinks: list[dict[str, Any]]) -> Iterator[str]:
    yield from _cautions(drinks)
    for drink in drinks:
        yield drink["title"] + ("" if drink["cleared"] else ": NOT CLEARED")
        for one in drink["mix"]:
            source = f" ({one['from']})" if one["from"] else ""
            yield f"      {one['share']} {one['title']}, {one['amount']}{source}"
        for one in drink["allergens"]:
            yield f"      allergens, {one['title']}: {one['words']}"
        for one in drink["figures"]:
            yield from _figure(one)


def _tape(tape: dict[str, Any]) -> Iterator[str]:
    yield from _cautions(tape["jobs"])
    yield from _things(tape["jobs"])
    for roll in tape["rolls"]:
        yield roll["title"]
        yield from _figure(roll["figure"])


def _frame(frame: dict[str, Any]) -> Iterator[str]:
    lens = {"title": "Lens", "figures": frame["figures"], "caution": (frame["path"] or {}).get("caution")}
    yield from _cautions([lens])
    yield from _things([lens])
    for sentence in dict.fromkeys(one["sentence"] for one in frame["missing"]):
        yield f"  ? {sentence}"
    for one in frame["things"]:
        sign = " " if one["state"] == "out" or one["wanted"] else "?" if one["state"] == "unknown" else "!"
        yield f"  {sign} {one['title']}, {one['what']}: {one['word']}"
    for one in frame["glass"]:
        yield f"  ! {one['title']}: {one['sentence']}"
    if frame["unplaced"]:
        yield f"  ? without a place: {', '.join(one['title'] for one in frame['unplaced'])}"
    if frame["path"]:
        for one in frame["path"]["in_the_way"]:
            yield f"  ! {one['sentence']}"


def _rows(rows: dict[str, Any]) -> Iterator[str]:
    """Give what there is to do; a caution in full where it first belongs, by its name after that."""
    things = rows["rigs"] + rows["glasses"] + rows["dressing"]
    inside = [(row, thing["caution"]) for thing in things for row in thing["rows"]]
    told: set[str] = set()
    for one, of_thing in [*((row, None) for row in rows["tasks"] + rows["marks"]), *inside]:
        amount = f", {one['amount']} {one['unit']}".rstrip() if one["amount"] else ""
        word = f" ({one['word']})" if one["word"] else ""
        yield f"  [{'x' if one['state'] == 'done' else ' '}] {one['title']}{amount}{word}"
        for change in one["changes"]:
            yield f"        {change}"
        caution = one["caution"] or of_thing
        if caution:
            as_above = "as above: " + caution["code"].replace("_", " ")
            yield f"        CAUTION {as_above if caution['code'] in told else caution['sentence']}"
            told.add(caution["code"])
    yield from (f"CAUTION {one['sentence']}" for one in _of_untold(things + rows["circuits"], told))


def _of_untold(things: list[dict[str, Any]], told: set[str]) -> list[dict[str, str]]:
    cautions = {thing["caution"]["code"]: thing["caution"] for thing in things if thing["caution"]}
    return [caution for code, caution in cautions.items() if code not in told]
