"""The checklist follows from the set-up, with quantities, on both Pythons; its ticks are made alike on every copy."""

from __future__ import annotations

import copy
import json
import re
from typing import Any

import pytest

from a_day import FACE, SHOT, ADay, Door, a_ready_day, with_dressing
from people import (
    ART_DIRECTOR,
    ASSISTANT_DIRECTOR,
    CAMERA_ASSISTANT,
    GAFFER,
    GRIP,
    KEY_GRIP,
    PROPS_BUYER,
)
from tailslate.day import kinds, task_id, templates

Row = dict[str, Any]


def plain(text: str) -> str:
    """A text of the rules with ordinary spaces."""
    return text.replace("\u00a0", " ")


def asked(day: ADay, door: Door, **more: Any) -> dict[str, Row]:
    """The derived rows of the shot by the id of their record."""
    return {
        row["record"].split("/", 1)[1]: row
        for row in day.ask(door, **more)["sheet"]["rows"]["tasks"]
        if row["derived"]
    }


def quantity(row: Row) -> str:
    return plain(f"{row['amount']} {row['unit']}".strip())


@pytest.fixture
def day() -> ADay:
    """A shot whose list is done: a lamp, a flag, a reading."""
    return a_ready_day()


def a_boom_over_the_table(day: ADay) -> None:
    """A lamp on a boom over people, with its stand, its circuit and its run of cable.

    The boom's figures are those of a hand-worked balance: 4.5 kg at 1.6 m and a 3 kg boom whose middle lies
    0.35 m out, against a weight at 0.8 m.
    """
    day.a_source("lamp", role="back", overhead="yes", scene="12", input_w="1200 W", power_factor_ratio="0.92")
    day.act(
        GAFFER, "circuit", "box", title="Wall box", breaker_a="20 A", voltage_v="120 V", mapped="yes",
        residual_current_protected="yes",
    )  # fmt: skip
    day.act(GAFFER, "source", "lamp", title="Lamp over the table", circuit="box")
    day.act(
        KEY_GRIP, "rig", "boom", title="Boom", source="lamp", overhead="yes", load_kg="4.5 kg", load_arm_m="1.6 m",
        weight_arm_m="0.8 m", boom_kg="3 kg", boom_centre_m="0.35 m", stand_kg="12 kg", leg_radius_m="0.6 m",
        legs=3, bag_kg="12.5 kg",
    )  # fmt: skip
    day.act(
        GAFFER,
        "taping",
        "run",
        title="Run to the lamp",
        scene="12",
        type="run",
        source="lamp",
        length_m="18 m",
    )


def test_a_boom_over_the_table_yields_its_rigging_safety_cable_and_power_at_once(
    day: ADay, phone_door: Door
) -> None:
    before = set(asked(day, phone_door))
    a_boom_over_the_table(day)
    found = asked(day, phone_door)
    assert set(found) - before == {
        "rig_stand~rig:boom~1",
        "counterweight_on~rig:boom~1",
        f"place_source~shot:{SHOT}~source:lamp~1",
        "lay_cable~source:lamp~1",
        "agree_load~circuit:box~1",
        f"colour_matched~shot:{SHOT}~1",
        "strike~scene:12~1",
        f"tape_at_hand~shot:{SHOT}~1",
    }
    assert quantity(found[f"tape_at_hand~shot:{SHOT}~1"]) == "20 m"  # nobody said the roll
    # 4.5 kg at 1.6 m: (7.2 + 1.05) / 0.8 = 10.3125 kg, moments about the pivot, worked by hand.
    assert quantity(found["counterweight_on~rig:boom~1"]) == "10.31 kg"
    # 18 m of run and 13 strips of 0.15 m, one each 1.5 m with both ends: 19.95 m, worked by hand.
    assert quantity(found["lay_cable~source:lamp~1"]) == "19.95 m of tape"
    # 1200 W / (120 V x 0.92) = 10.87 A, shown to the tenth above.
    assert quantity(found["agree_load~circuit:box~1"]) == "10.9 A"
    safety = day.row(phone_door, "Boom: safety on")
    # 10 times 4.5 kg: 10 x 4.5 x 9.80665 = 441 N.
    assert "breaks at 0.45 kN or more" in plain(safety["second"])
    assert safety["derived"]["needs"] == ["task/rig_stand~rig:boom~1/done"]
    stand = found["rig_stand~rig:boom~1"]
    assert "from Lamp over the table, over people" in stand["second"]
    assert stand["caution"]["code"] == "overhead"


