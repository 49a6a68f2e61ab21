"""Lists that people have become records once, whole or not at all; what is wrong is named by row, with what to do."""

from __future__ import annotations

import json
import random
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from a_day import ADay
from people import ASSISTANT_DIRECTOR, PROPS_BUYER
from tailslate.craft.errors import RuleError
from tailslate.day import bring_in, check
from tailslate.day.gathered import Gathered

Door = Callable[[str], str]

SHOTS = """NIGHT CROSSING,,,,,,
Shot #,Size,Description,Lens,Camera height,T-stop,Remarks
12A,Wide,the deal,35 mm,6 ft,T2.8,=SUM(A1)
12B,Over,Over the Gambler,50,"1,8 m",2.8,@who
12C,Close,the Purser,75mm,180 cm,T4,
"""


def read(text: str, day: ADay | None = None, **more: Any) -> dict[str, Any]:
    """Read a list against a day, an empty one when none is given."""
    return bring_in.read({"text": text, **more}, day.records if day else {})


def take(day: ADay, found: dict[str, Any]) -> None:
    """Do what the list comes to."""
    assert not found["faults"]
    for act in found["acts"]:
        day.act(ASSISTANT_DIRECTOR, act["kind"], act["record"], **act["set"])


def faults(found: dict[str, Any]) -> list[tuple[int, str, str]]:
    """Row, heading and code of each fault."""
    return [(one["row"], one["heading"], one["code"]) for one in found["faults"]]


def test_a_shot_list_becomes_shots_and_set_ups_in_the_trades_words(phone_door: Door) -> None:
    answer = json.loads(phone_door(json.dumps({"do": "bring_in", "text": SHOTS, "records": {}})))
    assert answer["kind"] == "shot"
    assert answer["header"] == 2
    assert [one["field"] for one in answer["columns"]] == [
        "number", "title", "title", "setup.lens_mm", "setup.camera_height_m", "t_stop", "note",
    ]  # fmt: skip
    sets = {
        (act["kind"], act["set"].get("number", act["set"].get("title"))): act["set"] for act in answer["acts"]
    }
    assert sets["shot", "12A"]["title"] == "Wide, the deal"
    assert sets["shot", "12B"]["t_stop"] == ["2.8", "2.8"]
    assert sets["setup", "12B"]["lens_mm"] == ["50", "50"]
    # 6 ft is 1.8288 m exactly (international foot of 1959); comma and centimetres are the same metre.
    heights = [sets["setup", number]["camera_height_m"] for number in ("12A", "12B", "12C")]
    assert heights == [["1.8288", "6 ft"], ["1.8", "1,8 m"], ["1.8", "180 cm"]]


def test_a_cell_that_begins_as_a_formula_is_text_and_is_said_to_be() -> None:
    found = read(SHOTS)
    notes = {act["set"]["number"]: act["set"].get("note") for act in found["acts"] if act["kind"] == "shot"}
    assert notes == {"12A": "=SUM(A1)", "12B": "@who", "12C": None}
    assert any("never run: 2" in note for note in found["notes"])


def test_our_own_table_comes_back_without_the_mark_that_kept_it_from_running() -> None:
    found = read("Shot,Notes\n12A,'=SUM(A1)\n12B,'tis late")
    notes = [act["set"]["note"] for act in found["acts"]]
    assert notes == ["=SUM(A1)", "'tis late"]


MERGED = (
    "Scene,Shot,Title,Lens\n12,12A,Wide,35 mm\n,12B,Over,\n,,,\n,12C,Close,50 mm\n13,13A,Deck,\n,13B,Rail,"
)


def scenes_of(found: dict[str, Any]) -> list[str | None]:
    """Return the number of each shot's scene, in the list's order."""
    scenes = {act["record"]: act["set"]["number"] for act in found["acts"] if act["kind"] == "scene"}
    return [scenes.get(act["set"].get("scene")) for act in found["acts"] if act["kind"] == "shot"]


