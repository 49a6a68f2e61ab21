"""Where to set a dimmer, the ways out of too little light, and settings solved backwards, on both Pythons.

Figures are worked by hand from the inverse square law and the incident-light equation (ISO 2720): T4 at EI 800, 1/48 s
and C 250 asks for 240 lx. Every set of acts that is offered is done, and the sheet is asked again.
"""

from __future__ import annotations

import json
from typing import Any

import pytest

from a_day import FACE, SHOT, ADay, Door, a_ready_day
from people import CAMERA_ASSISTANT, GAFFER

KEY = f"level/key~{SHOT}"


@pytest.fixture
def day() -> ADay:
    """A bare key of 960 cd at 2 m: on the target."""
    found = a_ready_day()
    found.remove(GAFFER, "reading/r-1")
    return found


def setting(day: ADay, door: Door, role: str = "key") -> dict[str, Any]:
    return next(one for one in day.ask(door)["sheet"]["light"]["settings"] if one["role"] == role)


def ways(day: ADay, door: Door) -> dict[str, Any]:
    found: dict[str, Any] = day.ask(door, "ways", shot=SHOT, level=KEY)["ways"]
    return found


def way(day: ADay, door: Door, name: str) -> dict[str, Any]:
    return next(one for one in ways(day, door)["ways"] if one["way"] == name)


def done(day: ADay, acts: list[dict[str, Any]]) -> None:
    """Do the acts of one tap."""
    for act in acts:
        day.act(GAFFER, act["kind"], act["record"], **act["set"])


def stops(day: ADay, door: Door, role: str = "key") -> str:
    return str(day.levels(door)[role]["stops"]["shown"])


def solved(day: ADay, door: Door, may: list[str], **hold: float) -> dict[str, Any]:
    found: dict[str, Any] = day.ask(door, "solve", shot=SHOT, level=KEY, may=may, hold=hold)["solved"]
    return found


# the dimmer


def test_a_dimmer_is_a_range_until_its_curve_is_known(day: ADay, phone_door: Door) -> None:
    """1920 cd is one stop over: half the light, so 50 % where light is the percent, 0.5^(1/2.2) = 73 % where it is steep
    (common practice)."""
    day.act(GAFFER, "source", "key", intensity_cd="1920 cd")
    found = setting(day, phone_door)
    assert found["output"]["low"] == pytest.approx(0.5, rel=1e-9)
    assert (found["percent"]["low"], found["percent"]["high"]) == (
        pytest.approx(50.0, rel=1e-9),
        pytest.approx(100.0 * 0.5 ** (1 / 2.2), rel=1e-9),
    )
    assert "then read" in found["line"]
    done(day, found["acts"])
    assert stops(day, phone_door) == "on the target"


@pytest.mark.parametrize(("curve", "percent"), [("straight", 50.0), ("square", 70.71067812)])
def test_a_stated_curve_makes_it_one_figure(day: ADay, phone_door: Door, curve: str, percent: float) -> None:
    day.act(GAFFER, "source", "key", intensity_cd="1920 cd", dimmer_curve=curve)
    found = setting(day, phone_door)
    assert found["percent"]["low"] == pytest.approx(percent, rel=1e-8)
    assert found["line"].endswith("by its stated curve")
    done(day, found["acts"])
    assert stops(day, phone_door) == "on the target"


def test_two_readings_make_it_one_figure(day: ADay, phone_door: Door) -> None:
    """By hand: 480 lx at 100 % and 120 lx at 50 % is a square law; 240 lx is at 70.7 %."""
    day.read("full", "480 lx")
    day.act(GAFFER, "level", f"key~{SHOT}", dimmer_percent="50 %")
    day.read("half", "120 lx")
    found = setting(day, phone_door)
    assert found["percent"]["low"] == pytest.approx(70.71067812, rel=1e-8)
    assert found["percent"]["shown"].replace("\u00a0", " ") == "71 %"
    assert found["line"].endswith("by two readings")
    done(day, found["acts"])
    assert stops(day, phone_door) == "on the target"


def test_a_percent_alone_moves_from_where_it_stands(day: ADay, phone_door: Door) -> None:
    """By hand: read 480 lx at 80 %; half the light is 40 % to 80 * 0.5^(1/2.2) = 58.4 %."""
    day.act(GAFFER, "level", f"key~{SHOT}", dimmer_percent="80 %")
    day.read("r", "480 lx")
    found = setting(day, phone_door)
    assert (found["percent"]["low"], found["percent"]["high"]) == (
        pytest.approx(40.0, rel=1e-9),
        pytest.approx(80.0 * 0.5 ** (1 / 2.2), rel=1e-9),
    )
    done(day, found["acts"])
    key = day.levels(phone_door)["key"]
    assert key["stops"]["low"] < 0.0 < key["stops"]["high"]


