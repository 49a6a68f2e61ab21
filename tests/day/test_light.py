"""The light of a shot on its sheet, on both Pythons. Figures are published or worked by hand, with their source."""

from __future__ import annotations

import math

import pytest

from a_day import FACE, SHOT, ADay, Door, a_ready_day, with_dressing
from people import ART_DIRECTOR, GAFFER, KEY_GRIP


@pytest.fixture
def day() -> ADay:
    """A ready day before anybody read a meter."""
    found = a_ready_day()
    found.remove(GAFFER, "reading/r-1")
    return found


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


def test_the_target_is_that_of_the_incident_light_equation(day: ADay, phone_door: Door) -> None:
    """E = C N^2 / (S t), ISO 2720:1974: T4, EI 800, 1/48 s, C 250 ask for 240 lx; 1 fc = 1/0.3048^2 lx (NIST SP 811)."""
    target = day.ask(phone_door)["sheet"]["shot"]["target"]
    assert target["lux"]["low"] == pytest.approx(240.0, rel=1e-9)
    assert target["footcandles"]["low"] == pytest.approx(22.2967296, rel=1e-8)
    assert plain(target["sentence"]) == "T4, EI 800, 24 fps, 180\u00b0, C 250: 240 lx, 22 fc"


def test_a_bare_lamp_falls_with_the_square_of_the_distance(day: ADay, phone_door: Door) -> None:
    """Inverse square law by hand: 960 cd at 2 m is 240 lx, the target; at 4 m it is 60 lx, two stops under."""
    key = day.levels(phone_door)["key"]
    assert (key["kind"], key["stops"]["shown"], plain(key["lux"]["shown"])) == (
        "range",
        "on the target",
        "240 lx",
    )
    day.act(GAFFER, "level", f"key~{SHOT}", distance_m="4 m")
    key = day.levels(phone_door)["key"]
    assert key["lux"]["low"] == pytest.approx(60.0, rel=1e-9)
    assert key["stops"]["low"] == pytest.approx(-2.0, abs=1e-9)
    assert (key["stops"]["shown"], plain(key["footcandles"]["shown"])) == ("2.0 stops under", "5.6 fc")


def test_a_lamp_through_a_frame_gives_the_handbook_level(day: ADay, phone_door: Door) -> None:
    """20 000 cd, 1.5 m behind a 4 by 4 ft frame that passes half, face at 2 m: 405.74 lx.

    Lambertian rectangle (Howell, Catalogue of Configuration Factors, B-3 and B-4; Hamilton and Morgan 1952) with
    the light on the frame falling by cos^3 off its middle, by quadrature. The sheet spreads the same lumens
    evenly over the frame, which lies 0.01 stop from it. The lamp at 3.5 m without a frame would give 1633 lx.
    """
    day.act(GAFFER, "source", "key", intensity_cd="20000 cd")
    day.a_layer("grid")
    key = day.levels(phone_door)["key"]
    assert math.log2(key["lux"]["low"] / 405.7415374) == pytest.approx(0.0, abs=0.02)
    assert key["line"] == "worked out"


def test_the_ladder_starts_at_the_bare_lamp_and_names_each_loss(day: ADay, phone_door: Door) -> None:
    """By hand: 20 000 cd at 3.5 m is 1632.65 lx, log2(1632.65 / 240) = 2.7661 stops over."""
    day.act(GAFFER, "source", "key", intensity_cd="20000 cd")
    day.a_layer("grid")
    [ladder] = day.ask(phone_door)["sheet"]["light"]["ladders"]
    bare, grid = ladder["stages"]
    assert (bare["title"], bare["loss"], grid["title"]) == ("lamp, bare", None, "Half grid cloth")
    assert bare["level_low_stops"] == pytest.approx(2.7661, abs=1e-4)
    assert grid["level_low_stops"] == pytest.approx(bare["level_low_stops"] - grid["loss"]["low"], abs=1e-9)