def test_merged_cells_are_filled_down_where_they_name_a_scene_and_not_across_an_empty_row() -> None:
    found = read(MERGED)
    assert scenes_of(found) == ["12", "12", "12", "13", "13"], "12C by the number it begins with"
    assert [(one["gaps"], one["is_filled"]) for one in found["columns"]] == [
        (2, True), (0, False), (0, False), (3, False),
    ]  # fmt: skip
    assert "Scene: cells filled down from the one above, as merged cells mean: 2." in found["notes"]


def test_filling_down_is_the_person_s_to_say() -> None:
    inserts = "Scene,Shot,Title\n12,A1,Wide\n,A2,Over\n13,B1,Deck\n,B2,Rail"
    assert scenes_of(read(inserts)) == ["12", "12", "13", "13"]
    assert scenes_of(read(inserts, fill_down=[])) == ["12", "12", "13", None], "A2 by the only scene yet"
    lenses = [
        act["set"].get("lens_mm") for act in read(MERGED, fill_down=[0, 3])["acts"] if act["kind"] == "setup"
    ]
    assert lenses == [["35", "35 mm"], ["35", "35 mm"], ["50", "50 mm"], ["50", "50 mm"], ["50", "50 mm"]]


def test_a_cell_that_was_put_right_is_not_filled_over() -> None:
    found = read("Scene,Shot\n12,A1\n,A2", corrections={"3/0": "14"})
    assert scenes_of(found) == ["12", "14"]


def test_a_bare_figure_beside_feet_and_metres_is_asked_and_not_guessed() -> None:
    found = read("Shot,Camera height\n1,6 ft\n2,6\n3,1.8 m")
    assert faults(found) == [(3, "Camera height", "unit_missing")]
    assert "ft" in found["faults"][0]["sentence"]
    assert found["acts"] == []
    assert faults(read("Shot,Camera height (ft)\n1,6\n2,6 ft")) == []
    assert faults(read("Shot,Camera height\n1,6 ft\n2,6", column_units={"1": "ft"})) == []


@pytest.mark.parametrize(
    ("row", "heading", "code", "limit"),
    [
        ("1,9000", "Lens", "out_of_range", "2000 mm"),
        ("1,6 kg", "Lens", "unit_not_for_field", "in mm"),
        ("1,=A1*2", "Lens", "formula", "value"),
        (",35", "Shot", "no_key", "number"),
        ('1,"1,800"', "Lens", "thousands_or_decimals", "comma"),
    ],
)
def test_a_fault_names_its_row_field_value_limit_and_what_to_do(
    row: str, heading: str, code: str, limit: str
) -> None:
    found = read(f"Shot,Lens\n12A,35\n{row}\n12B,50")
    assert faults(found) == [(3, heading, code)]
    assert limit in found["faults"][0]["sentence"]
    assert found["acts"] == [], "refused whole"


def test_a_row_is_corrected_or_left_out_only_when_the_person_says_so() -> None:
    text = "Shot,Lens\n12A,35\n12B,9000\n12C,50"
    corrected = read(text, corrections={"3/1": "90"})
    assert [act["set"]["number"] for act in corrected["acts"] if act["kind"] == "shot"] == [
        "12A",
        "12B",
        "12C",
    ]
    left = read(text, left_out=[3])
    assert [act["set"]["number"] for act in left["acts"] if act["kind"] == "shot"] == ["12A", "12C"]
    assert any("as you said: 1" in note for note in left["notes"])


def test_the_same_number_twice_names_both_rows() -> None:
    found = read("Shot,Title\n12A,Wide\n12b,Over\n12a,Close")
    assert faults(found) == [(4, "Shot", "twice")]
    assert "row 2" in found["faults"][0]["sentence"]


def test_the_same_number_in_another_scene_is_another_shot_and_the_scenes_are_made() -> None:
    found = read("Scene,Shot,Title\n12,1,Wide\n13,1,Deck")
    shots = [act for act in found["acts"] if act["kind"] == "shot"]
    scenes = {act["record"]: act["set"]["number"] for act in found["acts"] if act["kind"] == "scene"}
    assert [scenes[act["set"]["scene"]] for act in shots] == ["12", "13"]