def test_a_level_that_meets_it_is_left_alone(day: ADay, phone_door: Door) -> None:
    found = setting(day, phone_door)
    assert (found["meets"], found["acts"], found["line"]) == (True, [], "meets it now")


def test_other_levels_are_wanted_as_people_set_them(day: ADay, phone_door: Door) -> None:
    """Two stops under 240 lx are 60 lx: a quarter of 960 cd at 2 m."""
    day.a_source("back", role="back")
    assert len(day.ask(phone_door)["sheet"]["light"]["settings"]) == 1
    day.act(GAFFER, "level", f"back~{SHOT}", wanted_stops="-2")
    found = setting(day, phone_door, "back")
    assert found["output"]["low"] == pytest.approx(0.25, rel=1e-9)
    done(day, found["acts"])
    assert stops(day, phone_door, "back") == "2.0 stops under"


def test_the_fill_is_set_for_the_wanted_contrast(day: ADay, phone_door: Door) -> None:
    """key / (R - 1): 240 / 3 = 80 lx for 4 : 1, a third of 240 lx."""
    day.a_source("fill", role="fill")
    day.act(CAMERA_ASSISTANT, "shot", SHOT, wanted_ratio="4 : 1")
    found = setting(day, phone_door, "fill")
    assert found["output"]["low"] == pytest.approx(1.0 / 3.0, rel=1e-9)
    done(day, found["acts"])
    assert day.ask(phone_door)["sheet"]["light"]["key_to_fill"]["shown"] == "4 : 1"


def test_a_source_owes_what_the_others_leave(day: ADay, phone_door: Door) -> None:
    """By hand: another key gives 60 of the 240 lx; this one owes 180 of its 240."""
    day.a_source("second", intensity_cd="240 cd")
    found = setting(day, phone_door)
    assert found["output"]["low"] == pytest.approx(0.75, rel=1e-9)


def test_what_is_short_at_full_says_by_how_much(day: ADay, phone_door: Door) -> None:
    day.act(GAFFER, "level", f"key~{SHOT}", distance_m="4 m", output_ratio="0.5")
    found = setting(day, phone_door)
    assert (found["short"]["shown"], found["acts"]) == ("2.0 stops short", [])
    assert found["line"] == "2.0 stops short at full"


def test_a_level_that_is_not_known_says_what_to_fill_in(day: ADay, phone_door: Door) -> None:
    day.act(GAFFER, "source", "key", intensity_cd=None)
    found = setting(day, phone_door)
    assert found["missing"][0]["field"] == "intensity_cd"
    assert found["acts"] == []


# ways out: two stops short at full


@pytest.fixture
def dark(day: ADay) -> ADay:
    """960 cd at 4 m behind nothing: 60 lx, two stops short, dimmed by another."""
    day.act(GAFFER, "level", f"key~{SHOT}", distance_m="4 m", output_ratio="0.5")
    day.act(CAMERA_ASSISTANT, "setup", "s", title="Over the Gambler", scene="12", widest_t_stop="T1.4")
    day.act(CAMERA_ASSISTANT, "shot", SHOT, setup="s", highest_exposure_index=6400)
    day.act(GAFFER, "level", f"key~{SHOT}", nearest_m="1 m")
    day.act(
        GAFFER, "kit", "panel", title="LED panel, 2 by 1 ft", type="lamp", count=1, intensity_cd="5000 cd",
        input_w="400", colour_k="5600 K",
    )  # fmt: skip
    return day


def test_the_ways_are_ranked_enough_first_then_quick(dark: ADay, phone_door: Door) -> None:
    found = ways(dark, phone_door)
    assert found["short"]["shown"] == "2.0 stops short"
    assert [one["way"] for one in found["ways"]] == ["open_up", "raise_index", "move_in", "other_lamp"]
    assert all(one["is_enough"] for one in found["ways"])
    assert [one["minutes"] for one in found["ways"]] == sorted(one["minutes"] for one in found["ways"])


@pytest.mark.parametrize("name", ["open_up", "raise_index", "move_in", "other_lamp"])
def test_the_acts_of_a_way_bring_the_shot_to_its_target(dark: ADay, phone_door: Door, name: str) -> None:
    found = way(dark, phone_door, name)
    assert found["after"]["shown"] == "meets it"
    done(dark, found["acts"])
    assert stops(dark, phone_door) == "on the target"