def test_a_dimmer_that_lets_half_through_takes_one_stop(day: ADay, phone_door: Door) -> None:
    day.act(GAFFER, "level", f"key~{SHOT}", output_ratio="0.5")
    assert day.levels(phone_door)["key"]["stops"]["shown"] == "1.0 stop under"


def test_a_face_off_the_axis_turned_to_the_bulb_gets_the_same_light(day: ADay, phone_door: Door) -> None:
    """Inverse square law by hand: a bulb is alike in every direction, so 960 cd at 2 m stays 240 lx at 30 degrees."""
    day.act(GAFFER, "source", "key", beam_deg="360")
    day.act(GAFFER, "level", f"key~{SHOT}", off_axis_deg="30")
    assert day.levels(phone_door)["key"]["lux"]["low"] == pytest.approx(240.0, rel=1e-9)


def test_a_frame_lit_on_a_quarter_of_its_area_is_a_source_of_half_the_sides(
    day: ADay, phone_door: Door
) -> None:
    """By hand: a 4 by 4 ft frame of which a quarter is lit gives what a 2 by 2 ft frame lit all over gives."""
    day.a_layer("grid", lit_share_ratio="0.25")
    quarter = day.levels(phone_door)["key"]["lux"]["low"]
    day.act(KEY_GRIP, "layer", "grid", width_m="2 ft", height_m="2 ft", lit_share_ratio="1")
    assert day.levels(phone_door)["key"]["lux"]["low"] == pytest.approx(quarter, rel=1e-9)


def test_an_estimate_is_a_range_as_wide_as_what_is_known_of_the_lamp(day: ADay, phone_door: Door) -> None:
    """By hand: 480 to 1920 cd at 2 m is 120 to 480 lx, one stop to either side of 240 lx."""
    day.act(GAFFER, "source", "key", intensity_low_cd="480 cd", intensity_high_cd="1920 cd")
    key = day.levels(phone_door)["key"]
    assert (key["kind"], key["stops"]["shown"]) == ("range", "1.0 under to 1.0 over")
    assert plain(key["lux"]["shown"]) == "120 to 480 lx"


def test_sources_add_in_lux_at_one_point(day: ADay, phone_door: Door) -> None:
    """Superposition: 420 and 135 and 60 lx are 615 lx, 0.5502 stop over the first alone; each lamp at 1 m."""
    for source, role, intensity in (
        ("key", "key", "420 cd"),
        ("a", "fill", "135 cd"),
        ("b", "practical", "60 cd"),
    ):
        day.a_source(source, role=role, intensity_cd=intensity)
        day.act(GAFFER, "level", f"{source}~{SHOT}", distance_m="1 m")
    levels = day.levels(phone_door)
    assert levels["all"]["lux"]["low"] == pytest.approx(615.0, rel=1e-9)
    rise = levels["all"]["stops"]["low"] - levels["key"]["stops"]["low"]
    assert rise == pytest.approx(0.5501970826, abs=1e-9)


def test_two_lamps_of_one_role_are_one_level_and_back_light_is_left_out_of_the_sum(
    day: ADay, phone_door: Door
) -> None:
    day.a_source("a")
    day.a_source("b", role="back", intensity_cd="9000 cd")
    levels = day.levels(phone_door)
    assert levels["key"]["stops"]["shown"] == "1.0 stop over"
    assert "all" not in levels
    day.a_source("c", role="fill")
    assert day.levels(phone_door)["all"]["lux"]["low"] == pytest.approx(720.0, rel=1e-9)


def test_key_to_fill_is_key_and_fill_over_fill_and_says_so(day: ADay, phone_door: Door) -> None:
    """The convention of lighting handbooks, (key + fill) : fill, common practice: 640 and 160 lx are 5 : 1."""
    day.a_source("fill", role="fill")
    day.read("k", "640 lx")
    day.read("f", "160 lx", role="fill")
    found = day.ask(phone_door)["sheet"]["light"]["key_to_fill"]
    assert (found["kind"], found["shown"]) == ("reading", "5 : 1")
    assert found["line"] == "(key + fill) : fill, at the Gambler's face, read"