def test_a_list_without_headings_is_read_by_what_its_cells_look_like() -> None:
    found = read("12A\tWide, the deal is seen by all\t35 mm\tT2.8\n12B\tOver the Gambler\t50 mm\tT4")
    fields = [one["field"] for one in found["columns"]]
    assert fields == ["number", "title", "setup.lens_mm", "t_stop"]
    assert found["header"] == 0
    assert [row["title"] for row in found["rows"]] == [
        "12A Wide, the deal is seen by all",
        "12B Over the Gambler",
    ]


def test_a_column_can_be_set_otherwise_and_one_that_nobody_names_is_left_out_and_said_so() -> None:
    text = "Shot,Title,Vehicle\n1,Wide,tram"
    assert any("Vehicle" in note for note in read(text)["notes"])
    found = read(text, columns=["number", "title", "note"])
    assert found["acts"][0]["set"]["note"] == "tram"


def test_headings_of_merged_cells_take_the_word_above() -> None:
    found = read("Shot,Camera,,Notes\n,Lens,Height,\n1,35 mm,1.8 m,slow")
    assert [one["field"] for one in found["columns"]] == [
        "number", "setup.lens_mm", "setup.camera_height_m", "note",
    ]  # fmt: skip


def test_empty_columns_and_rows_are_left_out_and_counted() -> None:
    found = read("Shot,,Title\n12A,,Wide\n,,\n12B,,Over\n")
    assert len(found["rows"]) == 2
    assert any("Empty columns: 1" in note for note in found["notes"])


@pytest.mark.parametrize(
    ("text", "more", "code"),
    [
        ("", {}, "list_empty"),
        ("Shot,Title\n", {}, "list_empty"),
        ("S\x00h\x00o\x00t\x00", {}, "not_text"),
        ("%PDF-1.4\n1 0 obj\nstream\n", {}, "not_text"),
        ("<!DOCTYPE html>\n<table>", {}, "not_text"),
        ('Shot,Title\n1,"wide', {}, "quote_open"),
        ("Shot\n" + "1\n" * 50_000, {}, "list_too_long"),
        ("Shot\n1", {"line_count": 50_000}, "list_too_long"),
        ("Shot\n1", {"size_bytes": 3_000_000}, "list_too_large"),
        ("Shot\n1", {"kind": "person"}, "not_for_a_list"),
    ],
)
def test_what_is_no_list_or_too_long_is_refused_at_once(text: str, more: dict[str, Any], code: str) -> None:
    with pytest.raises(RuleError) as refused:
        read(text, **more)
    assert refused.value.code == code
    assert ";" in refused.value.sentence


def test_props_drinks_and_kit_are_known_by_their_headings() -> None:
    props = read("Item\tWhere\tFR?\tWidth (cm)\nNautical chart\tcard table\ty\t90\nLantern\tbar\tno\t20")
    assert props["kind"] == "dressing"
    assert props["acts"][0]["set"]["width_m"] == ["0.9", "90 cm"]
    assert [act["set"]["flame_retardant"] for act in props["acts"]] == ["yes", "no"]
    drinks = read("Passes for;Mixed from;Glasses;Allergens\nrum;cold tea;2;none known\n")
    assert drinks["kind"] == "drink"
    assert drinks["acts"][0]["set"]["glasses"] == 2
    kit = read("Equipment,Owner,Qty,Rating,FR\nStand,rental,4 pcs,20 kg,\nBed sheet,house,?,,unknown")
    assert kit["kind"] == "kit"
    assert [act["set"].get("owner") for act in kit["acts"]] == ["hired", "household"]
    assert [act["set"].get("count") for act in kit["acts"]] == [4, None]
    assert all("flame_retardant" not in act["set"] for act in kit["acts"]), "unknown is never a yes"