def test_the_bags_of_a_stand_are_those_of_the_worst_way_it_can_swing(day: ADay, phone_door: Door) -> None:
    # Stand 8 kg, feet at 0.55 m (three legs: the edge lies at half of it), 6 kg at 0.9 m, 1.5 times the moment:
    # (1.5 x 6 x 0.625 - 8 x 0.275) / 0.275 = 12.45 kg, worked by hand: one bag of 12.5, two of 12.
    figures = {
        "load_kg": "6 kg",
        "offset_m": "0.9 m",
        "stand_kg": "8 kg",
        "leg_radius_m": "0.55 m",
        "legs": 3,
    }
    day.act(KEY_GRIP, "rig", "stand", title="Stand 1", source="key", overhead="no", **figures)
    stand = "rig_stand~rig:stand~1"
    assert quantity(asked(day, phone_door)[stand]) == "12.5 kg"
    day.act(KEY_GRIP, "rig", "stand", bag_kg="12.5 kg")
    assert quantity(asked(day, phone_door)[stand]) == "1 bag of 12.5 kg"
    day.act(KEY_GRIP, "rig", "stand", bag_kg="12 kg")
    assert quantity(asked(day, phone_door)[stand]) == "2 bags of 12 kg"
    day.act(KEY_GRIP, "rig", "stand", offset_m=None)
    assert quantity(asked(day, phone_door)[stand]) == "at least 1 bag"


def test_what_nobody_measured_is_never_a_quantity_that_looks_known(day: ADay, phone_door: Door) -> None:
    a_boom_over_the_table(day)
    day.act(GAFFER, "taping", "run", length_m=None)
    day.act(GAFFER, "source", "lamp", input_w=None)
    day.act(KEY_GRIP, "rig", "boom", boom_kg=None)
    found = asked(day, phone_door)
    assert quantity(found["lay_cable~source:lamp~1"]) == "1 run"
    assert "its length is not known" in found["lay_cable~source:lamp~1"]["second"]
    assert quantity(found["agree_load~circuit:box~1"]) == "at least 0 A"
    assert quantity(found["counterweight_on~rig:boom~1"]) == ""
    assert quantity(found["rig_stand~rig:boom~1"]) == "at least 1 bag"


def test_a_second_copy_with_the_same_set_up_derives_the_same_tasks_with_the_same_ids(
    phone_door: Door,
) -> None:
    mine, theirs = a_ready_day(), ADay()
    a_boom_over_the_table(mine)
    theirs.records = json.loads(json.dumps(mine.records))
    one, other = asked(mine, phone_door), asked(theirs, phone_door)
    assert list(one) == list(other)
    assert one == other


def test_two_phones_without_signal_tick_the_same_record(day: ADay, phone_door: Door) -> None:
    a_boom_over_the_table(day)
    row = asked(day, phone_door)["rig_stand~rig:boom~1"]
    mine, theirs = copy.deepcopy(day), copy.deepcopy(day)
    kind, record = row["record"].split("/")
    first = mine.act(KEY_GRIP, kind, record, done=row["value_if_ticked"])
    second = theirs.act(GRIP, kind, record, done=row["value_if_ticked"])
    assert first.record_key == second.record_key
    day.act(KEY_GRIP, kind, record, done=row["value_if_ticked"])
    day.act(GRIP, kind, record, alone=True, done=row["value_if_ticked"])
    found = asked(day, phone_door)["rig_stand~rig:boom~1"]
    assert (found["state"], len(found["painted"]["done"])) == ("done", 2)


def test_nothing_of_a_derived_task_is_stored_but_its_tick(day: ADay, phone_door: Door) -> None:
    stored = {key for key in day.records if task_id.parse(key)}
    assert stored
    assert {field for key in stored for field in day.records[key]} == {"done"}
    a_boom_over_the_table(day)
    assert {key for key in day.records if task_id.parse(key)} == stored


@pytest.mark.parametrize(("x_m", "state"), [("1.05 m", "done"), ("1.29 m", "done"), ("1.3 m", "again")])
def test_a_stand_moved_by_a_hand_opens_nothing_again_and_one_moved_away_does(
    day: ADay, phone_door: Door, x_m: str, state: str
) -> None:
    day.act(KEY_GRIP, "rig", "stand", title="Stand 1", source="key", overhead="no", load_kg="6 kg", x_m="1 m")
    day.tick_derived()
    day.act(KEY_GRIP, "rig", "stand", x_m=x_m)
    found = asked(day, phone_door)
    states = {name: found[name]["state"] for name in ("rig_stand~rig:stand~1", f"exits_walked~shot:{SHOT}~1")}
    assert set(states.values()) == {state}


