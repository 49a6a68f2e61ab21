"""Between shots, the record and paper, as a person sees them: mostly without signal, for that is where they are needed."""

from __future__ import annotations

import io
import json
import re
import zoneinfo
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect
from pypdf import PdfReader

from devices import accessibility_faults, devices
from people import GAFFER
from phone_engine import invite
from phone_screen import Screen
from server_process import ServerProcess, command, demonstration_day
from tailslate.pack.whole_day import offsets

HARD_SPACE = "\u00a0"

# The first round may be the one that met no signal and still goes.
SEND_ALL = """async () => {
  for (let round = 0; round < 200; round++) {
    if (!(await tailslate.exchangeNow()).unsent) return;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
}"""


@pytest.fixture(scope="module")
def demo_server(built_pwa: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[ServerProcess]:
    """The demonstration day, one server for all."""
    with demonstration_day(tmp_path_factory.mktemp("record")) as server:
        yield server


@pytest.fixture(scope="module")
def gaffer(browser: Browser, demo_server: ServerProcess) -> Iterator[Screen]:
    """The gaffer's phone, one for all: what a test changes it puts back, and its signal too."""
    with devices(browser) as open_one:
        screen = Screen(open_one("phone"), demo_server, GAFFER, demo_server.join_code("gaffer"))
        # its sheets are worked out before the signal goes
        screen.go("shot/12c/light")
        expect(screen.page.get_by_role("button", name="Between shots, record, paper")).to_be_visible()
        yield screen


@pytest.fixture
def without_signal(gaffer: Screen) -> Iterator[Screen]:
    """The same phone where nothing reaches it."""
    gaffer.page.context.set_offline(True)
    yield gaffer
    gaffer.page.context.set_offline(False)


@pytest.mark.parametrize(
    "where", ["day", "shot/12c/rig", "list", "set", "raise/hold", "phone", "two/source/table-lamp/height_m"]
)
def test_the_emergency_card_is_one_tap_from_anywhere_without_signal(
    without_signal: Screen, where: str
) -> None:
    page = without_signal.page
    without_signal.go(where)
    page.get_by_role("link", name="Emergency", exact=True).click()
    card = page.locator("main")
    for said in (
        "the local emergency number",
        "Quay 9, Ferry Yard, Port Fiction",
        "Harbour Cottage Hospital",
        "Foot of the gangway",
        "Unit nurse",
        "Assistant director, radio channel 1",
    ):
        expect(card).to_contain_text(said)


def test_what_nobody_filled_in_is_asked_for_and_led_to(without_signal: Screen) -> None:
    page, engine = without_signal.page, without_signal.engine
    day = page.evaluate("tailslate.recordsOf('day').value[0]").split("/")[1]
    before = without_signal.value_of(f"day/{day}", "nearest_hospital")
    engine.saved("day", day, {"nearest_hospital": None})
    without_signal.go("emergency")
    asked = page.get_by_role("button", name=re.compile("nearest hospital.*NOT FILLED IN: ask now"))
    expect(asked).to_be_visible()
    asked.click()
    expect(page.get_by_label(re.compile("nearest hospital"))).to_be_focused()
    engine.saved("day", day, {"nearest_hospital": before})


def test_a_day_that_was_just_made_can_be_filled_in_from_its_empty_card(
    open_device: Callable[..., Page], built_pwa: Path, tmp_path: Path
) -> None:
    server = ServerProcess(str(tmp_path / "day.sqlite3"), tmp_path)
    server.start()
    try:
        screen = Screen(open_device("phone"), server, GAFFER, invite(server, GAFFER))
        page = screen.page
        screen.go("emergency")
        expect(page.get_by_text("NOT FILLED IN: ask now")).to_have_count(6)
        page.get_by_role("button", name=re.compile("emergency number")).click()
        entry = page.get_by_label(re.compile("emergency number"))
        expect(entry).to_be_focused()
        entry.fill("the local emergency number")
        entry.press("Enter")
        screen.go("emergency")
        expect(page.locator(".card")).to_contain_text("the local emergency number")
        expect(page.get_by_text("NOT FILLED IN: ask now")).to_have_count(5)
    finally:
        server.kill()


def test_two_answers_on_the_card_are_both_shown(without_signal: Screen) -> None:
    page, engine = without_signal.page, without_signal.engine
    day = page.evaluate("tailslate.recordsOf('day').value[0]").split("/")[1]
    before = without_signal.value_of(f"day/{day}", "assembly_point")
    engine.saved("day", day, {"assembly_point": "Car park"}, painted={"assembly_point": []})
    without_signal.go("emergency")
    expect(page.locator("main")).to_contain_text("TWO ANSWERS: ask now")
    expect(page.locator("main")).to_contain_text("Car park")
    expect(page.locator("main")).to_contain_text(before)
    engine.saved("day", day, {"assembly_point": before})


def test_from_shot_to_shot_the_list_stands_by_department_and_the_shot_before_can_be_picked(
    without_signal: Screen,
) -> None:
    page = without_signal.page
    without_signal.go("shot/12c/light")
    page.get_by_role("button", name="Between shots, record, paper").click()
    page.get_by_role("link", name=re.compile("^From the shot before")).click()
    main = page.locator("main")
    expect(page.get_by_label("From", exact=True)).to_have_value("12b")
    expect(main).to_contain_text("Drop: Sconce 1")
    expect(main).to_contain_text(f"Move: Saloon key, distance 2.8{HARD_SPACE}m, was 2.6{HARD_SPACE}m")
    expect(main).to_contain_text("What nobody wrote down is not in this list.")
    line = page.get_by_role("checkbox", name=re.compile("^Add: Stand 3"))
    line.click(delay=50)
    expect(line).to_be_checked()
    page.get_by_role("button", name=re.compile("^Undo: Add: Stand 3")).click(delay=500)
    expect(line).not_to_be_checked()
    page.get_by_label("From", exact=True).select_option("12a")
    expect(main).to_contain_text("stop T2.8, was T4")
    page.get_by_role("button", name="Does it still match").click()
    expect(main).to_contain_text("A frame of each beside the other decides.")
    expect(main).to_contain_text("in the room, 34\u00b0 right as the camera sees it")


def test_a_sheet_ticked_by_pen_is_one_save_for_whoever_ticked_it_and_one_undo(without_signal: Screen) -> None:
    page = without_signal.page
    without_signal.go("paper/12c/grip")
    boxes = page.get_by_role("checkbox")
    expect(boxes.first).to_be_visible()
    numbers = [int(text) for text in page.locator(".row.pen .t b").all_inner_texts()]
    assert numbers == list(range(1, len(numbers) + 1))
    free = [box for box in boxes.all() if box.is_enabled() and not box.is_checked()]
    page.get_by_label("Who ticked it").select_option(label="Key grip")
    for box in free[:2]:
        box.check()
    before = without_signal.engine.facts["unsent"]
    page.get_by_role("button", name="Save 2 ticks").click()
    expect(page.get_by_role("status").filter(has_text="2 ticks saved")).to_be_visible()
    assert without_signal.engine.facts["unsent"] == before + 2
    unsent = page.evaluate("tailslate.unsent()")[-2:]
    for line in unsent:
        (field,) = line["set"]
        history = page.evaluate("key => tailslate.history(key)", line["record"])
        assert (history[-1]["how"], history[-1]["for_whom"]) == ("paper", "key-grip")
        assert line["set"][field][0] == "done"
    for box in free[:2]:
        expect(box).to_be_disabled()  # done already: ticked twice is ticked once
    page.get_by_role("button", name=re.compile("^Undo: 2 from paper")).click(
        delay=500
    )  # a dock takes no tap at once
    for box in free[:2]:
        expect(box).to_be_enabled()
        expect(box).not_to_be_checked()


def test_nothing_of_a_sheet_is_saved_before_save_is_pressed(without_signal: Screen) -> None:
    page = without_signal.page
    without_signal.go("paper/12c/grip")
    before = without_signal.engine.facts["unsent"]
    free = [box for box in page.get_by_role("checkbox").all() if box.is_enabled() and not box.is_checked()]
    free[0].check()
    expect(page.get_by_role("button", name="Save 1 tick")).to_be_enabled()
    assert without_signal.engine.facts["unsent"] == before
    without_signal.go("list")


def test_an_incident_is_written_down_without_signal_and_asks_for_no_health(without_signal: Screen) -> None:
    page = without_signal.page
    without_signal.go("raise")
    page.get_by_role("link", name=re.compile("^Incident")).click()
    expect(page.locator("main")).to_contain_text("No diagnosis")
    page.get_by_role("button", name="Write it down").click()
    expect(page.get_by_role("alert")).to_contain_text("Write a few words first.")
    page.get_by_label(re.compile("^What happened")).fill("A bag slid off stand 3")
    page.get_by_label("Where").fill("Saloon door")
    page.get_by_label("Who was told").fill("Assistant director")
    expect(page.get_by_label(re.compile("^When"))).to_have_value(re.compile(r"^\d\d:\d\d$"))
    page.get_by_role("radio", name="No", exact=True).check(force=True)
    page.get_by_role("button", name="Write it down").click()
    expect(page.locator("main")).to_have_attribute("data-screen", re.compile("^record/incident/"))
    record = page.locator("main").get_attribute("data-screen")
    assert record is not None
    key = record.removeprefix("record/")
    assert without_signal.value_of(key, "what") == "A bag slid off stand 3"
    assert without_signal.value_of(key, "injured") == "no"


def test_a_take_and_a_reset_are_one_tap_each_on_the_shot(without_signal: Screen) -> None:
    page = without_signal.page
    without_signal.go("shot/12b/light")
    page.get_by_role("button", name="Between shots, record, paper").click()
    used = len(page.evaluate("tailslate.recordsOf('used').value"))
    page.get_by_role("button", name="Reset done").click()
    expect(page.get_by_role("button", name="Undo: Reset done")).to_be_visible()
    assert (
        len(page.evaluate("tailslate.recordsOf('used').value")) == used + 4
    )  # the four glasses of the scene
    page.get_by_role("button", name="One more take").click()
    # reserved: it counts once the server has said so, and until then nothing claims that it does
    expect(page.get_by_role("button", name="Undo: Takes: 1")).to_be_visible()
    expect(page.get_by_text("Takes: unknown")).to_be_visible()


# An old day beside this one


def exported(server: ServerProcess, folder: Path) -> dict[str, Any]:
    target = folder / "old.json"
    command("export", "--database", server.database, str(target))
    found: dict[str, Any] = json.loads(target.read_text(encoding="utf-8"))
    return found


def give(screen: Screen, name: str, text: str) -> None:
    payload = {"name": name, "mimeType": "application/json", "buffer": text.encode("utf-8")}
    screen.page.locator("input[type=file]").set_input_files(files=[payload])  # type: ignore[list-item]


@pytest.fixture(scope="module")
def old_day(
    demo_server: ServerProcess, gaffer: Screen, tmp_path_factory: pytest.TempPathFactory
) -> dict[str, Any]:
    """The day as it was exported before anyone changes it any more."""
    return exported(demo_server, tmp_path_factory.mktemp("old"))


def test_an_old_day_opens_beside_this_one_without_signal_and_nothing_of_it_enters(
    without_signal: Screen, old_day: dict[str, Any]
) -> None:
    page, engine = without_signal.page, without_signal.engine
    before = engine.day()
    engine.saved("shot", "12c", {"t_stop": ["4", "T4"]})
    without_signal.go("reference/12c")
    give(without_signal, "old.json", json.dumps(old_day))
    main = page.locator("main")
    expect(main).to_contain_text("Night Crossing: 6 shots")
    expect(page.get_by_label("Shot then")).to_have_value("12c")
    expect(page.get_by_label("Shot now")).to_have_value("12c")
    expect(main).to_contain_text("stop: DIFFERS")
    expect(main).to_contain_text("now T4, then T2.8")
    page.get_by_label("Shot then").select_option("12a")
    expect(main).to_contain_text("lens: DIFFERS")
    # The stop that was set here, and nothing else; the server's word on an earlier act may just have come in.
    now = {key: cells for key, cells in engine.day().items() if not key.startswith("verdict/")}
    assert [key for key in now if now[key] != before.get(key)] == ["shot/12c"]
    assert not set(before) - set(engine.day())
    engine.saved("shot", "12c", {"t_stop": ["2.8", "T2.8"]})


@pytest.mark.parametrize("fault", ["truncated", "tampered", "newer", "no day"])
def test_a_file_that_is_not_whole_is_refused_with_its_reason(
    without_signal: Screen, old_day: dict[str, Any], fault: str
) -> None:
    page = without_signal.page
    text = json.dumps(old_day)
    said = ""
    if fault == "truncated":
        text, said = text[: len(text) * 2 // 3], "The file is cut off"
    elif fault == "tampered":
        changed = json.loads(text)
        texts = changed["sets"]["floor"]
        place = next(place for place, one in enumerate(texts) if "T2.8" in one)
        texts[place] = texts[place].replace("T2.8", "T5.6")
        text, said = json.dumps(changed), f"{place + 1}: it is not what was exported"
    elif fault == "newer":
        text, said = json.dumps({**old_day, "file": "tailslate-day-9"}), "update the app"
    else:
        text, said = json.dumps({"hello": "world"}), "this file is no day"
    without_signal.go("reference/12c")
    give(without_signal, "old.json", text)
    alert = page.get_by_role("alert")
    expect(alert).to_contain_text("Not opened.")
    expect(alert).to_contain_text(said)
    expect(page.get_by_label("Shot then")).to_have_count(0)


# Paper


def printed(screen: Screen) -> tuple[list[str], bytes]:
    """What the browser would print, as text by page."""
    screen.page.emulate_media(media="print")
    octets = screen.page.pdf(prefer_css_page_size=True)
    screen.page.emulate_media(media="screen")
    return [" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(octets)).pages], octets


def test_the_report_and_the_ways_between_shots_are_printed_by_the_phone_alone(
    without_signal: Screen,
) -> None:
    page = without_signal.page
    without_signal.go("print")
    what = page.get_by_role("group", name="What")
    for word in ("Sheet of the shot", "Checklist to tick by pen", "Call and emergency card"):
        what.get_by_label(word).uncheck()
    for word in ("From shot to shot", "Report of the day"):
        what.get_by_label(word).check()
    expect(page.get_by_role("button", name="Print", exact=True)).to_be_enabled()
    pages, _octets = printed(without_signal)
    text = " ".join(pages).replace("\u00a0", " ")
    for said in (
        "12B Over the Purser to 12C Over the Gambler",
        "Drop: Sconce 1",
        "End of the day",
        "12C Over the Gambler: setting",
        "No take is written down",
        "Saloon key",
        "HOLD",
        "Dark rum, the Gambler, in all 240 ml",
        "NOT DONE",
        "competent people decide",
    ):
        assert said in text, said
    assert all(len(one) > 40 for one in pages), "an empty page"


def test_card_sheet_and_checklist_are_printed_by_the_phone_alone(without_signal: Screen) -> None:
    page = without_signal.page
    without_signal.go("print/12c")
    expect(page.locator(".on-paper .boxes")).not_to_have_count(0)
    expect(page.locator(".on-paper svg.plan")).to_have_count(1)
    expect(page.get_by_role("button", name="Print", exact=True)).to_be_enabled()
    pages, _octets = printed(without_signal)
    text = " ".join(pages)
    for said in (
        "the local emergency number",
        "Quay 9, Ferry Yard",
        "12C Over the Gambler",
        "13A Single through the porthole, ",
        "Stand 3: bag it",
        "CAUTION",
        "Not known whether in the frame",
        "Angle of view 39.2",
        "Sulphites",
        "Cloth tape, black",
    ):
        assert said in text
    assert "unsent" not in text  # the phone's own foot stays off the paper
    assert all(len(one) > 40 for one in pages), "an empty page"
    page.emulate_media(media="print")
    phone_px = page.viewport_size
    page.set_viewport_size({"width": 703, "height": 1031})  # A4 less its margins, 96 to the inch
    smallest_pt = page.evaluate(
        """() => Math.min(...[...document.querySelectorAll(".on-paper *")]
            .filter((one) => one.children.length === 0 && one.textContent.trim())
            .map((one) => parseFloat(getComputedStyle(one).fontSize) * 0.75 * (one.getScreenCTM?.()?.a ?? 1)))"""
    )
    page.emulate_media(media="screen")
    page.set_viewport_size(phone_px)  # type: ignore[arg-type]
    assert smallest_pt >= 11  # arm's length: common practice, no source


def test_numbers_on_paper_are_those_of_the_screen_that_takes_it_back(without_signal: Screen) -> None:
    page = without_signal.page
    without_signal.go("paper/12c")
    expect(page.get_by_role("checkbox").first).to_be_visible()
    here = page.locator(".row.pen .t").all_inner_texts()
    code = re.search(r"The list now is ([0-9A-F]{4})", page.locator("main").inner_text())
    without_signal.go("print/12c")
    expect(page.locator(".on-paper .boxes")).not_to_have_count(0)
    text = " ".join(printed(without_signal)[0])
    assert code is not None
    assert f"checklist {code[1]}" in text
    for one in here[:5]:
        assert one.replace("\n", " ") in text


def test_the_pack_and_the_report_come_from_the_server_and_without_signal_say_so(gaffer: Screen) -> None:
    page = gaffer.page
    gaffer.engine.ask(SEND_ALL)
    gaffer.hear()
    gaffer.go("print/12c")
    for name, said in (("Day pack", "Call and emergency card"), ("Report of the day", "End of the day")):
        page.get_by_role("button", name=name).click()
        link = page.get_by_role("link", name=re.compile("^Open the PDF"))
        expect(link).to_be_visible()
        with page.expect_download() as waiting:
            link.click()
        assert said in PdfReader(waiting.value.path()).pages[0].extract_text()
        page.reload()
        expect(page.get_by_role("button", name="Day pack")).to_be_visible()
    page.context.set_offline(True)
    page.get_by_role("button", name="Day pack").click()
    expect(page.get_by_role("alert")).to_contain_text("the server was not reached")
    page.context.set_offline(False)


def test_no_screen_of_the_record_has_a_fault_that_axe_core_knows_or_a_small_target(gaffer: Screen) -> None:
    faults = {}
    for where in ("emergency", "turn/12c", "paper/12c", "print/12c", "reference/12c", "raise/incident"):
        gaffer.go(where)
        gaffer.settle()
        for mode in ("dark", "night", "day"):
            gaffer.page.evaluate("mode => { document.documentElement.dataset.mode = mode; }", mode)
            faults[f"{where} {mode}"] = accessibility_faults(gaffer.page)
        faults[f"{where} targets"] = gaffer.small_targets()
        assert gaffer.overflow_px() == 0, where
    assert {where: found for where, found in faults.items() if found} == {}


# The night in which clocks are changed

TOLD = """(() => {
  const post = Worker.prototype.postMessage;
  Worker.prototype.postMessage = function (message, ...more) {
    if (message?.path?.[0] === "tellIn") window.told = message.argumentList[0].value.utc_offset_min;
    return post.call(this, message, ...more);
  };
})()"""


@pytest.mark.parametrize("zone", ["Europe/Berlin", "America/New_York", "Asia/Kolkata"])
def test_a_phone_tells_its_rules_when_the_clock_of_the_place_is_changed(
    open_device: Callable[..., Page], demo_server: ServerProcess, zone: str
) -> None:
    """Beside the IANA time zone database as Python reads it; the phone itself is set to London."""
    page = open_device("phone")
    page.add_init_script(TOLD)
    screen = Screen(page, demo_server, GAFFER, demo_server.join_code("gaffer"))
    day = page.evaluate("tailslate.recordsOf('day').value[0]").split("/")[1]
    before = screen.value_of(f"day/{day}", "time_zone")
    screen.engine.saved("day", day, {"time_zone": zone})
    now_ms = page.evaluate("Math.floor(Date.now() / 86400000) * 86400000")
    week_ms = 7 * 86_400_000
    expected = offsets(zoneinfo.ZoneInfo(zone), now_ms - 54 * week_ms, now_ms + week_ms)
    wanted = json.dumps(json.dumps(expected, separators=(",", ":")))
    screen.engine.until(f"JSON.stringify(window.told) === {wanted}")
    screen.engine.saved("day", day, {"time_zone": before})
    screen.hear()