@pytest.mark.parametrize("name", ["open_up", "raise_index", "move_in"])
def test_so_they_do_from_a_reading_alone(dark: ADay, phone_door: Door, name: str) -> None:
    """By hand: read 20 lx at half light is 40 lx at full, 2.6 stops short."""
    dark.act(GAFFER, "source", "key", intensity_cd=None)
    dark.read("r", "20 lx")
    assert ways(dark, phone_door)["short"]["shown"] == "2.6 stops short"
    done(dark, way(dark, phone_door, name)["acts"])
    assert stops(dark, phone_door) == "on the target"


def test_opening_up_goes_to_an_engraved_third_and_costs_depth_of_field(dark: ADay, phone_door: Door) -> None:
    """T4 opened by two stops is T2; at 50 mm, 3 m and 0.025 mm the near and far limits by H = f^2 / (N c) + f
    (Ray, Applied Photographic Optics) lie 0.718 m apart at 4 and 0.355 m at 2."""
    found = way(dark, phone_door, "open_up")
    assert found["acts"][0]["set"] == {"t_stop": ["2", "T2"]}
    assert found["title"] == "Open up to T2"
    assert found["costs"][0] == "depth of field about 0.5 of what it was"
    dark.act(CAMERA_ASSISTANT, "setup", "s", lens_mm="50", camera_distance_m="3 m", blur_mm="0.025")
    cost = way(dark, phone_door, "open_up")["costs"][0].replace("\u00a0", " ")
    assert cost.startswith("sharp over 0.36 m, was 0.72 m")


def test_raising_the_index_says_the_noise_and_that_all_rises(dark: ADay, phone_door: Door) -> None:
    found = way(dark, phone_door, "raise_index")
    assert found["acts"][0]["set"] == {"exposure_index": 3200}
    assert found["costs"][0] == "noise: shadows come 2.0 stops nearer to it"
    assert "everything else rises with it by 2.0 stops" in found["costs"][1]


def test_moving_in_finds_the_inverse_square_distance_and_cautions(dark: ADay, phone_door: Door) -> None:
    found = way(dark, phone_door, "move_in")
    assert found["acts"][0]["set"]["distance_m"] == ["2", "2 m"]
    assert found["caution"]["code"] == "heat"
    dark.act(GAFFER, "source", "key", overhead="yes")
    assert way(dark, phone_door, "move_in")["caution"]["code"] == "overhead"


def test_another_lamp_of_the_kit_says_power_and_colour(dark: ADay, phone_door: Door) -> None:
    """By hand: 5600 K against 3200 K is 134 mired; 400 W against 200 W."""
    dark.act(GAFFER, "source", "key", input_w="200", colour_k="3200 K")
    found = way(dark, phone_door, "other_lamp")
    costs = [one.replace("\u00a0", " ") for one in found["costs"]]
    assert "200 W more on its circuit" in costs
    assert "134 mired cooler" in costs
    assert (found["caution"]["code"], found["on_hand"]) == ("electric", True)


def test_what_the_kit_has_none_of_is_no_way_and_what_nobody_counted_says_so(
    dark: ADay, phone_door: Door
) -> None:
    dark.act(GAFFER, "kit", "panel", count=None)
    assert way(dark, phone_door, "other_lamp")["on_hand"] is None
    dark.act(GAFFER, "kit", "panel", count=0)
    assert "other_lamp" not in [one["way"] for one in ways(dark, phone_door)["ways"]]


def test_a_limit_that_nobody_said_is_asked_for(dark: ADay, phone_door: Door) -> None:
    dark.act(CAMERA_ASSISTANT, "setup", "s", widest_t_stop=None)
    found = way(dark, phone_door, "open_up")
    assert (found["is_enough"], found["missing"][0]["field"]) == (None, "widest_t_stop")
    assert ways(dark, phone_door)["ways"][0]["way"] == "raise_index"


def test_a_lens_that_opens_no_farther_is_not_enough(dark: ADay, phone_door: Door) -> None:
    """By hand: T4 to T2.8 is 1.03 stops of the two."""
    dark.act(CAMERA_ASSISTANT, "setup", "s", widest_t_stop="T2.8")
    found = way(dark, phone_door, "open_up")
    assert (found["is_enough"], found["after"]["shown"]) == (False, "1.0 stop short")
    done(dark, found["acts"])
    assert stops(dark, phone_door) == "1.0 stop under"