def a_fill_beside_the_chart(day: ADay) -> None:
    with_dressing(day)
    day.a_source("fill", role="fill")
    day.a_layer("muslin", source="fill", title="Bleached muslin")
    day.tick_derived()
    day.tick(ART_DIRECTOR, "dressing", "chart", "in_place")


def test_art_swaps_the_cloth_and_the_grips_tick_that_relied_on_it_asks_again_with_why(
    day: ADay, phone_door: Door
) -> None:
    a_fill_beside_the_chart(day)
    day.act(ART_DIRECTOR, "dressing", "chart", material="dark paper", reflectance_ratio="0.2")
    row = asked(day, phone_door)[f"place_fill~shot:{SHOT}~source:fill~1"]
    assert (row["department"], row["state"]) == ("grip", "again")
    said = [plain(one) for one in row["changes"]]
    assert re.fullmatch(r"Nautical chart, material: pale paper, now dark paper\. .+ \d\d:\d\d", said[0])
    assert said[1].startswith("Nautical chart, reflectance, typical: 70 %, now 20 %")
    assert day.row(phone_door, "Nautical chart: in place")["state"] == "again"
    reasons = day.readiness(phone_door)["reasons"]
    assert [one["record"] for one in reasons if one["code"] == "again"] == [row["record"], "dressing/chart"]


def test_while_the_shot_rolls_no_derived_task_asks_again(day: ADay, phone_door: Door) -> None:
    a_fill_beside_the_chart(day)
    day.act(ASSISTANT_DIRECTOR, "shot", SHOT, phase="rolling")
    day.act(ART_DIRECTOR, "dressing", "chart", material="dark paper")
    assert {row["state"] for row in asked(day, phone_door).values()} == {"done"}


def test_what_hangs_on_the_circuit_later_asks_for_its_load_again(day: ADay, phone_door: Door) -> None:
    a_boom_over_the_table(day)
    day.tick_derived()
    day.a_source("kettle-lamp", role="background", input_w="300 W", circuit="box")
    row = asked(day, phone_door)["agree_load~circuit:box~1"]
    assert row["state"] == "again"
    [change] = row["changes"]
    assert re.fullmatch(r"Kettle-lamp, input power: not known, now 300 W\. Electric \d\d:\d\d", plain(change))


def test_a_tick_whose_task_the_set_up_no_longer_asks_stays_as_no_longer_asked(
    day: ADay, phone_door: Door
) -> None:
    a_boom_over_the_table(day)
    day.tick_derived()
    day.act(GAFFER, "level", f"lamp~{SHOT}", on="no")
    found = asked(day, phone_door)
    off = {name for name in found if found[name]["state"] == "off"}
    assert "rig_stand~rig:boom~1" in off
    row = found["rig_stand~rig:boom~1"]
    assert (row["word"], row["must"], row["title"]) == ("no longer asked", False, "Boom: rig it, bag it")
    day.act(GAFFER, "level", f"lamp~{SHOT}", on="yes")
    assert asked(day, phone_door)["rig_stand~rig:boom~1"]["state"] == "done"


def test_the_tick_of_a_rig_that_was_taken_away_stays_as_no_longer_asked(day: ADay, phone_door: Door) -> None:
    a_boom_over_the_table(day)
    day.tick_derived()
    day.remove(KEY_GRIP, "rig/boom")
    assert asked(day, phone_door)["rig_stand~rig:boom~1"]["state"] == "off"


def test_ticks_that_records_carry_are_the_row_and_stand_once(day: ADay, phone_door: Door) -> None:
    with_dressing(day)
    day.act(CAMERA_ASSISTANT, "mark", "m", title="the Purser", shot=SHOT, colour="red")
    day.act(PROPS_BUYER, "drink", "rum", title="Rum", scene="12", mixed_from="tea", glasses=2, spares=1)
    day.act(KEY_GRIP, "rig", "stand", title="Stand 1", source="key", overhead="yes")
    carried = {
        row["derived"]["template"]: row["record"] for row in day.rows(phone_door) if row["field"] != "done"
    }
    assert carried == {
        "rig/safety_on": "rig/stand", "dressing/in_place": "dressing/chart", "mark/laid": "mark/m",
        "drink/round_done": "drink/rum", "drink/mixed": "drink/rum",
    }  # fmt: skip
    titles = [row["title"] for row in day.rows(phone_door)]
    assert len(titles) == len(set(titles))


