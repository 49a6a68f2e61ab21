"""A copied shot, its reverse and a copied day: structure comes along, nothing that was done, read or said does."""

from __future__ import annotations

import itertools
import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from a_day import SHOT, ADay, Door, a_ready_day, with_dressing
from people import CAMERA_ASSISTANT, GAFFER, KEY_GRIP, PROPS_BUYER, Pen
from tailslate import next_day
from tailslate.day import copying, gathered, kinds, what_if
from tailslate.day.gathered import Gathered
from tailslate.pack.whole_day import records_of

PLACES = ("x_m", "y_m", "end_x_m", "end_y_m")
TURNS = ("pan_deg", "end_pan_deg")
metres = st.decimals(-20, 20, places=3).map(str)
degrees = st.integers(-180, 180).map(str)


def a_pair() -> ADay:
    """Two people across a table, a camera over one's shoulder, a key with a sheet and a stand, a practical."""
    day = with_dressing(a_ready_day())
    day.act(CAMERA_ASSISTANT, "point", "face", x_m="0.9", y_m="0.1", order=1)
    day.act(CAMERA_ASSISTANT, "point", "other", title="the Purser's face", scene="12", type="face", order=2)
    day.act(CAMERA_ASSISTANT, "point", "other", x_m="-0.9", y_m="0.2")
    day.act(
        CAMERA_ASSISTANT, "setup", "close", title="Close", scene="12", lens_mm="50", x_m="-1.4", y_m="-0.9"
    )
    day.act(CAMERA_ASSISTANT, "setup", "close", pan_deg="65", end_x_m="-1.2", end_y_m="-1", end_pan_deg="60")
    day.act(CAMERA_ASSISTANT, "shot", SHOT, setup="close", order=30)
    day.act(GAFFER, "source", "key", scene="12", x_m="2", y_m="-1.25")
    day.a_layer("grid", x_m="1.6", y_m="-0.8")
    day.act(KEY_GRIP, "rig", "stand", title="Stand 1", source="key", x_m="2", y_m="-1.25", bags=2)
    day.a_source("lantern", role="practical", scene="12", x_m="0", y_m="0.3")
    day.act(CAMERA_ASSISTANT, "mark", "m", title="the Gambler", shot=SHOT, colour="red", x_m="0.9", y_m="0")
    day.tick(CAMERA_ASSISTANT, "mark", "m", "laid")
    return day


def made_of(records: dict[str, Any], shot: str, **how: Any) -> tuple[str, dict[str, Any]]:
    """Return the new shot's id and the day with its acts done."""
    found = copying.another_shot(f"shot/{shot}", Gathered(records), **how)
    return found["shot"], what_if.with_acts(records, found["acts"])


def told(records: dict[str, Any], shot: str) -> dict[str, Any]:
    """Return what a shot is made of by title, without ids, numbers and orders; turns within a circle."""
    found = Gathered(records)
    keys = [f"shot/{shot}", found.target(f"shot/{shot}", "setup")]
    for kind in ("level", "serves", "mark", "task"):
        keys += found.pointing(kind, "shot", f"shot/{shot}")
    for level in found.pointing("level", "shot", f"shot/{shot}"):
        source = found.target(level, "source")
        keys += [source, *found.pointing("layer", "source", source), *found.pointing("rig", "source", source)]
    rows = []
    for key in filter(None, keys):
        row = [gathered.kind_of(key)]
        for field, value in sorted(copying.structure(key, found).items()):
            known = kinds.field_of(gathered.kind_of(key), field)
            if field in ("number", "order", "phase", "source", "shot", "setup") or known is None:
                continue
            number = gathered.number_of(value)
            if number is not None and field in TURNS:
                number %= 360
            row.append(f"{field}={value if number is None else round(number, 6)}")
        rows.append(" ".join(row))
    return {"rows": sorted(rows)}