def test_a_contrast_of_estimates_is_a_range(day: ADay, phone_door: Door) -> None:
    """By hand: key 240 lx, fill 60 to 120 lx: (240 + 120) / 120 = 3 to (240 + 60) / 60 = 5."""
    day.a_source(
        "fill", role="fill", intensity_low_cd="240 cd", intensity_cd="360 cd", intensity_high_cd="480 cd"
    )
    found = day.ask(phone_door)["sheet"]["light"]["key_to_fill"]
    assert (found["kind"], found["shown"]) == ("range", "3 to 5 : 1")


def test_a_reading_is_plain_and_outranks_the_model(day: ADay, phone_door: Door) -> None:
    day.read("r", "59 lx", taken_time="14:06")
    key = day.levels(phone_door)["key"]
    assert (key["kind"], key["fresh"], key["line"]) == ("reading", True, "read 14:06, Electric")
    assert (key["stops"]["shown"], plain(key["lux"]["shown"]), plain(key["footcandles"]["shown"])) == (
        "2.0 stops under",
        "59 lx",
        "5.5 fc",
    )


def test_a_reading_stays_fresh_while_only_another_point_or_role_changes(day: ADay, phone_door: Door) -> None:
    day.a_source("moon", role="back")
    day.read("r", "59 lx")
    day.act(GAFFER, "level", f"moon~{SHOT}", distance_m="5 m")
    day.act(GAFFER, "source", "key", note="warm")
    assert day.levels(phone_door)["key"]["fresh"]


@pytest.mark.parametrize("moved", ["level", "lamp", "sheet", "new sheet", "sheet away"])
def test_a_reading_is_old_once_anything_that_decides_its_level_has_changed(
    day: ADay, phone_door: Door, moved: str
) -> None:
    day.a_layer("grid")
    day.read("r", "59 lx")
    if moved == "level":
        day.act(GAFFER, "level", f"key~{SHOT}", distance_m="2.1 m")
    elif moved == "lamp":
        day.act(GAFFER, "source", "key", lamp="another head")
    elif moved == "sheet":
        day.act(KEY_GRIP, "layer", "grid", title="Full grid cloth")
    elif moved == "new sheet":
        day.a_layer("muslin", title="Muslin", order=2)
    else:
        day.remove(KEY_GRIP, "layer/grid")
    key = day.levels(phone_door)["key"]
    assert not key["fresh"]
    assert key["changed"]
    assert "Was 2.0 stops under, read" in key["line"]


def test_an_old_reading_names_what_changed_by_whom(day: ADay, phone_door: Door) -> None:
    day.read("r", "59 lx")
    day.act(GAFFER, "level", f"key~{SHOT}", distance_m="2.5 m")
    [change] = day.levels(phone_door)["key"]["changed"]
    assert plain(change).startswith("Key, last frame or lamp to the subject: now 2.5 m. Electric ")


def test_a_reading_that_does_not_say_what_burned_is_not_fresh(day: ADay, phone_door: Door) -> None:
    day.read("r", "59 lx", taken_for=None)
    key = day.levels(phone_door)["key"]
    assert (key["fresh"], key["changed"]) == (
        False,
        ["nobody said what burned when it was taken: read again"],
    )


def test_a_reading_with_two_answers_is_not_fresh(day: ADay, phone_door: Door) -> None:
    day.read("r", "59 lx")
    day.act(KEY_GRIP, "reading", "r", alone=True, illuminance_lx="118 lx")
    key = day.levels(phone_door)["key"]
    assert not key["fresh"]
    assert "two answers" in key["changed"][0]


def test_what_a_reading_is_taken_for_can_be_asked_and_makes_it_fresh(day: ADay, phone_door: Door) -> None:
    found = day.ask(phone_door, "taken_for", shot=SHOT, point=f"point/{FACE}", role="key")
    assert f"level/key~{SHOT}/distance_m" in found["cells"]
    fields = {"shot": SHOT, "point": FACE, "role": "key", "illuminance_lx": "59 lx"}
    day.act(GAFFER, "reading", "r", **fields, taken_for=found["taken_for"])
    assert day.levels(phone_door)["key"]["fresh"]


