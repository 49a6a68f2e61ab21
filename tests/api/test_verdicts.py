"""Well-formed edits are always kept; whether they count, the server says in an edit of its own."""

from __future__ import annotations

import pytest

from a_server import Here
from people import (
    ART_DIRECTOR,
    ASSISTANT_DIRECTOR,
    CAMERA_ASSISTANT,
    DAY,
    GAFFER,
    GRIP,
    KEY_GRIP,
    PRODUCER,
    PROPS_BUYER,
    CrewMember,
    Pen,
    a_light,
)
from phone_double import PhoneDouble
from tailslate.day import merge

SCRIPT_SUPERVISOR = CrewMember("Odile", "Script supervisor", ("script",))
CLEARED = {"cleared": ["done", []]}


def words(phone: PhoneDouble, edit_id: str) -> list[tuple[str, str]]:
    """Return what stands on an edit, as this phone has heard: says and code."""
    phone.exchange()
    return [(says, code) for says, code, _sentence in phone.verdicts(edit_id)]


@pytest.mark.parametrize(
    ("kind", "changes", "code", "named"),
    [
        ("rig", {"load_kg": ["4000", "4 t"]}, "out_of_range", ("load", "1000 kg", "4 t")),
        ("rig", {"load_kg": "heavy"}, "wrong_type", ("load", '"heavy"')),
        ("rig", {"legs": 2}, "out_of_range", ("legs", "from 3 to 12", "2")),
        ("rig", {"lode_kg": ["4", "4 kg"]}, "unknown_field", ("lode_kg",)),
        ("winch", {"title": "x"}, "unknown_kind", ("winch",)),
        ("level", a_light(throw_m="9000"), "out_of_range", ("500 m", "9000 m")),
        ("task", {"done": "yes"}, "wrong_type", ("done", '"yes"')),
        ("shot", {"phase": "wrapped"}, "not_a_choice", ("phase", "rolling", '"wrapped"')),
    ],
)
def test_i2_what_no_form_would_take_is_kept_and_out_with_field_value_and_limit(
    on_both: Here, kind: str, changes: dict[str, object], code: str, named: tuple[str, ...]
) -> None:
    grip, gaffer = on_both.phone_of(KEY_GRIP), on_both.phone_of(GAFFER)
    edit = grip.act(kind, "x-1", changes)
    assert words(grip, edit.id) == [("out", code)]
    sentence = grip.verdicts(edit.id)[0][2]
    assert all(name in sentence for name in named), sentence
    gaffer.exchange()
    assert gaffer.texts["floor"][edit.id] == edit.text
    assert all(cell[merge.LIVE] == [] for cell in gaffer.cells(kind, "x-1").values())


def test_a_good_edit_gets_no_verdict_at_all(on_both: Here) -> None:
    grip = on_both.phone_of(KEY_GRIP)
    edit = grip.act("rig", "r-1", {"load_kg": ["12", "12 kg"]})
    assert words(grip, edit.id) == []


def test_a_department_head_clears_a_hold_and_a_grip_does_not(on_both: Here) -> None:
    grip, gaffer = on_both.phone_of(GRIP), on_both.phone_of(GAFFER)
    hold = grip.act("hold", "h-1", {"why": "cable is hot", "type": "stop"})
    assert words(grip, hold.id) == []
    tried = grip.act("hold", "h-1", CLEARED)
    assert words(grip, tried.id) == [("out", "reserved")]
    assert "head of a department" in grip.verdicts(tried.id)[0][2]
    gaffer.exchange()
    done = gaffer.act("hold", "h-1", CLEARED)
    assert words(gaffer, done.id) == [("counts", "allowed")]
    grip.exchange()
    assert [entry[0] for entry in grip.cells("hold", "h-1")["hold/h-1/cleared"][merge.LIVE]] == [done.id]


def test_taking_a_clearance_back_needs_nobodys_leave(on_both: Here) -> None:
    grip = on_both.phone_of(GRIP)
    assert words(grip, grip.act("hold", "h-1", {"cleared": False}).id) == []


def test_an_assistant_director_clears_a_hold_too(on_both: Here) -> None:
    director = on_both.phone_of(ASSISTANT_DIRECTOR)
    assert words(director, director.act("hold", "h-1", CLEARED).id) == [("counts", "allowed")]


def test_takes_are_camera_s_while_no_script_supervisor_is_on_the_day(on_both: Here) -> None:
    camera = on_both.phone_of(CAMERA_ASSISTANT)
    assert words(camera, camera.act("shot", "12a", {"takes": 3}).id) == [("counts", "allowed")]
    script = on_both.phone_of(SCRIPT_SUPERVISOR)
    assert words(camera, camera.act("shot", "12a", {"takes": 4}).id) == [("out", "reserved")]
    assert words(script, script.act("shot", "12a", {"takes": 5}).id) == [("counts", "allowed")]


