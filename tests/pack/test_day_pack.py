"""The day on paper says what the sheets say, keeps its cautions, and reads nobody's words as markup."""

from __future__ import annotations

import datetime
import hashlib
import io
import re

import pytest
from pypdf import PdfReader

from people import GAFFER, KEY_GRIP
from printed_day import Crew, a_crew, pages, printed
from tailslate import desk, seed_data_folder
from tailslate.day import cautions, paper_list
from tailslate.pack import blocks, day_pack, paper
from tailslate.pack.whole_day import WholeDay

HOSTILE = (
    '#panic("run") $x^2$ `raw` *bold* _it_ <label> @ref // gone /* gone */ \\u{41} = head - list + 1. http://a.b [c] {d}'
    ' #read("/etc/passwd") #import "x.typ" ~ -- --- \'q\' "q" ... #let a = 1; #eval("1+1")'
)


@pytest.fixture(scope="module")
def said() -> list[str]:
    day = a_crew().day()
    return pages(printed(day_pack.of_day(day), day))


def test_the_first_page_is_the_emergency_card_and_what_is_not_known_says_so(said: list[str]) -> None:
    assert "Call and emergency card" in said[0]
    assert "Unit nurse, at the bar" in said[0]
    assert said[0].count("NOT KNOWN: fill in before the day") == 6  # all but the medic
    assert "local codes and licensed or competent people decide" in said[0]


def test_every_page_has_the_day_its_number_and_when_it_was_printed(said: list[str]) -> None:
    assert len(said) > 2
    for number, text in enumerate(said, start=1):
        assert "Night Crossing" in text
        assert f"page {number} of {len(said)}" in text
        assert (
            "printed at 13:05; what changed since is on the phones" in text
        )  # Oslo is an hour ahead of UTC in winter


def test_the_pictures_stand_last_with_their_words_and_one_that_is_absent_is_named() -> None:
    crew = a_crew()
    octets = (seed_data_folder() / "demonstration_table.jpg").read_bytes()
    digest = hashlib.sha256(octets).hexdigest()
    crew.write("Props buyer", "note", "n1", {"text": "Rum to the line", "on": "shot/12c", "shot": "12c"})
    for record, named, of in (("p1", digest, "note/n1"), ("p2", "0" * 64, "shot/12c")):
        size = {"width_px": 960, "height_px": 640, "bytes": len(octets)}
        crew.write("Props buyer", "photograph", record, {"digest": named, "of": of, "says": record, **size})
    day = crew.day()
    octets_of_pdf = printed(day_pack.of_day(day, pictures_held={digest: octets}), day)
    last = PdfReader(io.BytesIO(octets_of_pdf)).pages[-1]
    said = " ".join(last.extract_text().split())
    assert "p1 12C Over the Gambler, Props" in said
    assert "Rum to the line" in said
    assert "not here to be printed: look on the phones" in said
    [image] = last.images
    assert image.image is not None
    assert image.image.size == (960, 640)
    assert "Pictures" not in " ".join(pages(printed(day_pack.of_day(day), day)))


def test_no_page_is_empty(said: list[str]) -> None:
    for text in said:
        assert (
            len(text)
            > len("Night Crossing page 10 of 10 printed at 13:05; what changed since is on the phones") + 10
        )


def test_the_sheet_says_what_the_rules_say_with_the_cautions_beside_it(said: list[str]) -> None:
    """3000 W / 120 V = 25 A on a 16 A breaker, 12.8 A for three hours and more (NEC 210.19), by hand."""
    text = " ".join(said)
    assert "OVER: 25 A" in text
    assert "12.8 A may flow: 80 % of the 16 A breaker" in text
    assert cautions.SENTENCES["wet"] in text
    assert cautions.SENTENCES["overhead"] in text
    assert "NOT CLEARED Dark rum: the allergy round is not done" in text
    assert "NOT READY" in text
    assert "Grip: checklist" in text
    assert "Stand 1: safety on" in text


def test_paper_names_departments_and_no_person(said: list[str]) -> None:
    text = " ".join(said)
    for member in (GAFFER, KEY_GRIP):
        assert not re.search(rf"\b{member.name}\b", text)
        assert member.role not in text


def test_words_full_of_markup_are_printed_as_they_were_typed() -> None:
    day = a_crew(title=HOSTILE, shot_title=HOSTILE).day()
    text = " ".join(pages(printed(day_pack.of_day(day), day))).replace(" ", "")
    for word in HOSTILE.split():
        assert word in text, word


def test_long_words_break_inside_the_page() -> None:
    """178 mm hold about 100 letters of the text's size: a longer line would run off the paper."""
    word = "Wasserschaden" * 20
    day = a_crew(shot_title=word).day()
    octets = printed(day_pack.of_day(day), day)
    assert word in "".join(pages(octets)).replace(" ", "")
    for page in PdfReader(io.BytesIO(octets)).pages:
        assert max(len(line) for line in page.extract_text().splitlines()) < 140


