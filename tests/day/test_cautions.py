"""Wherever an answer concerns safety the caution stands beside it, plain, and says who decides."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest

from a_day import SHOT, ADay, Door, a_ready_day, with_dressing
from demonstration_day import SHOTS, a_demonstration_day, without_figures
from people import GAFFER, KEY_GRIP, PROPS_BUYER
from tailslate.day import cautions, kinds, meanings, templates
from things_of_a_shot import SAFE

WHO_DECIDES = re.compile(r"(decide|decides)\.$")


@pytest.mark.parametrize("code", sorted(cautions.SENTENCES))
def test_every_caution_is_short_ends_with_who_decides_and_calls_nothing_safe(code: str) -> None:
    sentence = cautions.SENTENCES[code]
    assert WHO_DECIDES.search(sentence)
    assert len(sentence) <= 220
    assert not re.search(r"\bsafe\b", sentence)


def test_every_hazard_that_a_task_can_have_has_its_caution() -> None:
    hazard = kinds.field_of("task", "hazard")
    assert hazard is not None
    assert [one for one in hazard.choices if cautions.of_hazard(one) is None] == ["none"]


@pytest.mark.parametrize("hazard", cautions.OF_HAZARD)
def test_a_task_with_a_hazard_carries_its_caution_on_the_row(phone_door: Door, hazard: str) -> None:
    day = a_ready_day()
    day.a_task("risky", title="Risky", hazard=hazard)
    assert day.row(phone_door, "Risky")["caution"]["code"] == hazard
    assert day.row(phone_door, "Flag off the near shoulder")["caution"] is None


def things(day: ADay, door: Door, group: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = day.ask(door)["sheet"]["rows"][group]
    return found


@pytest.mark.parametrize(
    ("overhead", "code"), [("yes", "overhead"), ("unknown", "overhead"), (None, "overhead"), ("no", "load")]
)
def test_a_rig_always_carries_one_and_only_a_no_takes_it_from_over_people(
    phone_door: Door, overhead: str | None, code: str
) -> None:
    day = a_ready_day()
    day.act(KEY_GRIP, "rig", "boom", title="Boom", source="key", overhead=overhead)
    [rig] = things(day, phone_door, "rigs")
    assert rig["caution"]["code"] == code
    assert [row["caution"]["code"] for row in rig["rows"]] == ([] if code == "load" else ["overhead"])


def test_dressing_is_not_proved_flame_retardant_until_someone_says_yes(phone_door: Door) -> None:
    day = with_dressing(a_ready_day())
    for answer, code in (("yes", None), ("unknown", "flame"), ("no", "flame"), (None, "flame")):
        day.act(PROPS_BUYER, "dressing", "chart", flame_retardant=answer)
        [chart] = things(day, phone_door, "dressing")
        assert (chart["caution"] or {"code": None})["code"] == code


def test_a_circuit_carries_one_whatever_is_known_of_it(phone_door: Door) -> None:
    day = a_ready_day()
    day.act(GAFFER, "circuit", "ring", title="Saloon ring", residual_current_protected="yes")
    day.act(GAFFER, "source", "key", circuit="ring")
    assert things(day, phone_door, "circuits")[0]["caution"]["code"] == "electric"
    day.act(GAFFER, "circuit", "ring", residual_current_protected="unknown")
    assert things(day, phone_door, "circuits")[0]["caution"]["code"] == "wet"


def test_food_is_cleared_like_drink(phone_door: Door) -> None:
    day = a_ready_day()
    day.act(
        PROPS_BUYER, "food", "biscuits", title="Biscuits", scene="12", made_from="wheat", allergens="gluten"
    )
    assert things(day, phone_door, "glasses")[0]["caution"]["code"] == "not_cleared"
    day.tick(PROPS_BUYER, "food", "biscuits", "round_done")
    day.tick_derived()
    assert things(day, phone_door, "glasses")[0]["caution"]["code"] == "food"
    assert day.readiness(phone_door, shot=SHOT)["state"] == "ready"


# What the derived work of these templates can hurt nobody with: all other work carries a caution.
HARMLESS_WORK = {
    "practicals_set", "dimmers_set", "colour_matched", "last_reading", "lens_on", "reset_list", "tape_at_hand",
    "boom_line", "papers_in", "return_kit",
}  # fmt: skip
# Where a sheet keeps things that can hurt someone, each with a caution of its own or of the figure.
DANGEROUS = (
    "rigging", "power/circuits", "power/batteries", "drinks", "rows/rigs", "rows/circuits", "rows/glasses", "frame/path",
)  # fmt: skip
# Figures that can hurt nobody here: rolls to buy, tape for marks, how often a lamp is needed.
HARMLESS_PLACES = ("tape/rolls", "kit")


def walked(part: Any, path: str = "", above: Any = None) -> Iterator[tuple[str, dict[str, Any], Any]]:
    """Every dict inside an answer: where it stands, itself, its caution or that of what it is part of."""
    if isinstance(part, dict):
        caution = part.get("caution") or above
        yield path, part, caution
        for name, one in part.items():
            if name != "caution":
                yield from walked(one, f"{path}/{name}".strip("/"), caution)
    elif isinstance(part, list):
        for one in part:
            yield from walked(one, path, above)


def needs_caution(path: str, one: dict[str, Any], day: ADay) -> bool:
    """Tell whether someone could come to harm by what is said here."""
    if path in DANGEROUS:
        return True
    if path == "over":
        return bool(one["label"] != "Needed at once")  # of two lamps on the truck three are asked for
    if path == "kit":
        kind, field = one["record"], "flame_retardant"
        return day.shown_text(kind, "type") != "lamp" and day.shown_text(kind, field) != "yes"
    if path in ("rows/dressing", "light/bounces"):
        piece = one["record"] if path == "rows/dressing" else one["dressing"]
        return day.shown_text(piece, "flame_retardant") != "yes"
    if path == "holds":
        return one["on"].split("/")[0] in ("rig", "circuit", "source", "layer")
    if path == "reasons":
        return one["code"] in ("overhead", "no_rig")
    if path == "two_answers":
        return one["record"].split("/")[0] in ("rig", "circuit", "source", "layer")
    if "word" in one and "label" in one and not path.startswith(HARMLESS_PLACES):  # a figure
        meaning = meanings.meaning(one["label"])
        return meaning is not None and meaning["caution"] is not None
    if "value_if_ticked" in one and one["derived"] and one["state"] != "off":  # a row that is still asked
        is_drink = one["record"].startswith(("drink/", "food/"))
        work = one["derived"]["template"]
        return is_drink or (work not in HARMLESS_WORK and work in templates.BY_NAME)
    return False


@pytest.mark.parametrize("is_known", [True, False], ids=["the demonstration day", "a day of unknowns"])
def test_whatever_concerns_safety_carries_its_caution(phone_door: Door, is_known: bool) -> None:
    """Walks the whole answer, so that a part that is added later cannot be forgotten."""
    day = a_demonstration_day() if is_known else without_figures(a_demonstration_day())
    day.act(GAFFER, "source", "lantern", circuit=None, batteries=2)  # off the wall, on batteries
    bare, seen, places, passed = [], set(), set(), []
    for shot in SHOTS:
        answer = day.ask(phone_door, shot=shot)
        for path, one, caution in [*walked(answer["sheet"]), *walked(answer["readiness"])]:
            if needs_caution(path, one, day):
                places.add(path)
                title = one.get("title") or one.get("label") or one.get("sentence") or path
                if caution is None:
                    bare.append((shot, path, title))
                else:
                    assert WHO_DECIDES.search(caution["sentence"])
                    seen.add(caution["code"])
                if one.get("state") == SAFE:
                    passed.append((shot, path, title))
    assert bare == []
    assert is_known or passed == []
    assert seen >= {
        "load",
        "overhead",
        "electric",
        "wind",
        "batch",
        "not_cleared",
        "hot_cable",
        "heat",
        "flame",
    }
    # a camera is placed; nobody said that the water is kept away
    assert ("path" if is_known else "wet") in seen
    assert places >= {*DANGEROUS, "kit", "rows/dressing", "rows/tasks", "tape/jobs/figures"} - (
        set() if is_known else {"frame/path"}
    )


def test_what_speaks_against_a_shot_carries_the_caution_of_its_figure_and_so_does_the_reason(
    phone_door: Door,
) -> None:
    day = a_ready_day()
    day.act(
        GAFFER,
        "circuit",
        "ring",
        title="Ring",
        breaker_a="1 A",
        voltage_v="120 V",
        mapped="yes",
        other_w="0 W",
    )
    day.act(GAFFER, "source", "key", circuit="ring", input_w="1000 W", power_factor_ratio="1")
    answer = day.ask(phone_door)
    assert [one["caution"]["code"] for one in answer["sheet"]["over"] if one["label"] == "Load"] == [
        "electric"
    ]
    reasons = [one for one in answer["readiness"]["reasons"] if one["code"] == "over"]
    assert {one["caution"]["code"] for one in reasons} == {"electric"}


def test_two_answers_about_what_hangs_over_people_carry_its_caution(phone_door: Door) -> None:
    day = a_ready_day()
    day.act(KEY_GRIP, "rig", "boom", title="Boom", source="key", load_kg="4 kg")
    day.act(GAFFER, "rig", "boom", alone=True, load_kg="9 kg")
    [two] = day.ask(phone_door)["sheet"]["two_answers"]
    assert two["caution"]["code"] == "overhead"


def test_what_is_on_the_truck_is_not_proved_flame_retardant_until_someone_says_yes(phone_door: Door) -> None:
    day = a_ready_day()
    day.act(KEY_GRIP, "kit", "cloth", title="Cloth")
    day.act(GAFFER, "kit", "lamp", title="Lamp", type="lamp")

    def told() -> dict[str, tuple[str, Any]]:
        rows = [row for one in day.ask(phone_door, "truck_list", by="owner")["groups"] for row in one["rows"]]
        return {row["title"]: (row["flame_retardant"], (row["caution"] or {}).get("code")) for row in rows}

    assert told() == {"Cloth": ("flame-retardant: not known", "flame"), "Lamp": ("", None)}
    day.act(KEY_GRIP, "kit", "cloth", flame_retardant="no")
    assert told()["Cloth"] == ("not flame-retardant", "flame")
    day.act(KEY_GRIP, "kit", "cloth", flame_retardant="yes")
    assert told()["Cloth"] == ("flame-retardant", None)


def test_each_way_out_and_each_solution_that_moves_a_lamp_or_its_sheets_carries_one(phone_door: Door) -> None:
    """The demonstration day, whose shots are short of light."""
    day = a_demonstration_day()
    seen = set()
    for shot in SHOTS:
        for setting in day.ask(phone_door, shot=shot)["sheet"]["light"]["settings"]:
            level = setting["level"]
            for one in day.ask(phone_door, "ways", shot=shot, level=level)["ways"]["ways"]:
                if one["way"] not in ("open_up", "raise_index", "open_up_and_raise_index"):
                    assert one["caution"], (shot, one["title"])
                    seen.add(one["way"])
            solved = day.ask(phone_door, "solve", shot=shot, level=level, may=["distance", "layers", "stop"])
            for one in solved["solved"]["solutions"]:
                moved = [act for act in one["acts"] if act["kind"] == "layer" or "distance_m" in act["set"]]
                assert bool(one["caution"]) == bool(moved), (shot, one["title"])
    assert seen >= {"move_in", "drop_layer", "swap_layer", "other_lamp"}


@pytest.mark.parametrize(("now", "then"), [("12c", "12b"), ("12e", "12a"), ("13a", "12e")])
def test_whoever_turns_a_set_around_is_cautioned_by_what_is_moved(
    now: str, then: str, phone_door: Door
) -> None:
    day = a_demonstration_day()
    found = day.ask(phone_door, "turn_around", shot=now, shot_then=then)["turn_around"]
    bare = [
        line["sentence"]
        for one in found["departments"]
        for line in one["lines"]
        if line["act"] in ("move", "add") and line["record"].split("/")[0] in ("level", "rig", "drink", "food", "setup")
        and not line["caution"]
    ]  # fmt: skip
    assert bare == []
