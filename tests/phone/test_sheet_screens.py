"""A shot's whole sheet on the phone: tried with a tap and put back, drawn to scale, never safe where nothing is known."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, expect

from devices import devices
from people import GAFFER
from phone_screen import Screen
from server_process import demonstration_day

LEVEL = "level/key~12c"

# Where the middle of a drawn figure lies, in the drawing's own pixels.
MIDDLE = "one => { const box = one.getBBox(); return [box.x + box.width / 2, box.y + box.height / 2]; }"
POINTS = "one => one.getAttribute('points').split(' ').map((pair) => pair.split(',').map(Number))"


@pytest.fixture(scope="module")
def gaffer(browser: Browser, built_pwa: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Screen]:
    """The gaffer's phone on the demonstration day, one for all: what a test changes it puts back."""
    with demonstration_day(tmp_path_factory.mktemp("sheet")) as server, devices(browser) as open_one:
        yield Screen(open_one("phone"), server, GAFFER, server.join_code("gaffer"))


def tried(screen: Screen) -> Locator:
    return screen.page.get_by_role("button", name=re.compile("^Tried: "))


def middle(one: Locator) -> tuple[float, float]:
    x, y = one.evaluate(MIDDLE)
    return x, y


def test_the_plan_is_to_scale_and_draws_nothing_that_nobody_placed(gaffer: Screen) -> None:
    page = gaffer.page
    gaffer.go("shot/12c/frame")
    plan = page.locator("svg.plan")
    bar_px = float(plan.locator("path.cup").evaluate("one => one.getBBox().width"))
    # Frames of 4 by 4 ft: 1.22 m, whichever way they are turned.
    for frame in plan.locator("polyline.sheet").all():
        (x, y), (to_x, to_y) = frame.evaluate(POINTS)
        assert math.hypot(to_x - x, to_y - y) / bar_px == pytest.approx(1.22, abs=0.01)
    # The camera slides 1.1 m: from (1.35, -1.35) to (0.45, -1.98).
    (x, y), (to_x, to_y) = plan.locator("polyline.path").evaluate(POINTS)
    assert math.hypot(to_x - x, to_y - y) / bar_px == pytest.approx(math.hypot(0.9, 0.63), abs=0.01)
    assert to_x < x
    assert to_y > y
    # What a lens of 35 mm takes in of 24.9 mm, by the triangle: 2 atan(12.45 / 35) = 39.2 degrees.
    left, camera, right = plan.locator("polyline.fr").evaluate(POINTS)
    turns = [math.atan2(end[0] - camera[0], camera[1] - end[1]) for end in (left, right)]
    assert math.degrees(turns[1] - turns[0]) == pytest.approx(39.17, abs=0.05)
    assert math.degrees(sum(turns) / 2) == pytest.approx(-10, abs=0.1)

    expect(plan.locator("path.xbox")).to_have_count(4)
    expect(plan).to_contain_text("Stand 3 in frame")
    expect(plan).not_to_contain_text("Playing cards")
    page.get_by_role("button", name=re.compile("^Not placed yet")).click()
    page.get_by_role("link", name=re.compile("^Playing cards")).click()
    expect(page.locator("main")).to_have_attribute("data-screen", "record/dressing/cards")
    assert "field=x_m" in page.evaluate("location.hash")


def test_at_twice_the_text_the_plan_scrolls_and_the_page_does_not(gaffer: Screen) -> None:
    gaffer.page.evaluate("document.documentElement.style.fontSize = '200%'")
    gaffer.go("set")
    expect(gaffer.page.locator("svg.plan")).to_be_visible()
    assert gaffer.overflow_px() == 0
    picture = gaffer.page.locator(".pic")
    assert picture.evaluate("one => one.scrollWidth > one.clientWidth * 1.5")
    gaffer.page.evaluate("document.documentElement.style.fontSize = ''")