def test_only_production_changes_who_someone_is(on_both: Here) -> None:
    grip, producer = on_both.phone_of(GRIP), on_both.phone_of(PRODUCER)
    grip.exchange()
    own = grip.act("person", grip.person, {"head": "yes", "departments": ["production"]})
    assert words(grip, own.id) == [("out", "reserved")]
    producer.exchange()
    given = producer.act("person", grip.person, {"head": "yes"})
    assert words(producer, given.id) == [("counts", "allowed")]
    assert words(grip, grip.act("hold", "h-1", CLEARED).id) == [("counts", "allowed")]


def test_a_phone_loses_health_data_when_its_person_leaves_the_department(on_both: Here) -> None:
    props, producer = on_both.phone_of(PROPS_BUYER), on_both.phone_of(PRODUCER)
    producer.exchange()
    producer.act("person", props.person, {"departments": ["grip"]})
    producer.exchange()
    props.round()
    assert props.last.json["sets"]["health"] == {"not_allowed": True}


def test_i4_a_reserved_act_waits_until_its_author_is_known(on_both: Here) -> None:
    carrier, director = on_both.phone_of(GRIP), on_both.phone_of(ASSISTANT_DIRECTOR)
    stranger = Pen("p-stranger", incarnation="stranger01")
    waiting = stranger.write("hold", "h-1", CLEARED)
    carrier.keep([waiting])
    assert words(carrier, waiting.id) == []
    producer = on_both.phone_of(PRODUCER)
    producer.act("person", "p-stranger", {"name": "Kit", "departments": ["electric"], "head": "yes"})
    producer.exchange()
    assert words(carrier, waiting.id) == [("counts", "allowed")]
    assert words(director, waiting.id) == [("counts", "allowed")]


def test_no_phone_can_write_a_verdict(on_both: Here) -> None:
    grip = on_both.phone_of(GRIP)
    tried = grip.act("hold", "h-1", CLEARED)
    grip.exchange()
    forged = [
        grip.pen.write("verdict", tried.id, {"says": ["counts", "allowed", "yes"]}),
        grip.pen.write("verdict", tried.id, {"says": ["counts", "allowed", "yes"]}, by="", how="server"),
        grip.pen.write("person", grip.person, {"head": "yes"}, by="", how="server"),
    ]
    grip.keep(forged)
    grip.exchange()
    assert {grip.refused[one.id][0] for one in forged} == {"not_of_this_server"}
    assert not {one.id for one in forged} & set(on_both.edits())


def test_a_changed_letter_breaks_the_server_s_seal(on_both: Here) -> None:
    grip = on_both.phone_of(GRIP)
    tried = grip.act("hold", "h-1", CLEARED)
    grip.exchange()
    (verdict,) = (one for one in grip.edits() if one.kind == "verdict" and one.record == tried.id)
    altered = verdict.text.replace('"out"', '"counts"')
    (answer,) = on_both.parts.office.read({"floor": [altered]}, day_id=DAY)["floor"]
    assert (answer.edit, answer.code) == (None, "not_of_this_server")
    (answer,) = on_both.parts.office.read({"floor": [verdict.text]}, day_id=DAY)["floor"]
    assert answer.edit


def test_a_void_may_be_declared_by_the_phone_whose_text_was_refused(on_both: Here) -> None:
    grip = on_both.phone_of(GRIP)
    void = grip.act("void", "grip0000001.4", {"why": "the text was refused"})
    assert words(grip, void.id) == []
    assert void.id in grip.confirmed


def test_a_floor_record_in_the_health_set_is_out(on_both: Here) -> None:
    props = on_both.phone_of(ART_DIRECTOR)
    edit = props.pen.write("task", "t-1", {"title": "set the table"}, set_name="health")
    props.keep([edit])
    assert words(props, edit.id) == [("out", "wrong_set")]


def test_each_server_run_writes_under_a_name_of_its_own_without_gaps(on_both: Here) -> None:
    grip = on_both.phone_of(GRIP)
    for place in range(3):
        grip.act("rig", f"r-{place}", {"legs": 2})
        grip.exchange()
    on_both.close()
    on_both.open()
    on_both.reconnect(grip)
    grip.act("rig", "r-4", {"legs": 2})
    grip.exchange()
    own: dict[str, list[int]] = {}
    for one in grip.edits():
        if one.how == "server":
            own.setdefault(one.incarnation, []).append(one.counter)
    assert len(own) == 2
    assert all(sorted(counters) == list(range(1, len(counters) + 1)) for counters in own.values())