def test_where_neither_stop_nor_index_is_enough_both_may_be(dark: ADay, phone_door: Door) -> None:
    dark.act(CAMERA_ASSISTANT, "setup", "s", widest_t_stop="T2.8")
    dark.act(CAMERA_ASSISTANT, "shot", SHOT, highest_exposure_index=1600)
    found = way(dark, phone_door, "open_up_and_raise_index")
    assert found["title"] == "Open up to T2.8 and raise the index to EI 1600"
    done(dark, found["acts"])
    assert stops(dark, phone_door) == "on the target"


def test_a_layer_dropped_leaves_the_rest_where_it_stands(day: ADay, phone_door: Door) -> None:
    """By hand: a gel that passes a quarter, gone, gives two stops; the frame behind it stays 1.5 m from the lamp."""
    day.a_layer(
        "gel",
        type="gel",
        title="Blue gel",
        order=1,
        gap_m="0.3 m",
        transmittance_ratio="0.25",
        shift_mired="-65",
    )
    day.a_layer("grid", order=2, gap_m="1.2 m")
    before = day.levels(phone_door)["key"]["lux"]["low"]
    day.act(GAFFER, "kit", "opal", title="Opal", type="sheet", transmittance_ratio="0.8", direct_ratio="0")
    found = ways(day, phone_door)["ways"]
    gel = next(one for one in found if one["title"] == "Drop Blue gel")
    assert gel["gain"]["stops"] == pytest.approx(2.0, abs=1e-6)
    assert "65 mired warmer without it" in gel["costs"]
    assert "in every shot that uses it" in gel["costs"]
    opal = next(one for one in found if one["way"] == "swap_layer")
    assert opal["caution"]["code"] == "flame"
    done(day, gel["acts"])
    assert day.records["layer/grid"]["gap_m"][1][0][1] == ["1.5", "1.5 m"]
    assert day.levels(phone_door)["key"]["lux"]["low"] / before == pytest.approx(4.0, rel=1e-6)


def test_a_dropped_sheet_is_harder(day: ADay, phone_door: Door) -> None:
    day.act(GAFFER, "source", "key", face_width_m="0.3 m", face_height_m="0.3 m")
    day.a_layer("grid")
    found = next(one for one in ways(day, phone_door)["ways"] if one["way"] == "drop_layer")
    assert "hard: what is left is the lamp's own face" in found["costs"]
    assert any(one.startswith("harder: it looks ") for one in found["costs"])


def test_a_dimmer_that_is_enough_needs_no_way_out(day: ADay, phone_door: Door) -> None:
    day.act(GAFFER, "level", f"key~{SHOT}", output_ratio="0.5")
    found = ways(day, phone_door)
    assert (found["ways"], found["line"]) == ([], "its dimmer is enough: meets it")
    done(day, found["acts"])
    assert stops(day, phone_door) == "on the target"


def test_ways_of_a_source_that_is_not_in_the_shot_are_refused(day: ADay, phone_door: Door) -> None:
    asked = {"do": "ways", "shot": SHOT, "level": "level/none~12c", "records": day.records}
    answer = json.loads(phone_door(json.dumps(asked)))
    assert (answer["ok"], answer["code"]) == (False, "no_such_source")


# what if


def test_a_trial_stores_nothing(day: ADay, phone_door: Door) -> None:
    before = json.dumps(day.records, sort_keys=True)
    acts = [{"kind": "level", "record": f"key~{SHOT}", "set": {"distance_m": ["4", "4 m"]}}]
    tried = day.ask(phone_door, "what_if", shot=SHOT, acts=acts)["sheet"]
    assert tried["light"]["levels"][0]["stops"]["shown"] == "2.0 stops under"
    assert json.dumps(day.records, sort_keys=True) == before
    assert stops(day, phone_door) == "on the target"


def test_a_trial_carries_the_reading_on(day: ADay, phone_door: Door) -> None:
    day.read("r", "120 lx")
    acts = [{"kind": "level", "record": f"key~{SHOT}", "set": {"output_ratio": ["0.5", "0.5"]}}]
    [key] = day.ask(phone_door, "what_if", shot=SHOT, acts=acts)["sheet"]["light"]["levels"]
    assert (key["kind"], key["stops"]["shown"]) == ("range", "2.0 stops under")


def test_a_trial_may_add_and_remove(day: ADay, phone_door: Door) -> None:
    source = {"kind": "source", "record": "new", "set": {"title": "New", "intensity_cd": ["960", "960 cd"]}}
    level = {
        "source": "new",
        "shot": SHOT,
        "on": "yes",
        "role": "fill",
        "point": FACE,
        "distance_m": ["4", "4 m"],
    }
    acts = [source, {"kind": "level", "record": f"new~{SHOT}", "set": level}]
    tried = day.ask(phone_door, "what_if", shot=SHOT, acts=acts)["sheet"]["light"]
    assert tried["key_to_fill"]["shown"] == "5 : 1"


