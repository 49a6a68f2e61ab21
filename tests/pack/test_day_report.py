"""The end of the day on paper: how it was lit, what was held, what was used up, and who ticked what is about safety."""

from __future__ import annotations

import re

from people import ASSISTANT_DIRECTOR, GAFFER, PROPS_BUYER
from printed_day import Crew, a_crew, pages, printed
from tailslate.day import ticks
from tailslate.day.gathered import Gathered
from tailslate.pack import day_report


def told(crew: Crew) -> str:
    day = crew.day()
    return " ".join(pages(printed(day_report.of_day(day), day)))


def test_a_shot_is_told_as_it_was_lit() -> None:
    crew = a_crew()
    crew.write("Gaffer", "point", "face", {"title": "the Gambler's face", "scene": "12"})
    crew.write(
        "Gaffer",
        "reading",
        "r1",
        {"shot": "12c", "point": "face", "role": "key", "illuminance_lx": ["240", "240 lx"]},
    )
    text = told(crew)
    for words in ("T4", "240 lx", "the Gambler's face", "60 %", "No take is written down"):
        assert words in text


def test_a_note_that_is_longer_than_a_page_is_printed_to_its_end() -> None:
    crew = a_crew()
    words = [f"word{place}" for place in range(220)]
    for place in range(10):
        crew.write("Gaffer", "note", f"n{place}", {"text": " ".join(words), "shot": "12c"})
    crew.write("Gaffer", "hold", "h1", {"why": " ".join(words[:60]), "type": "stop", "shot": "12c"})
    text = told(crew).split()
    assert text.count("word219") == 10
    assert text.count("word59") >= 11


def test_the_log_keeps_a_hold_that_was_cleared_and_names_only_who_cleared_it() -> None:
    crew = a_crew()
    raised = crew.write(
        "Gaffer",
        "hold",
        "h1",
        {"why": "wet plug at the bar", "type": "stop", "shot": "12c", "department": "electric"},
    )
    cleared = ticks.value_if_ticked("hold/h1", "cleared", Gathered(crew.day().records))
    crew.write("Assistant director", "hold", "h1", {"cleared": cleared})
    text = told(crew)
    assert "wet plug at the bar" in text
    assert raised.by not in text
    assert f"{ASSISTANT_DIRECTOR.name}, {ASSISTANT_DIRECTOR.role}" in text
    assert not re.search(rf"\b{GAFFER.name}\b", text)


def test_what_was_used_up_is_summed() -> None:
    """0.1 l and 0.2 l are 0.3 l, in whole decimals."""
    crew = a_crew()
    for place, amount in enumerate(("0.1", "0.2")):
        crew.write(
            "Props buyer",
            "used",
            f"u{place}",
            {"on": "drink/rum", "shot": "12c", "amount_l": [amount, f"{amount} l"], "take": place + 1},
        )
    assert "Dark rum, in all 300 ml" in told(crew)
    crew.write("Props buyer", "used", "u3", {"on": "drink/rum", "take": 3})
    assert "Dark rum, in all at least 300 ml" in told(crew)


def test_safety_ticks_carry_a_name_and_open_ones_say_not_done() -> None:
    crew = a_crew()
    value = ticks.value_if_ticked("drink/rum", "round_done", Gathered(crew.day().records))
    crew.write("Props buyer", "drink", "rum", {"round_done": value})
    text = told(crew)
    assert f"Dark rum: allergy round done done {PROPS_BUYER.name}, {PROPS_BUYER.role}" in text
    assert "Stand 1: safety on NOT DONE" in text


def test_an_empty_day_says_that_nothing_was_written_down() -> None:
    text = told(Crew())
    assert "No hold was raised." in text
    assert "Nothing is written down as used up." in text


def test_an_incident_stands_in_the_log_and_what_nobody_said_is_not_known() -> None:
    crew = a_crew()
    assert "No incident was written down." in told(crew)
    crew.write(
        "Key grip",
        "incident",
        "i1",
        {"what": "a bag slid off stand 3", "place": "saloon door", "happened_time": "14:05", "shot": "12c"},
    )
    text = told(crew)
    for words in ("a bag slid off stand 3", "saloon door", "14:05", "in 12C", "Grip", "not known"):
        assert words in text
    assert "No incident was written down." not in text


def test_two_answers_to_whether_anyone_was_hurt_both_stand() -> None:
    crew = a_crew()
    crew.write("Key grip", "incident", "i1", {"what": "a bag slid", "injured": "no"})
    crew.write("Gaffer", "incident", "i1", {"injured": "yes"})
    assert re.search("TWO ANSWERS: (yes or no|no or yes)", told(crew))


def test_used_kit_is_told_against_what_is_there_with_its_cost() -> None:
    """Three rolls of 12.50: 37.50; of five there are two left."""
    crew = a_crew()
    crew.write("Key grip", "kit", "tape", {"title": "Cloth tape", "count": 5, "cost": "12.50 EUR"})
    crew.write("Key grip", "used", "u1", {"on": "kit/tape", "amount": 2, "shot": "12c"})
    crew.write("Key grip", "used", "u2", {"on": "kit/tape", "amount": 1})
    assert "Cloth tape 5 3 2 12.50 EUR 37.50 EUR" in told(crew)


def test_the_cost_of_what_nobody_counted_is_not_known() -> None:
    crew = a_crew()
    crew.write("Key grip", "kit", "tape", {"title": "Cloth tape", "count": 5, "cost": "ask the shop"})
    crew.write("Key grip", "used", "u1", {"on": "kit/tape"})
    assert "Cloth tape 5 at least 0 not known ask the shop not known" in told(crew)