def test_colour_stands_in_mired_warm_at_the_right(gaffer: Screen) -> None:
    gaffer.go("shot/12c/colour")
    strip = gaffer.page.get_by_role("img", name=re.compile("^Colour in mired"))
    # A mired is a million over the kelvin (definition): 2700 K is 370, 2200 K is 455, 3200 K is 312.5.
    for text in ("Sconce 2 370", "Storm lantern, LED 455", "Balanced for 313"):
        expect(strip).to_contain_text(text)
    at = {tick.text_content(): middle(tick)[0] for tick in strip.locator("text.ax").all()}
    assert at["500"] - at["400"] == pytest.approx(at["300"] - at["200"], abs=0.5)
    assert middle(strip.get_by_text("warm", exact=True))[0] > middle(strip.get_by_text("cool", exact=True))[0]
    expect(strip).to_contain_text("Sconce 2: tint not known")
    expect(
        gaffer.page.get_by_role("link", name=re.compile("the tint of Sconce 2 is not known"))
    ).to_be_visible()


def test_what_is_not_known_leads_to_its_field_and_cautions_stand_open(gaffer: Screen) -> None:
    page = gaffer.page
    gaffer.go("shot/12c/rig")
    moment = page.get_by_role("link", name=re.compile("^Holding moment")).first
    expect(moment).to_contain_text("not known")
    # Arithmetic is no leave: nothing that is within is ticked or marked done.
    within = page.locator(".row").filter(has_text="within, by the sum")
    assert within.count() > 3
    expect(within.locator("svg")).to_have_count(0)
    load = page.locator(".row").filter(has_text=re.compile("^Load"))
    for row in (
        load.filter(has_text="A may flow"),
        page.locator(".row").filter(has_text=re.compile("^Bags")).first,
    ):
        expect(row.locator(".caution")).to_contain_text("decide")
    moment.click()
    expect(page.locator("main")).to_have_attribute("data-screen", "record/rig/stand-1")
    assert "field=holding_rating_nm" in page.evaluate("location.hash")

    gaffer.go("shot/13a/glasses")
    expect(page.get_by_text("NOT CLEARED").first).to_be_visible()
    expect(page.get_by_text("Add an answer")).to_have_count(0)  # whom a drink is not for is told to few
    # What a shot waits for carries the caution of what it is about; one that stands above is not said again.
    page.get_by_role("button", name=re.compile("^What it waits for")).click()
    for reason, caution in (
        ("wind on the deck boom", "Over people"),
        ("Frame on lines, ratchets tensioned", "A competent grip decides."),
        ("Connectors off the planks", "a licensed electrician decide."),
        ("Grog on deck, the Deckhand: allergy round done", "no answer is not a yes"),
    ):
        row = page.locator("a.row").filter(has_text=reason).first
        expect(row.locator(".caution")).to_contain_text(caution)
    hold = page.locator("a.line").filter(has_text="wind on the deck boom").first
    expect(hold.locator(".caution")).to_contain_text("Over people")
    gaffer.go("shot/12e/light")
    expect(page.locator(".row.need").first.locator(".caution")).to_contain_text("Over people")
    gaffer.go("kit")
    cloth = page.locator(".row").filter(has_text="Tea cloths for resets")
    expect(cloth.locator(".caution")).to_contain_text("Not proved flame-retardant")
    gaffer.go("shot/12c/what_if")
    page.locator("#what-if-on").select_option("rig/stand-1")
    page.locator("#what-if-value").fill("12 kg")
    page.locator("#what-if-value").press("Enter")
    would = page.locator(".row").filter(has_text="Stand 1, saloon key, Load on the stand")
    expect(would).to_contain_text("within, by the sum")
    of_stand = page.locator("div.row").filter(has_text="Stand 1, saloon key, ")
    expect(of_stand.locator(".caution").first).to_contain_text("A competent grip decides.")
    gaffer.go("shot/12c/marks")
    walkway = page.locator(".row").filter(has_text="Walkway")
    expect(walkway).to_contain_text("ramp or mat over it")
    expect(walkway.locator(".caution")).to_contain_text("The assistant director decides.")