def test_dressing_that_is_somebodys_bounce_says_of_which_shots_it_must_stay(
    day: ADay, phone_door: Door
) -> None:
    with_dressing(day)
    day.a_shot("12d", number="12D")
    day.act(ART_DIRECTOR, "serves", "chart~12d", dressing="chart", shot="12d", use="bounce", point=FACE)
    row = day.row(phone_door, "Nautical chart: in place")
    assert row["second"] == "card table, bounce, keep it: bounce of 12C and 12D"


def test_glasses_count_their_spares_as_whole_sets(day: ADay, phone_door: Door) -> None:
    # Two glasses with two spare sets and one with one: 3 glasses and 2 x 2 + 1 = 5 spare, worked by hand.
    day.act(
        PROPS_BUYER, "drink", "coffee", title="Coffee", scene="12", glasses=2, spares=2, line_height_m="40 mm"
    )
    day.act(PROPS_BUYER, "drink", "water", title="Water", scene="12", glasses=1, spares=1)
    row = asked(day, phone_door)[f"glasses_at_line~shot:{SHOT}~1"]
    assert quantity(row) == "3 glasses and 5 spare"
    assert "Coffee 40 mm" in plain(row["second"])
    assert "Water, line not known" in row["second"]
    day.act(PROPS_BUYER, "drink", "rum", title="Rum", scene="12")
    assert (
        quantity(asked(day, phone_door)[f"glasses_at_line~shot:{SHOT}~1"]) == "at least 3 glasses and 5 spare"
    )


def test_portions_of_food_are_counted_up_with_waste(day: ADay, phone_door: Door) -> None:
    day.act(
        PROPS_BUYER, "food", "b", title="Biscuits", scene="12", takes_planned=10, performers=2, portions=20
    )
    row = asked(day, phone_door)["lay_portions~food:b~1"]
    assert quantity(row) == "23 portions"  # 10 x 2 x 1.15, worked by hand
    assert "20 there" in row["second"]


def test_batteries_are_charged_for_the_hours_and_swapped_by_the_clock(day: ADay, phone_door: Door) -> None:
    day.a_source(
        "panel", role="fill", scene="12", input_w="45 W", energy_wh="98 Wh", usable_ratio="0.8", cold_ratio="0.7",
        run_h="6 h", batteries=5,
    )  # fmt: skip
    found = asked(day, phone_door)
    # 6 h x 45 W over 98 Wh x 0.8 x 0.7 = 4.92, so five; one lasts 1.2 h: worked by hand.
    assert quantity(found["charge_batteries~source:panel~1"]) == "5 for 6 h"
    swap = found["swap_battery~source:panel~1"]
    assert (quantity(swap), swap["must"], swap["derived"]["when"]) == ("1.2 h a battery", False, "between")
    assert "battery_watch~scene:12~1" in found


def test_outdoors_a_stand_with_a_frame_asks_for_its_limit_and_who_strikes_it(
    day: ADay, phone_door: Door
) -> None:
    day.a_layer("grid", rig="frame-stand", width_m="1.2 m", height_m="1.2 m")
    day.act(KEY_GRIP, "rig", "frame-stand", title="Frame stand", overhead="yes", load_kg="3 kg")
    assert "wind_named~rig:frame-stand~1" in asked(day, phone_door)  # nobody said that it is indoors
    day.act(ASSISTANT_DIRECTOR, "scene", "12", inside="interior")
    indoors = asked(day, phone_door)
    assert "rig_stand~rig:frame-stand~1" in indoors
    assert "wind_named~rig:frame-stand~1" not in indoors
    assert day.row(phone_door, "Frame stand: safety on")["state"] == "open"
    day.act(ASSISTANT_DIRECTOR, "scene", "12", inside="exterior")
    row = asked(day, phone_door)["wind_named~rig:frame-stand~1"]
    assert (row["caution"]["code"], row["must"], quantity(row)) == ("wind", True, "")
    day.act(KEY_GRIP, "rig", "frame-stand", gust_limit_m_s="6 m/s", strikes="Best grip")
    row = asked(day, phone_door)["wind_named~rig:frame-stand~1"]
    assert (quantity(row), row["second"].split(",")[0]) == ("6 m/s", "Best grip")