# what is not known


@pytest.mark.parametrize(
    ("kind", "record", "field", "asked"),
    [
        ("source", "key", "intensity_cd", "the lamp's intensity is not known"),
        ("level", f"key~{SHOT}", "distance_m", "the distance to the point is not known"),
        ("level", f"key~{SHOT}", "on", "nobody has said whether Key burns"),
        ("layer", "grid", "gap_m", "the distance to Half grid cloth is not known"),
        ("layer", "grid", "transmittance_ratio", "what Half grid cloth lets through is not known"),
        ("layer", "grid", "direct_ratio", "straight through Half grid cloth is not known"),
        ("layer", "grid", "width_m", "the size of Half grid cloth is not known"),
        ("layer", "grid", "lit_share_ratio", "how much of Half grid cloth is lit is not known"),
    ],
)
def test_what_is_not_known_names_the_record_and_the_field_to_fill_in(
    day: ADay, phone_door: Door, kind: str, record: str, field: str, asked: str
) -> None:
    day.a_layer("grid")
    day.act(GAFFER, kind, record, **{field: None})
    key = day.levels(phone_door)["key"]
    assert (key["kind"], key["stops"], key["lux"]) == ("unknown", None, None)
    assert key["line"].startswith("not known: ")
    missing = next(one for one in key["missing"] if asked in one["sentence"])
    assert (missing["record"], missing["field"]) == (f"{kind}/{record}", field)


def test_a_dimmers_percent_alone_is_no_light(day: ADay, phone_door: Door) -> None:
    day.act(GAFFER, "level", f"key~{SHOT}", dimmer_percent="60 %")
    key = day.levels(phone_door)["key"]
    assert (key["kind"], key["missing"][0]["field"]) == ("unknown", "output_ratio")


def test_what_cannot_be_is_refused_in_the_words_of_the_arithmetic(day: ADay, phone_door: Door) -> None:
    day.a_layer("grid", transmittance_ratio="0.6", reflectance_ratio="0.55")
    key = day.levels(phone_door)["key"]
    assert key["kind"] == "unknown"
    assert "a sheet makes no light" in key["line"]


def test_a_value_of_a_newer_version_reads_as_not_known(day: ADay, phone_door: Door) -> None:
    day.records[f"level/key~{SHOT}"]["distance_m"][1][0][1] = {"metres": 2}
    assert day.levels(phone_door)["key"]["kind"] == "unknown"


def test_a_lamp_that_is_off_is_in_no_sum_and_a_flag_says_that_it_is_in_no_figure(
    day: ADay, phone_door: Door
) -> None:
    day.a_source("a", role="fill")
    day.act(GAFFER, "level", f"a~{SHOT}", on="no")
    day.a_layer("flag", type="flag", title="Solid flag", transmittance_ratio=None)
    levels = day.levels(phone_door)
    assert list(levels) == ["key"]
    assert levels["key"]["line"] == "worked out, Solid flag is not in the figure: meter behind it"
    assert plain(levels["key"]["lux"]["shown"]) == "240 lx"


def test_the_bounce_of_dressing_is_named_not_guessed(day: ADay, phone_door: Door) -> None:
    with_dressing(day)
    fill = day.levels(phone_door)["fill"]
    assert fill["kind"] == "unknown"
    asked = {(one["record"], one["field"]) for one in fill["missing"]}
    assert {("dressing/chart", "width_m"), ("dressing/chart", "x_m"), (f"point/{FACE}", "height_m")} <= asked
    day.a_source("fill", role="fill")
    fill = day.levels(phone_door)["fill"]
    assert (fill["kind"], fill["line"]) == (
        "range",
        "worked out, without the bounce of Nautical chart: read it",
    )
    assert {(one["record"], one["field"]) for one in fill["missing"]} == asked


