"""Who may not drink what: labels against answers, for those who hold the health set; a match stops, nothing clears."""

from __future__ import annotations

from typing import Any

import pytest

from a_day import ADay, Door
from people import ASSISTANT_DIRECTOR, PROPS_BUYER


def asked(**contents: str) -> ADay:
    """Two performers, one drink of juice; nobody was asked yet."""
    day = ADay()
    for performer in ("purser", "gambler"):
        day.act(ASSISTANT_DIRECTOR, "performer", performer, title=f"the {performer.capitalize()}")
    day.act(PROPS_BUYER, "drink", "rum", title="Rum", **contents)
    day.act(
        PROPS_BUYER, "ingredient", "juice", title="Juice", drink="rum", allergens="none named on the label"
    )
    return day


def of_rum(day: ADay, door: Door) -> dict[str, Any]:
    [found] = day.ask(door, "who_drinks")["drinks"]
    assert found["record"] == "drink/rum"
    assert found["caution"]["sentence"].endswith("decide.")
    return {"not_for": [one["sentence"] for one in found["not_for"]], "unknown": found["unknown"]}


def answer(day: ADay, record: str, **fields: Any) -> None:
    day.act(PROPS_BUYER, "allergy", record, **fields)


def test_without_an_answer_everyone_is_unknown(phone_door: Door) -> None:
    found = of_rum(asked(allergens="none"), phone_door)
    assert found == {"not_for": [], "unknown": ["unknown, no full answer yet: the Gambler, the Purser"]}


@pytest.mark.parametrize("said", ["almonds (tree nuts)", "may contain nuts", "Nuts: read the jar"])
def test_a_name_on_the_label_stops_whoever_avoids_it(said: str, phone_door: Door) -> None:
    """A label says tree nuts or may contain nuts, a performer nuts (common practice, no source)."""
    day = asked(allergens=said)
    answer(day, "g", performer="gambler", what="nuts", answer="yes")
    found = of_rum(day, phone_door)
    assert [
        one.endswith(": not for the Gambler") and one.startswith("contains ") for one in found["not_for"]
    ] == [True]
    assert found["unknown"] == ["unknown, no full answer yet: the Purser"]


def test_what_a_part_names_and_what_it_is_made_of_count_too(phone_door: Door) -> None:
    day = asked(allergens="none", mixed_from="oat milk, tea")
    day.act(PROPS_BUYER, "ingredient", "juice", allergens="sulphites")
    answer(day, "p", performer="purser", what="sulphites", answer="unknown")
    answer(day, "g", performer="gambler", what="milk", answer="yes")
    found = of_rum(day, phone_door)
    assert sorted(found["not_for"]) == [
        "contains oat milk: not for the Gambler",
        "contains sulphites: not for the Purser",
    ]


def test_a_label_that_nobody_read_leaves_everyone_unknown(phone_door: Door) -> None:
    day = asked()
    answer(day, "g", performer="gambler", what="nuts", answer="yes")
    answer(day, "p", performer="purser", answer="no")
    found = of_rum(day, phone_door)
    assert found == {
        "not_for": [], "unknown": ["unknown, what is in it is not named on every part: the Gambler, the Purser"],
    }  # fmt: skip


def test_no_match_clears_nobody(phone_door: Door) -> None:
    day = asked(allergens="none")
    answer(day, "g", performer="gambler", what="nuts", answer="yes")
    answer(day, "p", performer="purser", answer="no")
    found = of_rum(day, phone_door)
    assert found["unknown"] == ["unknown, no match by name, which clears nobody: the Gambler, the Purser"]
    assert "safe" not in str(found)


def test_of_two_answers_the_careful_one_counts_and_one_that_names_nobody_is_not_lost(
    phone_door: Door,
) -> None:
    day = asked(allergens="milk")
    answer(day, "g", performer="gambler", what="milk", answer="no")
    day.act(ASSISTANT_DIRECTOR, "allergy", "g", alone=True, answer="yes")
    answer(day, "x", what="milk", answer="yes")
    assert of_rum(day, phone_door)["not_for"] == [
        "contains milk: not for the Gambler", "contains milk: not for someone whom the answer does not name",
    ]  # fmt: skip


def test_no_sheet_ever_reads_an_answer(phone_door: Door) -> None:
    day = asked(allergens="milk", scene="12")
    day.act(ASSISTANT_DIRECTOR, "scene", "12", number="12")
    day.a_shot()
    answer(day, "g", performer="gambler", what="milk", answer="yes")
    assert "not for" not in str(day.ask(phone_door))
