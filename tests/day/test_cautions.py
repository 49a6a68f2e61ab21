"""Wherever an answer concerns safety the caution stands beside it, plain, and says who decides."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest

from a_day import SHOT, ADay, Door, a_ready_day, with_dressing
from demonstration_day import SHOTS, a_demonstration_day, without_figures
from people import GAFFER, KEY_GRIP, PROPS_BUYER
from tailslate.day import cautions, kinds
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


def cautioned(sheet: dict[str, Any]) -> Iterator[tuple[str, Any, bool]]:
    """Every answer of a sheet that concerns safety: what it is, its caution, whether the sum lets it pass."""
    for thing in [*sheet["rigging"], *sheet["power"]["circuits"], *sheet["power"]["batteries"]]:
        yield thing["title"], thing["caution"], False
        for figure in thing["figures"]:
            yield f"{thing['title']}, {figure['label']}", figure["caution"], figure["state"] == SAFE
    for drink in sheet["drinks"]:
        yield drink["title"], drink["caution"], False
        for figure in drink["figures"]:
            own = figure["label"] in ("Allergy round", "Sugar", "Caffeine", "Sulphites", "Out of the cold")
            is_safe = figure["state"] == SAFE
            yield (
                f"{drink['title']}, {figure['label']}",
                figure["caution"] if own else drink["caution"],
                is_safe,
            )
    for job in sheet["tape"]["jobs"]:
        for figure in job["figures"]:
            if figure["label"] in ("Tape", "Walkway"):
                yield job["title"], figure["caution"] or job["caution"], figure["state"] == SAFE
    if sheet["frame"]["path"]:
        yield "path", sheet["frame"]["path"]["caution"], False
    for group in ("glasses", "rigs", "circuits"):
        for thing in sheet["rows"][group]:
            yield thing["title"], thing["caution"], False


@pytest.mark.parametrize("is_known", [True, False], ids=["the demonstration day", "a day of unknowns"])
def test_every_figure_that_concerns_safety_carries_its_caution(phone_door: Door, is_known: bool) -> None:
    day = a_demonstration_day() if is_known else without_figures(a_demonstration_day())
    seen = set()
    for shot in SHOTS:
        for what, caution, is_safe in cautioned(day.ask(phone_door, shot=shot)["sheet"]):
            assert caution is not None, (shot, what)
            assert WHO_DECIDES.search(caution["sentence"]), (shot, what)
            assert is_known or not is_safe, (shot, what)
            seen.add(caution["code"])
    assert seen >= {"load", "overhead", "electric", "wind", "batch", "not_cleared", "hot_cable"}
    assert (
        "path" if is_known else "wet"
    ) in seen  # a camera is placed; nobody said that the water is kept away