def with_a_white_cloth(day: ADay) -> None:
    """A 0.9 by 1.5 m cloth, its near edge 0.15 m before the face and 0.45 m below it, read at 320 lx; key 400 lx."""
    day.act(ART_DIRECTOR, "dressing", "cloth", title="White cloth", scene="12", reflectance_ratio="0.8", width_m="1.5 m",
            depth_m="0.9 m", base_height_m="0.75 m", x_m="0", y_m="0.6 m", flame_retardant="yes")  # fmt: skip
    day.act(ART_DIRECTOR, "serves", f"cloth~{SHOT}", dressing="cloth", shot=SHOT, use="bounce", point=FACE)
    day.act(GAFFER, "point", FACE, x_m="0", y_m="0", height_m="1.2 m")
    day.act(GAFFER, "point", "table", title="the table", scene="12", type="table")
    day.read("k", "400 lx")
    day.read("t", "320 lx", role="all", point="table")


def test_a_cloth_before_the_face_gives_the_handbook_fill(day: ADay, phone_door: Door) -> None:
    """F = 0.2312 (Howell, Catalogue of Configuration Factors, element to perpendicular rectangle; by quadrature and
    Monte Carlo), E = 0.8 * 320 * F = 59.187 lx, (400 + 59.187) / 59.187 = 7.758 : 1."""
    with_a_white_cloth(day)
    fill = day.levels(phone_door)["fill"]
    assert fill["lux"]["low"] == pytest.approx(59.18722, rel=1e-5)
    found = day.ask(phone_door)["sheet"]["light"]["key_to_fill"]
    assert (found["kind"], found["shown"]) == ("range", "7.8 : 1")


def test_the_place_of_the_cloth_counts_from_either_axis(day: ADay, phone_door: Door) -> None:
    with_a_white_cloth(day)
    day.act(ART_DIRECTOR, "dressing", "cloth", x_m="-0.6 m", y_m="0", width_m="0.9 m", depth_m="1.5 m")
    assert day.levels(phone_door)["fill"]["lux"]["low"] == pytest.approx(59.18722, rel=1e-5)


def test_a_darker_cloth_takes_stops_of_fill_on_every_phone(day: ADay, phone_door: Door) -> None:
    """By hand: reflectance 0.8 to 0.2 is two stops."""
    with_a_white_cloth(day)
    before = day.levels(phone_door)["fill"]["stops"]["low"]
    day.act(ART_DIRECTOR, "dressing", "cloth", material="grey cloth", reflectance_ratio="0.2")
    assert before - day.levels(phone_door)["fill"]["stops"]["low"] == pytest.approx(2.0, abs=1e-9)


@pytest.mark.parametrize(("field", "value"), [("tall_m", "0.6 m"), ("glass", "yes")])
def test_what_stands_upright_or_is_glass_has_no_figure(
    day: ADay, phone_door: Door, field: str, value: str
) -> None:
    with_a_white_cloth(day)
    day.act(ART_DIRECTOR, "dressing", "cloth", **{field: value})
    assert day.levels(phone_door)["fill"]["kind"] == "unknown"


def test_a_table_that_nobody_read_since_a_lamp_moved_gives_no_figure(day: ADay, phone_door: Door) -> None:
    with_a_white_cloth(day)
    day.a_source("lantern", role="practical")
    day.act(GAFFER, "level", f"lantern~{SHOT}", point="table")
    fill = day.levels(phone_door)["fill"]
    assert fill["kind"] == "unknown"
    assert "the light on the table is not read" in fill["line"]


def test_another_cloth_makes_the_reading_of_the_fill_old_and_not_that_of_the_key(
    day: ADay, phone_door: Door
) -> None:
    with_dressing(day)
    day.read("k", "240 lx")
    day.read("f", "40 lx", role="fill")
    day.act(ART_DIRECTOR, "dressing", "chart", material="dark paper, varnished")
    levels = day.levels(phone_door)
    assert (levels["key"]["fresh"], levels["fill"]["fresh"]) == (True, False)
    assert levels["fill"]["changed"][0].startswith("Nautical chart, material: now dark paper, varnished. Art")