def test_a_way_out_is_applied_with_one_tap_and_put_back_with_another(gaffer: Screen) -> None:
    gaffer.go("shot/12c/light")
    gaffer.page.get_by_role("button", name="Ways out: Saloon key").click()
    way = gaffer.page.get_by_role("button", name=re.compile("^Raise the index"))
    expect(way).to_contain_text("noise")
    assert gaffer.value_of("shot/12c", "exposure_index") == 800
    way.click()
    # 59 lx read against 118 lx at 0.6 of its light: 0.26 stops short at full, and a third of a stop is EI 1000 (ISO 5800).
    expect(tried(gaffer)).to_contain_text("Raise the index to EI 1000")
    assert gaffer.value_of("shot/12c", "exposure_index") == 1000
    was = gaffer.value_of(LEVEL, "output_ratio")
    assert was is not None
    assert was[0] != "0.6"
    tried(gaffer).click()
    expect(tried(gaffer)).to_have_count(0)
    assert gaffer.value_of("shot/12c", "exposure_index") == 800
    assert gaffer.value_of(LEVEL, "output_ratio") == ["0.6", "0.6"]


# Each kind of way out of one stop too little, as the sheet names it, and what it says that it costs.
WAYS = {
    "Open up to T2.8": "sharp over",
    "Raise the index to EI 1600": "noise",
    "Drop Full grid cloth": "harder",
    "Drop Half grid cloth": "in every shot that uses it",
    "Move Lamp over the table in": "falls off faster",
    "Light frost, 2 by 2 ft in place of Full grid cloth": "in every shot that uses it",
    "LED panel, 0.6 m, spare in its place": "more on its circuit",
}


def test_behind_two_sheets_the_key_is_short_and_each_way_out_makes_it_meet_its_target(gaffer: Screen) -> None:
    """ISO 2720: 250 * 4^2 / (1/48 s * 800) = 240 lx for T4; 120 lx is one stop under. One stop more is T2.8 or EI 1600."""
    page = gaffer.page
    gaffer.go("shot/12e/light")
    lamp = page.locator("div.row.plain.need", has_text="Lamp over the table")
    expect(lamp).to_contain_text("0.6 to 2.8 stops short at full")  # worked out, through both sheets
    gaffer.go("add/reading?shot=12e&point=table-top&role=key")
    page.get_by_label("What the meter shows").fill("120 lx")
    page.get_by_role("button", name="Keep the reading").click()
    expect(page.locator("main")).to_have_attribute("data-screen", "shot/12e/light")
    expect(page.locator(".lv").first).to_contain_text("1.0 stop under")
    expect(lamp).to_contain_text("1.0 stop short at full")
    fold = page.get_by_role("button", name="Ways out: Lamp over the table")
    level, output = "level/table-lamp~12e", ["1", "1"]
    titles: list[str] = []
    for title, cost in WAYS.items():
        if fold.get_attribute("aria-expanded") != "true":
            fold.click()
        way = page.get_by_role("button", name=re.compile(f"^{re.escape(title)}"))
        expect(way).to_contain_text(cost)
        titles = titles or page.locator("button.row .t").all_inner_texts()
        way.click()
        expect(tried(gaffer)).to_be_visible()
        expect(lamp, title).to_have_count(0)
        dimmer = page.locator(".row", has_text="Lamp over the table").filter(has_text="meets it")
        expect(dimmer.first).to_be_visible()
        key = gaffer.engine.ask("() => tailslate.shots.value['12e'].sheet.light.levels[0].stops")
        assert key["low"] < 0.05
        assert key["high"] > -0.05
        tried(gaffer).click()
        expect(tried(gaffer)).to_have_count(0)
        expect(lamp).to_contain_text("1.0 stop short at full")
        assert gaffer.value_of(level, "output_ratio") == output
    places = [next(place for place, one in enumerate(titles) if one.startswith(title)) for title in WAYS]
    assert places == sorted(places)  # quickest first; what is not enough comes after
    reading = gaffer.engine.ask(
        "() => tailslate.recordsOf('reading').value.find((key) => tailslate.recordNow(key).shot[1][0][1] === '12e')"
    )
    gaffer.engine.ask("key => tailslate.remove(key)", reading)
    expect(lamp).to_contain_text("0.6 to 2.8 stops short at full")


