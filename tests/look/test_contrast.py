"""The colours of the screens can be told apart: contrast computed from the style sheet itself, in each light.

Source: W3C, Web Content Accessibility Guidelines 2.2, definitions of relative luminance and contrast ratio, success
criteria 1.4.3 (text 4.5 : 1, AA), 1.4.6 (text 7 : 1, AAA) and 1.4.11 (edges and marks 3 : 1). That night shows no blue
and lights nothing large is common practice, no source.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

TOKENS = Path(__file__).resolve().parents[2] / "pwa" / "src" / "styles" / "tokens.css"
MODES = ("dark", "night", "day")
COLOUR = re.compile(r"--([a-z0-9-]+):\s*(#[0-9a-f]{6});")


def tokens(mode: str) -> dict[str, str]:
    """Return the colours of a mode: its own, over those of the usual one."""
    sheet = TOKENS.read_text(encoding="utf-8")
    blocks = dict(re.findall(r'\[data-mode="(\w+)"\] \{(.*?)\n\}', sheet, re.DOTALL))
    return {**dict(COLOUR.findall(blocks["dark"])), **dict(COLOUR.findall(blocks[mode]))}


def linear(channel: int) -> float:
    """Return a channel of sRGB as light, as WCAG writes it."""
    share = channel / 255
    return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4


def channels(colour: str) -> tuple[int, int, int]:
    """Return red, green and blue of #rrggbb."""
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def luminance(colour: str) -> float:
    """Return the relative luminance."""
    red, green, blue = (linear(one) for one in channels(colour))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio, 1 to 21."""
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_the_formula_is_the_published_one() -> None:
    """White on black is 21 : 1; #767676 is the darkest grey that holds 4.5 : 1 on white (WCAG technique G18)."""
    assert contrast("#ffffff", "#000000") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)
    assert contrast("#777777", "#ffffff") < 4.5


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize(
    ("ink", "ground"),
    [("text", "ground"), ("text", "bed"), ("text-2", "ground"), ("text-2", "bed"), ("tape-ink", "tape"),
     ("accent", "ground"), ("accent", "bed"), ("text", "plan-floor"), ("text", "band")],
)  # fmt: skip
def test_every_text_holds_aa_and_what_is_read_in_the_dark_aaa(mode: str, ink: str, ground: str) -> None:
    found = tokens(mode)
    assert contrast(found[ink], found[ground]) >= (4.5 if ground == "band" else 7)


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize(
    ("part", "ground"),
    [("edge", "ground"), ("edge", "bed"), ("mark-fill", "ground"), ("mark-fill", "bed"), ("mark-ink", "mark-fill"),
     ("hatch-a", "hatch-b"), ("plan-line", "plan-floor"), ("plan-frame", "plan-floor"), ("plan-light", "plan-floor")],
)  # fmt: skip
def test_every_edge_and_mark_stands_out_from_its_ground(mode: str, part: str, ground: str) -> None:
    found = tokens(mode)
    assert contrast(found[part], found[ground]) >= 3


@pytest.mark.parametrize("mode", ["dark", "day"])
def test_the_word_on_a_filled_button_holds_aaa(mode: str) -> None:
    found = tokens(mode)
    assert contrast(found["accent-ink"], found["accent"]) >= 7


def test_at_night_the_main_button_is_an_outline_and_its_word_stands_on_the_ground() -> None:
    night = tokens("night")
    assert night["accent-ink"] == night["accent"]
    assert contrast(night["accent-ink"], night["ground"]) >= 7


def test_night_shows_no_blue_and_lights_nothing_large() -> None:
    night = tokens("night")
    assert night["ground"] == "#000000"
    for name, colour in night.items():
        red, green, blue = channels(colour)
        assert blue <= green <= red, name
        assert linear(blue) <= 0.3 * linear(red), name
    for large in ("ground", "bed", "tape", "plan-floor", "band"):
        assert luminance(night[large]) < 0.03, large
    dark = tokens("dark")
    assert luminance(night["text"]) < luminance(dark["text"]) / 2, "more than one stop down"
    assert luminance(night["mark-fill"]) < luminance(night["text"]), "a done mark is dimmer than text"


def test_no_state_is_told_by_colour_alone() -> None:
    """Success criterion 1.4.1: every mark has a word of its own."""
    marks = (TOKENS.parents[1] / "words.ts").read_text(encoding="utf-8")
    for state in ("open", "done", "unsent", "again", "two", "none", "hold", "off"):
        assert re.search(rf"^\s+{state}: \"\w", marks, re.MULTILINE), f"{state} has no word"
