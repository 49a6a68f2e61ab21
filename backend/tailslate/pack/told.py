"""A shot's sheet as blocks: light, rigging, power, drinks, tape and frame, in the words of the rules.

Knows no page. Shared by the day pack and the report. A caution stands before the figures that it is about, once.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from tailslate.day import shown, ticks
from tailslate.pack import blocks
from tailslate.pack.blocks import Block

WORDS = {"within": "", "plain": "", "over": "over", "unknown": "not known"}
BOXES = {ticks.DONE: blocks.DONE, ticks.AGAIN: blocks.AGAIN, ticks.TWO: blocks.TWO}
ROW_WORDS = {ticks.AGAIN: "tick again", ticks.TWO: "two answers", ticks.DONE: "done"}
LONG_ASK = 60  # letters: what is shorter is said again
# Of each part's columns, as shares of the page.
WIDTHS: dict[str, tuple[float, ...]] = {
    "light": (4, 4, 4),
    "lit_by": (3, 3, 4.4, 3, 1.8),
    "readings": (1.6, 3, 3, 2.6, 3),
    "day": (4, 2, 1.4, 2, 5),
    "holds": (1.2, 6, 3, 2),
    "incidents": (1.2, 2.4, 4.4, 2.4, 1.4, 2),
    "used": (4, 2, 4, 1, 3),
    "kit": (4, 2, 2, 2, 2, 3),
    "safety": (2, 5, 2, 3.4),
}
WHEN = {"between": "between takes", "after": "after the shot"}

Thing = dict[str, Any]


def titled(title: str, body: Iterable[Block]) -> list[Block]:
    """Return blocks under a heading; nothing for nothing."""
    told = list(body)
    return [blocks.head(title), *told] if told else []


def cautions(things: Iterable[Thing]) -> Iterator[Block]:
    """Give the cautions of things and of their figures, each once."""
    told = [
        one
        for thing in things
        for one in [thing["caution"], *(each["caution"] for each in thing.get("figures", []))]
    ]
    for sentence in dict.fromkeys(one["sentence"] for one in told if one):
        yield blocks.caution(sentence)


def figure(one: dict[str, Any]) -> dict[str, str]:
    """Return one figure as a row."""
    asked = [missing["sentence"] for missing in one["missing"] if missing["sentence"] != one["line"]]
    word = WORDS[one["state"]]
    return {
        "label": one["label"],
        "shown": "" if word and one["shown"] == shown.NOT_KNOWN else one["shown"],
        "word": word,
        "line": one["line"],
        "ask": "; ".join(asked) if word == WORDS["unknown"] else "",
    }


def things(found: Iterable[Thing]) -> Iterator[Block]:
    """Give things, each with its title and its figures."""
    for thing in found:
        yield blocks.name(thing["title"])
        told = [figure(one) for one in thing["figures"]]
        asked: set[str] = set()
        for one in told:
            if one["ask"] in asked and len(one["ask"]) > LONG_ASK:
                one["ask"] = "as above"
            asked.add(one["ask"])
        yield from blocks.figures(told)


def light(sheet: dict[str, Any]) -> Iterator[Block]:
    """Give the target, every level as a reading or a range, the contrast, and what takes part in it."""
    yield blocks.line(sheet["shot"]["target"]["sentence"])
    told = []
    for one in sheet["light"]["levels"]:
        if one["kind"] == "unknown":
            told.append({"label": one["title"], "word": "not known", "line": one["line"]})
        else:
            parts = [one[name]["shown"] for name in ("stops", "lux", "footcandles") if one[name]]
            told.append(
                {"label": one["title"], "shown": ", ".join(parts), "kind": one["kind"], "line": one["line"]}
            )
    contrast = sheet["light"]["key_to_fill"]
    if contrast:
        told.append(
            {
                "label": "Key to fill",
                "shown": contrast["shown"],
                "kind": contrast["kind"],
                "line": contrast["line"],
            }
        )
    yield from blocks.figures(told)
    for one in sheet["light"]["levels"]:
        if one["caution"]:
            yield blocks.caution(one["caution"]["sentence"])


def parts(found: Iterable[dict[str, Any]]) -> Iterator[Block]:
    """Give parts of day/report.py, each under its heading; nothing for an empty one."""
    for one in found:
        body = [blocks.line(sentence) for sentence in one["lines"]]
        body += [blocks.caution(sentence) for sentence in one["cautions"]]
        body += (
            blocks.facts_in_short(one["facts"]) if one["name"] == "settings" else blocks.facts(one["facts"])
        )
        body += blocks.table(one["columns"], one["rows"], widths=WIDTHS.get(one["name"], ()))
        yield from titled(one["title"], body) if one["title"] else body


def in_short(figure_of: dict[str, Any]) -> str:
    """Return a figure with its label in a few words; what speaks against it keeps how it came about."""
    one = figure(figure_of)
    word = one["word"].upper()
    said = ": ".join(part for part in (word, one["shown"]) if part)
    line = f" ({one['line']})" if one["word"] == WORDS["over"] and one["line"] else ""
    return f"{one['label']} {said}{line}"


def things_in_short(found: Iterable[Thing], columns: tuple[str, str]) -> list[Block]:
    """Give things, one a row: title, and its figures in short. How they came about stands on the phones."""
    rows = [
        [thing["title"], "; ".join(in_short(one) for one in thing["figures"]) or shown.NOT_KNOWN]
        for thing in found
    ]
    return blocks.table(columns, rows, widths=(3, 9))


def rigging(found: list[Thing]) -> Iterator[Block]:
    """Give stands and frames with their cautions."""
    yield from cautions(found)
    yield from things_in_short(found, ("stand or frame", "bags, load, limits"))


def power(found: dict[str, Any]) -> Iterator[Block]:
    """Give circuits and batteries, and what is plugged in nowhere."""
    yield from cautions(found["circuits"] + found["batteries"])
    yield from things_in_short(found["circuits"] + found["batteries"], ("circuit", "load, drop, leakage"))
    for one in found["nowhere"]:
        yield blocks.against(one["sentence"])


DRINK_FIGURES = ("Allergy round", "To mix", "Portions", "Sulphites", "Out of the cold")


def drinks(found: list[dict[str, Any]]) -> Iterator[Block]:
    """Give drinks and food: cleared or not, allergens word for word, what is mixed."""
    yield from cautions(found)
    for drink in found:
        if not drink["cleared"]:
            yield blocks.hold(f"{drink['title']}: the allergy round is not done", "NOT CLEARED")
    rows = []
    for drink in found:
        allergens = [
            one["words"] if one["record"] == drink["record"] else f"{one['title']}: {one['words']}"
            for one in drink["allergens"]
        ]
        mixed = [f"{one['title']} {one['share']}, {one['amount']}" for one in drink["mix"]]
        told = [in_short(one) for one in drink["figures"] if one["label"] in DRINK_FIGURES]
        cleared = "round done" if drink["cleared"] else "NOT CLEARED"
        rows.append([f"{drink['title']}\n{cleared}", "\n".join(allergens), "\n".join(mixed + told[1:])])
    yield from blocks.table(("passes for", "allergens", "mix and keep"), rows, widths=(3, 4, 5))


def tape(found: dict[str, Any]) -> Iterator[Block]:
    """Give tape jobs and rolls."""
    yield from cautions(found["jobs"])
    rolls = [{"title": one["title"], "figures": [one["figure"]]} for one in found["rolls"]]
    yield from things_in_short([*found["jobs"], *rolls], ("tape", "how much"))


def frame(found: dict[str, Any]) -> Iterator[Block]:
    """Give the lens's figures and what stands in frame or in the camera's way."""
    path = found["path"] or {}
    yield from cautions([{"figures": found["figures"], "caution": path.get("caution")}])
    lens = {"title": "lens", "figures": found["figures"]}
    yield from things_in_short([lens] if found["figures"] else [], ("", "what it takes in"))
    if not found["camera"]:
        yield blocks.against("the camera is not placed: what stands in frame is not known")
    seen = [one for one in found["things"] if one["state"] in ("in", "edge")]
    unsure = len([one for one in found["things"] if one["state"] == "unknown"]) + len(found["unplaced"])
    for lead, is_wanted in (("Not meant to be seen, and in or near the frame: ", False), ("seen: ", True)):
        told = [f"{one['title']} ({one['word']})" for one in seen if one["wanted"] is is_wanted]
        if told:
            yield (blocks.line if is_wanted else blocks.against)(lead + "; ".join(told))
    for one in found["glass"]:
        yield blocks.against(f"{one['title']}: {one['sentence']}")
    if unsure:
        yield blocks.line(f"of {unsure} more nobody knows whether they are in frame: place them")
    for one in path.get("in_the_way", []):
        yield blocks.against(one["sentence"])


def row(
    one: dict[str, Any], *, number: int, more: list[str], caution: dict[str, str] | None
) -> dict[str, Any]:
    """Return one row of a checklist with its box and its number."""
    when = WHEN.get((one["derived"] or {}).get("when", ""), "")
    second = ", ".join(part for part in (one["second"], when, *more) if part)
    return {
        "box": BOXES.get(one["state"], blocks.OPEN),
        "number": str(number),
        "title": one["title"],
        "amount": f"{one['amount']} {one['unit']}".strip(),
        "must": one["must"],
        "word": ROW_WORDS.get(one["state"], ""),
        "second": second,
        "lines": one["changes"],
        "caution": caution["sentence"] if caution else "",
    }


def turn_line(one: dict[str, Any], cautioned: set[str]) -> dict[str, Any]:
    """Return one line from shot to shot with its box; what is asked has none, and a caution stands in full once.

    Args:
        one: a line of turn_around.of_shots.
        cautioned: codes of the cautions that stand above; this line's is added.
    """
    found, caution = one["row"], one["caution"]
    more = []
    if caution and caution["code"] in cautioned:
        more.append("CAUTION as above: " + caution["code"].replace("_", " "))
        caution = None
    cautioned.update([caution["code"]] if caution else [])
    return {
        "box": BOXES.get(found["state"], blocks.OPEN) if found else blocks.ASK,
        "title": one["sentence"],
        "second": ", ".join(part for part in (one["second"], *more) if part),
        "must": False,
        "word": ROW_WORDS.get(found["state"], "") if found else "",
        "lines": found["changes"] if found else [],
        "caution": caution["sentence"] if caution else "",
    }