@settings(max_examples=30)
@given(
    places=st.lists(metres, min_size=14, max_size=14),
    turns=st.lists(degrees, min_size=2, max_size=2),
    placed_faces=st.integers(0, 2),
)
def test_y3_a_shot_mirrored_twice_is_the_first_shot(
    places: list[str], turns: list[str], placed_faces: int
) -> None:
    day = a_pair()
    drawn = iter(places)
    for place, face in enumerate(("face", "other")):
        if place >= placed_faces:
            day.act(CAMERA_ASSISTANT, "point", face, x_m=None)
        else:
            day.act(CAMERA_ASSISTANT, "point", face, x_m=next(drawn), y_m=next(drawn))
    day.act(
        CAMERA_ASSISTANT,
        "setup",
        "close",
        **{f: next(drawn) for f in PLACES},
        **dict(zip(TURNS, turns, strict=True)),
    )
    day.act(GAFFER, "source", "key", x_m=next(drawn), y_m=next(drawn))
    day.act(CAMERA_ASSISTANT, "mark", "m", x_m=next(drawn), y_m=next(drawn))
    once, after = made_of(day.records, SHOT, stem="once", is_reverse=True)
    twice, after = made_of(after, once, stem="twice", is_reverse=True)
    assert told(after, twice) == told(day.records, SHOT)


def test_y2_a_reverse_keeps_the_camera_on_its_side_of_the_eyeline_and_lights_the_other_face(
    phone_door: Door,
) -> None:
    day = a_pair()
    asked = {"do": "another_shot", "shot": SHOT, "is_reverse": True, "stem": "r", "records": day.records}
    answer = json.loads(phone_door(json.dumps(asked)))
    assert answer["ok"], answer
    by_kind: dict[str, list[dict[str, Any]]] = {}
    for act in answer["acts"]:
        by_kind.setdefault(act["kind"], []).append(act)
    # Faces at x 0.9 and -0.9: the mirror stands at 0. Only left and right change places.
    [setup] = by_kind["setup"]
    assert [setup["set"][field][0] for field in PLACES] == ["1.4", "-0.9", "1.2", "-1"]
    assert [setup["set"][field][0] for field in TURNS] == ["-65", "-60"]
    key = next(one for one in by_kind["level"] if one["set"]["role"] == "key")
    assert key["set"]["point"] == "other"
    practical = next(one for one in by_kind["level"] if one["set"]["role"] == "practical")
    assert practical["set"]["source"] == "lantern"
    assert [one["set"]["x_m"][0] for one in by_kind["source"]] == ["-2"]
    assert [one["set"]["x_m"][0] for one in by_kind["layer"]] == ["-1.6"]
    assert [one["set"]["source"] for one in by_kind["rig"]] == [key["set"]["source"]]


def test_y1_a_copied_shot_is_unticked_unread_and_set_again(phone_door: Door) -> None:
    day = a_pair()
    day.act(CAMERA_ASSISTANT, "shot", SHOT, phase="done", planned_roll_time="09:00")
    asked = {"do": "another_shot", "shot": SHOT, "stem": "c", "records": day.records}
    answer = json.loads(phone_door(json.dumps(asked)))
    assert answer["ok"], answer
    new = answer["acts"][0]["set"]
    assert (new["number"], new["phase"], new["setup"]) == ("12D", "setting", "close")
    assert "planned_roll_time" not in new
    assert {act["kind"] for act in answer["acts"]} == {"shot", "level", "serves", "mark", "task"}
    for act in answer["acts"]:
        for field in act["set"]:
            known = kinds.field_of(act["kind"], field)
            assert known
            assert known.type != "tick"
    tried = what_if.with_acts(day.records, answer["acts"])
    assert Gathered(tried).pointing("reading", "shot", "shot/" + answer["shot"]) == []


@pytest.mark.parametrize(
    ("taken", "following"),
    [((), "12A"), (("12A", "12B"), "12C"), (("12H",), "12J"), (("12N", "12a"), "12P"), (("13A",), "12A")],
)
def test_the_next_number_leaves_out_i_and_o(taken: tuple[str, ...], following: str) -> None:
    """Letters I and O are not used: common practice, no source."""
    day = ADay()
    day.act(KEY_GRIP, "scene", "12", number="12")
    for place, number in enumerate(taken):
        day.act(KEY_GRIP, "shot", f"s-{place}", number=number, scene="12")
    assert copying.next_number("scene/12", Gathered(day.records)) == following


