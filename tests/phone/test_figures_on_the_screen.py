"""Figures as one person reads and types them: in either system, and from three readings and a stop alone."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from people import GAFFER, KEY_GRIP
from phone_crew import put, read
from phone_engine import invite
from phone_screen import Screen
from server_process import ServerProcess


@pytest.fixture
def gaffer(phone: Page, demonstration: ServerProcess) -> Screen:
    """The gaffer's phone on the demonstration day."""
    return Screen(phone, demonstration, GAFFER, demonstration.join_code("gaffer"))


TYPED = [
    # 6 ft 4 in is 76 * 0.0254 = 1.9304 m, 12 ft is 3.6576 m (NIST SP 811, exact).
    ("Metric", "6 ft 4 in", "1.9304", "1.93 m"),
    ("Metric", "12 ft", "3.6576", "3.658 m"),
    ("Metric", "193 cm", "1.93", "1.93 m"),
    ("Metric", "1,93 m", "1.93", "1.93 m"),
    ("Metric", "2.25", "2.25", "2.25 m"),
    ("Feet and inches", "6 ft 4 in", "1.9304", "6 ft 4 in"),
    ("Feet and inches", "12", "3.6576", "12 ft"),
    ("Feet and inches", "193 cm", "1.93", "6 ft 4 in"),
    ("Feet and inches", "1,93 m", "1.93", "6 ft 4 in"),
]


def spaced(words: str) -> re.Pattern[str]:
    """These words, whatever spaces are between them."""
    return re.compile(r"\s".join(re.escape(part) for part in words.split(" ")))


def set_units(screen: Screen, word: str) -> None:
    screen.go("phone")
    screen.page.get_by_label(word, exact=True).check(force=True)


def says(screen: Screen, where: str, *words: str) -> None:
    screen.go(where)
    for one in words:
        expect(screen.page.locator("main")).to_contain_text(spaced(one))


def test_the_units_of_a_person_are_told_at_once_everywhere(phone: Page, demonstration: ServerProcess) -> None:
    """1 kg is 1/0.45359237 lb, 1 ft is 0.3048 m (NIST SP 811, exact)."""
    grip = Screen(phone, demonstration, KEY_GRIP, demonstration.join_code("key grip"))
    says(grip, "shot/12c/rig", "18 m one way")
    says(grip, "shot/12c/light", "to the subject: now 2.7 m")
    set_units(grip, "Feet and inches")
    says(grip, "shot/12c/rig", "59 ft 1 in one way")
    says(grip, "shot/12c/light", "to the subject: now 8 ft 10 in")
    says(grip, "list", "moved in: 10 ft 6 in, now 8 ft 10 in")
    says(grip, "record/level/fill~12c?shot=12c&field=distance_m", "8 ft 10 in")
    says(grip, "history/level/fill~12c", "8 ft 10 in")
    set_units(grip, "Metric")
    says(grip, "shot/12c/rig", "18 m one way")
    says(grip, "list", "moved in: 3.2 m, now 2.7 m")


def test_a_length_is_typed_in_any_way_and_echoed_in_the_persons_units(gaffer: Screen) -> None:
    record = "level/key~12d"
    units_now = "Metric"
    for units, typed, stored, echoed in TYPED:
        if units != units_now:
            set_units(gaffer, units)
            units_now = units
        gaffer.go(f"record/{record}?shot=12d&field=distance_m")
        field = gaffer.page.get_by_role("textbox", name=re.compile("^last frame or lamp to the subject"))
        bare = "ft" if units == "Feet and inches" else "m"
        expect(field.locator("xpath=preceding::label[1]/small")).to_have_text(bare)
        field.fill(typed)
        told = gaffer.page.locator(".entry.open .told")
        expect(told).to_contain_text(spaced(echoed))
        field.press("Enter")
        expect(told).to_have_count(0)
        assert gaffer.value_of(record, "distance_m") == [stored, typed]
        if typed.replace(" ", "") != echoed.replace(" ", ""):
            expect(gaffer.page.locator("main")).to_contain_text(spaced(echoed))


def test_three_readings_and_a_stop_are_enough_for_levels_contrast_and_spread(
    phone: Page, server: ServerProcess
) -> None:
    """By hand: 240 lx is T4 at EI 800, 1/48 s, C 250 (ISO 2720:1974, incident light); (240 + 80) / 80 = 4 : 1;
    80 lx is 1.6 stops under the key, 60 lx two; from 320 lx, all at the face, to 60 lx are 2.4 stops."""
    screen = Screen(phone, server, GAFFER, invite(server, GAFFER))
    engine = screen.engine
    put(engine, "point", "face", title="the face", type="face")
    put(engine, "point", "wall", title="the wall", type="background")
    put(engine, "shot", "1", number="1", title="Wide", t_stop="T4")
    for record, lux, point, role in (
        ("k", "240 lx", "face", "key"),
        ("f", "80 lx", "face", "fill"),
        ("b", "60 lx", "wall", "background"),
    ):
        read(engine, record, lux, shot="1", point=point, role=role)
    says(
        screen,
        "shot/1/light",
        "T4, in lux not known",
        "exposure index is not set",
        "240 lx",
        "4 : 1",
        "2.4 stops",
    )
    says(screen, "shot/1/light", "1.6 stops under the key", "2.0 stops under the key")
    expect(screen.page.locator(".lv .v").first).to_have_text(
        spaced("240 lx")
    )  # the meter's word, while no target is known
    expect(screen.page.get_by_text("UNKNOWN").first).to_be_visible()
    exposure = {"exposure_index": 800, "frame_rate_per_s": "24", "shutter_angle_deg": "180"}
    put(engine, "shot", "1", **exposure, calibration_constant="250")
    says(screen, "shot/1/light", "on the target", "1.6 stops under", "2.0 stops under")
    says(screen, "shot/1/colour", "not known", "no colour was read")
    # 1e6 / T: 5600 K against 3200 K is 133.93 mired (definition).
    put(engine, "reading", "k", colour_k="3200 K")
    put(engine, "reading", "f", colour_k="5600 K")
    says(
        screen,
        "shot/1/colour",
        "Fill, the face",
        "134 mired cooler, visible, tint not known, against the key",
    )
    for tab in ("rig", "glasses", "frame"):
        screen.go(f"shot/1/{tab}")
        assert "READY" not in screen.page.locator("main").inner_text().replace("NOT READY", "")