def test_the_same_words_give_the_same_bytes() -> None:
    first, second = a_crew().day(), a_crew().day()
    assert printed(day_pack.of_day(first), first) == printed(day_pack.of_day(second), second)


def test_a_code_is_printed_only_when_it_is_handed_in() -> None:
    day = a_crew().day()
    link = "https://laptop.local:8443/join#K7QX"
    without, with_code = day_pack.of_day(day), day_pack.of_day(day, join_link=link)
    assert [one for one in without if one["block"] == "code"] == []
    assert len([one for one in with_code if one["block"] == "code"]) == 1
    assert "join#K7QX" not in "".join(pages(printed(without, day)))
    assert "join#K7QX" in pages(printed(with_code, day))[0].replace(" ", "")


def test_two_emergency_numbers_are_both_printed() -> None:
    crew = a_crew()
    for role, number in (("Assistant director", "112"), ("Key grip", "999")):
        crew.write(role, "day", "night-crossing", {"emergency_number": number})
    day = crew.day()
    text = pages(printed(day_pack.of_day(day), day))[0]
    assert "TWO ANSWERS" in text
    assert "112" in text
    assert "999" in text


def test_a_hole_in_the_edits_is_told_and_nothing_is_called_ready() -> None:
    crew = a_crew()
    crew.made = [one for one in crew.made if one.kind != "circuit"]
    day = crew.day()
    text = pages(printed(day_pack.of_day(day), day))
    assert "still fetching: edits of one phone are missing" in text[0]
    assert [one.readiness["state"] for one in day.shots] == ["unknown"]


def test_an_empty_day_still_prints_its_card() -> None:
    day = Crew().day()
    text = pages(printed(day_pack.of_day(day), day))
    assert text[0].count("NOT KNOWN: fill in before the day") == 6
    assert "No shot is listed yet." in text[0]


def test_letters_that_the_faces_lack_are_found() -> None:
    assert paper.letters_without_a_face([blocks.line("Überfahrt, Ночь, 船 Ω ½ →")]) == ["船"]


@pytest.fixture(scope="module")
def demonstration() -> bytes:
    """The demonstration day on paper."""
    file = seed_data_folder() / "demonstration_day.json"
    moment = datetime.datetime(2026, 11, 25, 14, 0, tzinfo=datetime.UTC)
    day = WholeDay.of(desk.read_edits(file, int(moment.timestamp() * 1000)), moment)
    return printed(day_pack.of_day(day), day)


def test_six_shots_of_eight_departments_are_no_more_than_a_crew_would_print(demonstration: bytes) -> None:
    """Card and shots on one page, two a shot at most, then the lists, and four pages from shot to shot."""
    said = pages(demonstration)
    assert len(said) < 29
    assert (
        min(len(text) for text in said) > 200
    )  # no page holds a line or two that did not fit the one before
    for needed in ("Quay 9, Ferry Yard", "NOT CLEARED Grog on deck", "list "):
        assert any(needed in text for text in said), needed


def test_what_is_done_from_shot_to_shot_is_printed_by_department_with_what_is_still_asked(
    demonstration: bytes,
) -> None:
    said = pages(demonstration)
    first = next(place for place, text in enumerate(said) if "From shot to shot" in text)
    text = " ".join(said[first:])
    for needed in (
        "12B to 12C",
        "Move: Muslin fill, distance 2.7 m, was 3 m",
        "? Ask: Saloon key, distance not known",
        "Reset: Dark rum, the Gambler, 1 glass, to 60 ml, line at 24 mm",
        "All as from 12A to 12B",
        "Not cleared: the allergy round is not done",
        "Move: everyone, from 12 Saloon to 13 Deck",
    ):
        assert needed in text.replace("\u00a0", " "), needed


def test_what_is_read_on_the_floor_is_set_in_eleven_points_or_more(demonstration: bytes) -> None:
    """Arm's length: 11 pt (common practice, no source)."""
    small: set[str] = set()

    def look(text: str, _user: object, matrix: list[float], _font: object, size: float) -> None:
        if text.strip() and abs(size * matrix[3]) < 10.9:
            small.add(text.strip())

    for page in PdfReader(io.BytesIO(demonstration)).pages:
        page.extract_text(visitor_text=look)
    assert small == set()


def test_every_box_has_the_number_that_the_phones_give_it(demonstration: bytes) -> None:
    file = seed_data_folder() / "demonstration_day.json"
    moment = datetime.datetime(2026, 11, 25, 14, 0, tzinfo=datetime.UTC)
    day = WholeDay.of(desk.read_edits(file, int(moment.timestamp() * 1000)), moment)
    text = " ".join(pages(demonstration))
    for one in day.shots:
        listed = paper_list.of_sheet(one.sheet["rows"])
        assert f"list {listed['code']}" in text
    third = next(one for one in day.shots if one.shot == "12c")
    bags = next(
        one
        for one in paper_list.of_sheet(third.sheet["rows"])["rows"]
        if one["row"]["title"] == "Stand 3: bag it"
    )
    assert f"{bags['number']} Stand 3: bag it" in text