def test_a_scratch_copy_changes_nothing_until_it_is_applied(gaffer: Screen) -> None:
    page = gaffer.page
    gaffer.go("shot/12c/what_if")
    page.locator("#what-if-on").select_option(LEVEL)
    page.locator("#what-if-field").select_option("distance_m")
    page.locator("#what-if-value").fill("1.4 m")
    page.get_by_role("button", name="Try it").click()
    expect(page.locator(".row").filter(has_text="Key, the Purser's face")).to_contain_text(
        "now 1.0 stop under"
    )
    acts = gaffer.engine.facts["acts"]
    page.get_by_role("button", name="Throw away").click()
    expect(page.get_by_text("Nothing is tried yet.")).to_be_visible()
    assert gaffer.engine.facts["acts"] == acts
    assert gaffer.value_of(LEVEL, "distance_m") == ["2.8", "2.8 m"]

    page.get_by_role("button", name="Solve backwards").click()
    page.get_by_label("stop", exact=True).check()
    page.get_by_role("button", name="Find settings").click()
    page.get_by_role("button", name=re.compile("Tap to try it here")).first.click()
    page.get_by_role("button", name="Apply for everyone").click()
    expect(page.locator("main")).to_have_attribute("data-screen", "shot/12c/light")
    expect(tried(gaffer)).to_be_visible()
    assert gaffer.engine.facts["acts"] > acts
    tried(gaffer).click()
    expect(tried(gaffer)).to_have_count(0)


def test_a_meter_is_typed_in_any_of_its_ways(gaffer: Screen) -> None:
    gaffer.go("add/reading?shot=12c&point=purser-face&role=key")
    told = gaffer.page.locator("#meter-told")
    typed = gaffer.page.get_by_label("What the meter shows")
    # E = C N^2 / (t S), ISO 2720 (from memory): 250 x 2.8^2 / (1/48 s x 800) = 117.6 lx; three tenths of a stop more.
    for text, shown in (
        ("T2.8 3", "145"),
        ("5.5 fc", "59"),
        ("1/3 under", "93"),
        ("+0.3", "145"),
        ("59", "59"),
    ):
        typed.fill(text)
        expect(told).to_have_text(re.compile(rf"^{shown}\slx$"))
    typed.fill("bright")
    expect(told).to_have_class(re.compile("refused"))
    gaffer.page.get_by_role("button", name="Keep the reading").click()
    expect(gaffer.page.get_by_role("alert")).to_be_visible()
    typed.fill("T2.8 3")
    gaffer.page.get_by_role("button", name="Keep the reading").click()
    expect(gaffer.page.locator("main")).to_have_attribute("data-screen", "shot/12c/light")
    expect(gaffer.page.locator(".lv").first).to_contain_text("0.3 stops over")
    expect(gaffer.page.locator(".lv").first).to_contain_text("Electric")


# Where a person reads what of a sheet.
PARTS = {
    "rig": "[...sheet.rigging, ...sheet.power.circuits, ...sheet.power.batteries]",
    "glasses": "sheet.drinks",
    "marks": "sheet.tape.jobs",
    "frame": "[sheet.frame.path].filter((path) => path && (path.moves || path.in_the_way.length))",
}


@pytest.mark.parametrize("shot", ["12a", "12c", "12e", "13a"])
def test_the_caution_of_every_figure_stands_in_sight(gaffer: Screen, shot: str) -> None:
    for tab, part in PARTS.items():
        gaffer.go(f"shot/{shot}/{tab}")
        gaffer.settle()
        wanted = gaffer.engine.ask(
            f"""shot => {{
              const {{ sheet }} = tailslate.shots.value[shot];
              const things = {part};
              return [...new Set(things.flatMap(({{ caution, figures = [] }}) =>
                [caution, ...figures.map((one) => one.caution)]).filter(Boolean).map(({{ sentence }}) => sentence))];
            }}""",
            shot,
        )
        shown = " ".join(gaffer.page.locator("main").inner_text().split())
        assert [sentence for sentence in wanted if sentence not in shown] == [], (shot, tab)