def test_a_shot_that_is_there_is_found_by_its_number_and_keeps_what_the_day_says() -> None:
    day = ADay()
    day.act(ASSISTANT_DIRECTOR, "shot", "twelve-a", number="12A", title="Wide")
    text = "Shot,Title,T-stop\n12a,Close,T4"
    found = read(text, day)
    assert [row["state"] for row in found["rows"]] == ["differs"]
    assert "Wide on the day, Close in the list" in found["rows"][0]["differs"][0]
    assert [(act["record"], sorted(act["set"])) for act in found["acts"]] == [
        ("twelve-a", ["order", "t_stop"])
    ]
    right = read(text, day, list_is_right=True)
    assert right["acts"][0]["set"]["title"] == "Close"


WORDS = st.text(st.sampled_from("abAB =+'é"), min_size=1, max_size=6).filter(lambda text: text.strip() != "")
ROW = st.tuples(WORDS, st.sampled_from(["35", "50 mm", ""]), st.sampled_from(["6 ft", "1,8 m", "180 cm", ""]))


@settings(max_examples=60)
@given(rows=st.lists(ROW, min_size=1, max_size=12), seed=st.integers(0, 999))
def test_l2_bringing_a_list_in_twice_in_any_order_adds_nothing(
    rows: list[tuple[str, str, str]], seed: int
) -> None:
    lines = ["\t".join([f"{place + 1}A", *row]) for place, row in enumerate(rows)]
    head = "Shot\tTitle\tLens\tCamera height\n"
    day = ADay()
    first = read(head + "\n".join(lines), day)
    assert first["faults"] == []
    take(day, first)
    before = {key: sorted(day.records[key]) for key in day.records}
    random.Random(seed).shuffle(lines)
    again = read(head + "\n".join(lines), day)
    assert again["acts"] == []
    assert {row["state"] for row in again["rows"]} == {"same"}
    assert {key: sorted(day.records[key]) for key in day.records} == before


def test_l2_two_phones_without_signal_make_the_same_records() -> None:
    one, other = ADay(), ADay()
    other.act(PROPS_BUYER, "dressing", "chair", title="Chair")
    text = "Prop,Place\nChart,table\nLantern,bar"
    records = [{(act["kind"], act["record"]) for act in read(text, day)["acts"]} for day in (one, other)]
    assert records[0] == records[1]


def test_l2_what_was_removed_since_comes_back_only_as_the_same_record() -> None:
    day = ADay()
    take(day, read("Prop\nChart", day))
    key = next(iter(Gathered(day.records).of_kind("dressing")))
    day.remove(PROPS_BUYER, key)
    again = read("Prop\nChart", day)
    assert [f"{act['kind']}/{act['record']}" for act in again["acts"]] == [key]


MESS = st.text(st.sampled_from("Shot,\t;\"'\n=+-@12Aa .()#éß\r|/"), max_size=120)
HEADS = st.sampled_from(
    ["", "Shot,Lens,Notes\n", "Item;Qty;FR\n", "Drink\tGlasses\tScene\n", "Prop,Place,Width (cm)\n"]
)


def outcome(text: str) -> dict[str, Any] | str:
    """What a list comes to, or the code of its refusal."""
    try:
        return read(text)
    except RuleError as error:
        return error.code


@settings(max_examples=400)
@given(head=HEADS, text=MESS)
def test_l1_any_text_is_taken_whole_or_refused_in_a_sentence_and_every_row_is_accounted_for(
    head: str, text: str
) -> None:
    found = outcome(head + text)
    if isinstance(found, str):
        assert found in ("list_empty", "quote_open")
        return
    assert not (found["faults"] and found["acts"])
    at_fault = {row["row"] for row in found["rows"] if row["state"] == "fault"}
    assert {one["row"] for one in found["faults"]} == at_fault
    for act in found["acts"]:
        assert check.faults(act["kind"], act["set"]) == []
    again = read(head + text, left_out=sorted(at_fault)) if len(at_fault) < len(found["rows"]) else found
    assert again["faults"] == [] or again is found