def test_sheets_louvre_and_flag_each_have_their_row_in_the_order_from_the_lamp(
    day: ADay, phone_door: Door
) -> None:
    day.a_layer("b", title="Half grid cloth", order=1, gap_m="1 m")
    day.a_layer("a", title="Full grid cloth", order=2, gap_m="0.5 m")
    day.act(KEY_GRIP, "layer", "louvre", title="Louvre", source="key", type="louvre", order=3)
    day.act(KEY_GRIP, "layer", "flag", title="Flag", source="key", type="flag", order=4, gap_m="0.8 m")
    found = asked(day, phone_door)
    built = found["frames_up~source:key~1"]
    assert quantity(built) == "2 frames"
    assert plain(built["second"]) == "Half grid cloth at 1 m, Full grid cloth at 0.5 m"
    assert found["louvre_on~layer:louvre~1"]["second"] == "Louvre, gap not known, from Key"
    assert plain(found["flag_set~layer:flag~1"]["second"]) == "Flag at 0.8 m, from Key"


def test_a_lamp_to_which_nobody_gave_a_role_is_set_and_placed_all_the_same(
    day: ADay, phone_door: Door
) -> None:
    day.a_source("kicker", role="back")
    day.a_layer("sheet", source="kicker")
    day.act(GAFFER, "level", f"kicker~{SHOT}", role=None, dimmer_percent="40 %")
    found = asked(day, phone_door)
    assert f"place_source~shot:{SHOT}~source:kicker~1" in found
    row = found[f"dimmers_set~shot:{SHOT}~1"]
    assert quantity(row) == "2 lamps"
    assert f"level/kicker~{SHOT}/dimmer_percent" in [pair[0] for pair in row["value_if_ticked"][1]]


def test_a_scene_of_which_nobody_said_what_needs_a_watch_is_asked_and_each_yes_gets_one(
    day: ADay, phone_door: Door
) -> None:
    assert "ask_watches~scene:12~1" in asked(day, phone_door)
    day.act(
        ASSISTANT_DIRECTOR, "scene", "12", open_flame="yes", haze="yes", at_height="yes", real_glass="unknown"
    )
    assert "ask_watches~scene:12~1" in asked(day, phone_door)
    day.act(ASSISTANT_DIRECTOR, "scene", "12", real_glass="yes")
    found = {
        name.partition("~")[0]: row for name, row in asked(day, phone_door).items() if row["state"] == "open"
    }
    cautions = {name: found[name]["caution"]["code"] for name in found if name.endswith("_watch")}
    assert cautions == {
        "flame_watch": "open_flame", "haze_watch": "haze", "height_watch": "height", "glass_watch": "glass",
    }  # fmt: skip


def test_a_task_in_peoples_own_words_may_stand_in_place_of_the_derived_one(
    day: ADay, phone_door: Door
) -> None:
    day.act(KEY_GRIP, "rig", "stand", title="Stand 3", source="key", overhead="no")
    day.a_task("bag", title="Stand 3: bag it", instead_of="rig_stand~rig:stand~1")
    assert "rig_stand~rig:stand~1" not in asked(day, phone_door)
    day.remove(KEY_GRIP, "task/bag")
    assert "rig_stand~rig:stand~1" in asked(day, phone_door)


def test_a_production_adds_a_template_and_takes_one_away_by_records(day: ADay, phone_door: Door) -> None:
    day.act(
        GAFFER, "template", "tag", title="{}: tagged and dated", department="electric", over="source", must="must",
        hazard="electric", asks_again_by="lamp, input_w:50, no_such_field", low_min=1, likely_min=2, high_min=3,
        instead_of="lay_cable",
    )  # fmt: skip
    a_boom_over_the_table(day)
    found = asked(day, phone_door)
    row = found["template:tag~source:lamp~1"]
    assert (row["title"], row["department"], row["must"]) == (
        "Lamp over the table: tagged and dated", "electric", True,
    )  # fmt: skip
    assert (row["derived"]["minutes"], row["caution"]["code"]) == ([1, 2, 3], "electric")
    assert [pair[0] for pair in row["value_if_ticked"][1]] == ["source/lamp/input_w"]  # no lamp is named
    assert not [name for name in found if name.startswith("lay_cable")]
    day.tick_derived()
    day.act(GAFFER, "source", "lamp", input_w="1249 W")
    assert asked(day, phone_door)["template:tag~source:lamp~1"]["state"] == "done"
    day.act(GAFFER, "source", "lamp", input_w="1250 W")
    assert asked(day, phone_door)["template:tag~source:lamp~1"]["state"] == "again"