def test_a_trial_is_held_to_the_limits_of_a_field(day: ADay, phone_door: Door) -> None:
    acts = [{"kind": "level", "record": f"key~{SHOT}", "set": {"output_ratio": ["2", "2"]}}]
    asked = {"do": "what_if", "shot": SHOT, "acts": acts, "records": day.records, "complete": True}
    answer = json.loads(phone_door(json.dumps(asked)))
    assert (answer["ok"], answer["code"]) == (False, "act_not_allowed")


# solved backwards


@pytest.mark.parametrize(
    ("may", "field", "value"),
    [
        ("dimmer", "output_ratio", ["0.25", "0.25"]),
        ("distance", "distance_m", ["4", "4 m"]),
        ("stop", "t_stop", ["8", "T8"]),
        ("index", "exposure_index", 200),
    ],
)
def test_too_much_light_is_solved_by_the_one_thing_that_may_move(
    day: ADay, phone_door: Door, may: str, field: str, value: Any
) -> None:
    """3840 cd at 2 m is two stops over: a quarter of the light, twice the distance, T8 or EI 200."""
    day.act(GAFFER, "source", "key", intensity_cd="3840 cd")
    found = solved(day, phone_door, [may])
    first = found["solutions"][0]
    assert (found["line"], first["is_solved"]) == ("solved", True)
    assert first["acts"][0]["set"][field] == value
    done(day, first["acts"])
    assert stops(day, phone_door) == "on the target"


def test_softness_at_least_brings_the_frame_near_and_the_dimmer_down(day: ADay, phone_door: Door) -> None:
    """By hand: 4 ft fill 45 degrees at 1.2192 / (2 tan 22.5) = 1.4717 m."""
    day.act(GAFFER, "source", "key", intensity_cd="40000 cd")
    day.a_layer("grid")
    found = solved(day, phone_door, ["distance", "dimmer"], softness_deg=45.0)["solutions"][0]
    assert found["is_solved"]
    assert [one["what"] for one in found["holds"]] == ["level", "softness"]
    acts = {field: value for act in found["acts"] for field, value in act["set"].items()}
    assert float(acts["distance_m"][0]) == pytest.approx(1.47, abs=0.011)
    done(day, found["acts"])
    assert stops(day, phone_door) == "on the target"
    [soft] = day.ask(phone_door)["sheet"]["light"]["softness"]
    assert soft["width"]["deg"] >= 45.0


def test_level_and_contrast_are_solved_together(day: ADay, phone_door: Door) -> None:
    """One stop under is 120 lx: half of the key; 3 : 1 needs 60 lx of fill: a quarter of it."""
    day.a_source("fill", role="fill")
    found = solved(day, phone_door, ["dimmer"], level_stops=-1, ratio=3)["solutions"][0]
    assert found["is_solved"]
    assert found["key_to_fill"] == "3 : 1"
    done(day, found["acts"])
    assert (stops(day, phone_door), stops(day, phone_door, "fill")) == ("1.0 stop under", "2.0 stops under")


def test_what_cannot_be_held_comes_with_what_it_misses(dark: ADay, phone_door: Door) -> None:
    found = solved(dark, phone_door, ["dimmer"])
    assert found["line"].startswith("nothing that may move holds all of it")
    assert found["solutions"][0]["holds"][0] == {
        "what": "level",
        "shown": "2.0 stops short",
        "is_held": False,
    }


def test_dropping_a_layer_is_a_solution_only_where_layers_may_move(day: ADay, phone_door: Door) -> None:
    """By hand: the gel gone, the lamp itself is 2.3 m away: 1270 / 2.3^2 = 240 lx."""
    day.act(GAFFER, "source", "key", intensity_cd="1270 cd")
    day.a_layer("gel", type="gel", title="Gel", gap_m="0.3 m", transmittance_ratio="0.25")
    assert not any(one["is_solved"] for one in solved(day, phone_door, ["dimmer"])["solutions"])
    found = solved(day, phone_door, ["dimmer", "layers"])["solutions"][0]
    assert found["is_solved"]
    assert found["title"].startswith("drop Gel")


def test_what_may_move_is_one_of_five(day: ADay, phone_door: Door) -> None:
    asked = {"do": "solve", "shot": SHOT, "may": ["weather"], "hold": {}, "records": day.records}
    answer = json.loads(phone_door(json.dumps(asked)))
    assert (answer["ok"], answer["code"]) == (False, "not_a_choice")
