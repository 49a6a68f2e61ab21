"""Who may not drink or eat what: the labels against what performers said. For those alone who hold the health set.

Never part of a sheet: a sheet goes to everyone. W1 names are compared word for word, both ways, and a match stops: "contains
nuts". W2 no match clears nobody. W3 no answer, two answers or a label that nobody read is unknown.
"""

from tailslate.craft import food
from tailslate.day import cautions, gathered, mixing, names
from tailslate.day.gathered import Gathered
from tailslate.day.merge import LIVE

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Records

NO_ANSWER = "unknown, no full answer yet: "
NO_LABEL = "unknown, what is in it is not named on every part: "
NO_MATCH = "unknown, no match by name, which clears nobody: "


def of_day(records: "Records") -> "list[dict[str, Any]]":
    """Return for each drink and food whom it is not for, and of whom nothing is known.

    Args:
        records: all of the kinds performer, allergy, drink, food and ingredient.
    Returns: list of dict, keys record, not_for (list of dict, keys record (the answer), sentence), unknown (sentences),
        caution.
    """
    found = Gathered(records)
    made = []
    for key in found.of_kind("drink") + found.of_kind("food"):
        one: dict[str, Any] = {"record": key, "not_for": [], "caution": cautions.caution("swallowed")}
        groups: dict[str, list[str]] = {NO_ANSWER: [], NO_LABEL: [], NO_MATCH: []}
        contents, is_named = _contents(key, found)
        unnamed = [""] if found.pointing("allergy", "performer", "") else []
        for performer in found.of_kind("performer") + unnamed:
            _ask(performer, contents, is_named, one["not_for"], groups, found)
        one["unknown"] = [said + ", ".join(groups[said]) for said in groups if groups[said]]
        made.append(one)
    return made


def _ask(
    performer: str,
    contents: "list[str]",
    is_named: bool,
    not_for: "list[dict[str, str]]",
    groups: "dict[str, list[str]]",
    records: Gathered,
) -> None:
    name = names.name_of(performer, records) if performer else "someone whom the answer does not name"
    is_stopped = False
    answers = records.pointing("allergy", "performer", performer)
    is_answered = bool(answers)
    for answer in answers:
        avoided = _said(answer, "what", records)
        is_no = _said(answer, "answer", records) == ["no"]
        is_answered = is_answered and (is_no or (bool(avoided) and records.text(answer, "answer") == "yes"))
        hits = [] if is_no else food.conflicts(contents, avoids=avoided)
        if hits:
            is_stopped = True
            not_for.append(
                {"record": answer, "sentence": "contains " + ", ".join(hits) + ": not for " + name}
            )
    if not is_stopped:
        groups[NO_ANSWER if not is_answered else NO_MATCH if is_named else NO_LABEL].append(name)


def _contents(key: str, records: Gathered) -> "tuple[list[str], bool]":
    """Return all that the labels of a drink and its parts name, and whether every one names something."""
    parts = [key] + (mixing.ingredients(key, records) if gathered.kind_of(key) == "drink" else [])
    named, is_named = [], True
    for part in parts:
        said = _said(part, "allergens", records)
        is_named = is_named and len(said) == 1
        made_from = _said(part, "mixed_from", records) + _said(part, "made_from", records)
        for text in said + made_from + [names.name_of(part, records)]:
            for word in text.replace(";", ",").replace(":", ",").split(","):
                if word.strip() and word.strip() not in named:
                    named.append(word.strip())
    return named, is_named


def _said(key: str, field: str, records: Gathered) -> "list[str]":
    """Return every answer to a field that stands: two are two."""
    cell = records.cell(key, field)
    return [entry[gathered.VALUE] for entry in cell[LIVE] if entry[gathered.VALUE]] if cell else []