def test_a_tick_of_a_shared_thing_holds_in_every_shot_that_uses_it(day: ADay, phone_door: Door) -> None:
    day.act(KEY_GRIP, "rig", "stand", title="Stand 1", source="key", overhead="no", load_kg="6 kg")
    day.a_shot("12d", number="12D")
    day.act(
        GAFFER,
        "level",
        "key~12d",
        source="key",
        shot="12d",
        on="yes",
        role="key",
        point=FACE,
        distance_m="2 m",
    )
    day.tick_derived()
    other = asked(day, phone_door, shot="12d")
    assert other["rig_stand~rig:stand~1"]["state"] == "done"
    assert other["place_source~shot:12d~source:key~1"]["state"] == "open"
    assert not [name for name in other if f"shot:{SHOT}" in name]


def test_in_a_departments_list_a_row_of_several_shots_stands_once(day: ADay, phone_door: Door) -> None:
    day.act(KEY_GRIP, "rig", "stand", title="Stand 1", source="key", overhead="no", load_kg="6 kg")
    day.a_shot("12d", number="12D")
    day.act(
        GAFFER,
        "level",
        "key~12d",
        source="key",
        shot="12d",
        on="yes",
        role="key",
        point=FACE,
        distance_m="2 m",
    )
    shots = [{"shot": shot, "sheet": day.ask(phone_door, shot=shot)["sheet"]} for shot in (SHOT, "12d")]
    groups = day.ask(phone_door, do="list", department="grip", shots=shots)["groups"]
    listed = {group["shot"]: [row["record"] for row in group["rows"]] for group in groups}
    assert listed == {
        SHOT: ["task/flag", "task/rig_stand~rig:stand~1", f"task/place_source~shot:{SHOT}~source:key~1"],
        "12d": ["task/place_source~shot:12d~source:key~1", "task/strike~scene:12~1"],
    }
    assert groups[0]["folds"] == [{"key": "rig/stand", "title": "Stand 1", "count": 1}]


def test_every_template_names_departments_kinds_and_fields_of_the_table() -> None:
    for template in templates.TEMPLATES:
        assert template.department in kinds.DEPARTMENT_NAMES, template.name
        assert set(template.over) <= set(kinds.KINDS), template.name
        assert set(template.needs) <= set(templates.BY_NAME), template.name
        low, likely, high = template.minutes
        assert 0 < low <= likely <= high, template.name
        for steps, fields in template.inputs:
            kind = _end_of(steps)
            for field in fields:
                assert kinds.field_of(kind, field), (template.name, kind, field)
        for name in template.steps:
            kind, field = name.split("/")
            known = kinds.field_of(kind, field)
            assert known is not None
            assert known.type == "quantity"
            assert float(template.steps[name]) >= float(known.step), (
                f"{template.name}: {name} narrower than the field's"
            )


def _end_of(steps: list[tuple[str, str, str]]) -> str:
    kind = ""
    for sign, first, _last in steps:
        if sign != "?":
            kind = first
    return kind


def test_the_needs_of_the_templates_lead_in_no_circle() -> None:
    done: set[str] = set()
    while len(done) < len(templates.TEMPLATES):
        ready = {one.name for one in templates.TEMPLATES if set(one.needs) <= done} - done
        assert ready, set(templates.BY_NAME) - done
        done |= ready


@pytest.mark.parametrize("record", ["a", "a~b", "a:b", ":-", "~:", "::-~", "key~12c", "a.b_c-d"])
def test_any_id_can_be_named_in_the_id_of_a_derived_task(record: str) -> None:
    key = task_id.make("place_source", ["shot/12c", f"source/{record}"])
    assert task_id.parse(key) == ("place_source", ["shot/12c", f"source/{record}"])
    assert task_id.first_named(task_id.make("rig_stand", [f"rig/{record}"])) == f"rig/{record}"


@pytest.mark.parametrize("key", ["task/12c-flag", "task/key~12c", "task/a~b~c", "rig/a~b:c~1", "task/a~:c~1"])
def test_a_task_that_people_made_is_not_taken_for_a_derived_one(key: str) -> None:
    assert task_id.parse(key) is None