def test_one_more_like_it_counts_on_and_stands_nowhere_yet(phone_door: Door) -> None:
    day = a_pair()
    asked = {"do": "usual", "kind": "rig", "about": {}, "like": "rig/stand", "records": day.records}
    answer = json.loads(phone_door(json.dumps(asked)))
    assert answer["set"] == {"title": "Stand 2", "source": "key", "bags": 2}
    asked = {"do": "usual", "kind": "shot", "about": {"scene": "12"}, "records": day.records}
    found = json.loads(phone_door(json.dumps(asked)))["set"]
    assert (found["number"], found["order"], found["exposure_index"]) == ("12D", 40, 800)


STATE_KINDS = {
    "reading",
    "request",
    "hold",
    "note",
    "used",
    "word",
    "person",
    "verdict",
    "void",
    "allergy",
    "incident",
    "photograph",
}


def seal() -> Any:
    salts = (f"salt{place:04d}" for place in itertools.count())
    from tailslate.day import edit

    return lambda **parts: edit.make(salt=next(salts), by="", how="server", **parts)


fields_of = {
    name: [one for one in kind.fields if one.type in ("text", "count", "tick", "time", "choice", "quantity")]
    for name, kind in kinds.KINDS.items()
    if kind.set == "floor" and name != "verdict"
}


@st.composite
def a_whole_day(draw: st.DrawFn) -> dict[str, Any]:
    """Any records of any kinds, each with some of its fields said."""
    pen = Pen(by=GAFFER.person)
    made = []
    for place in range(draw(st.integers(1, 12))):
        kind = draw(st.sampled_from(sorted(fields_of)))
        changes: dict[str, Any] = {}
        for one in (
            draw(st.lists(st.sampled_from(fields_of[kind]), min_size=1, max_size=6, unique_by=id))
            if fields_of[kind]
            else []
        ):
            changes[one.name] = {
                "tick": ["done", []], "count": int(one.low or 0), "text": "words", "time": "07:12",
                "quantity": [str(one.low), str(one.low)],
            }.get(one.type) or (one.choices[-1] if one.choices else None)  # fmt: skip
        if changes:
            made.append(pen.write(kind, "day" if kind == "day" else f"r-{place}", changes))
    return records_of(made)


@given(a_whole_day())
def test_y1_a_copied_day_leaves_no_state_behind(records: dict[str, Any]) -> None:
    made = next_day.edits_of(records, day_id="newday", incarnation="copy000001", now_ms=1, seal=seal())
    for one in made:
        assert one.day == "newday"
        assert one.kind not in STATE_KINDS
        for field, _value, _seen in one.changes:
            known = kinds.field_of(one.kind, field)
            assert known
            assert known.type not in ("tick", "presence", "verdict")
            assert not known.name.endswith("_time"), "times are of the day they were said on"
            assert field not in ("phase", "takes", "match_note", "status", "gust_m_s")
    copied = next_day.edits_of(
        records_of(made), day_id="third", incarnation="copy000002", now_ms=1, seal=seal()
    )
    assert [one.changes for one in copied] == [one.changes for one in made]


def test_a_copied_day_keeps_what_the_set_is_made_of() -> None:
    day = a_pair()
    day.act(PROPS_BUYER, "drink", "rum", title="Rum", scene="12", glasses=4, mixed_time="07:12")
    day.act(PROPS_BUYER, "day", "today", meal_min=45, medic="at the gangway")
    made = next_day.edits_of(day.records, day_id="newday", incarnation="copy000001", now_ms=1, seal=seal())
    told_of = {one.record_key: {field: value for field, value, _seen in one.changes} for one in made}
    assert told_of["drink/rum"] == {"title": "Rum", "scene": "12", "glasses": 4}
    assert told_of["day/newday"] == {"meal_min": 45}, "its title is its own"
    assert "mark/m" in told_of
    assert "level/key~12c" in told_of
    assert "laid" not in told_of["mark/m"]
