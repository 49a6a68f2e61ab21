"""A list that people have comes in on a phone: few taps, no signal, whole or not at all, the same on every phone."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import FilePayload, Page, expect

from devices import accessibility_faults
from people import ASSISTANT_DIRECTOR, GAFFER, KEY_GRIP, PROPS_BUYER
from phone_engine import invite
from phone_screen import Screen
from server_process import ServerProcess

ROWS = 40
HEAD = "Shot\tDescription\tLens\tCamera height\tRemarks"
SHOTS = "\n".join(
    [
        HEAD,
        *(f"21{place}\tAngle {place}\t35 mm\t{'6 ft' if place % 2 else '1,8 m'}\t" for place in range(ROWS)),
    ]
)
MOST_ACTIONS = 12


# What a browser tells a page of a paste, without the minutes that it would take to put so much in line by line.
PASTE = """(text) => {
  const clipboardData = new DataTransfer();
  clipboardData.setData("text/plain", text);
  const pasted = { clipboardData, bubbles: true, cancelable: true };
  document.querySelector("#bring-text").dispatchEvent(new ClipboardEvent("paste", pasted));
}"""


class Hand:
    """Counts what a person does: each tap and each key pressed is one action."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.actions = 0

    def tap(self, role: str, name: str) -> None:
        """Tap one thing."""
        self.page.get_by_role(role, name=name).first.tap()  # type: ignore[arg-type]
        self.actions += 1

    def press(self, keys: str) -> None:
        """Press keys together: one action for each key."""
        self.page.keyboard.press(keys)
        self.actions += len(keys.split("+"))


@pytest.fixture
def assistant(phone: Page, server: ServerProcess) -> Screen:
    """The assistant director's phone on a day with nothing on it."""
    return Screen(phone, server, ASSISTANT_DIRECTOR, invite(server, ASSISTANT_DIRECTOR))


def paste(screen: Screen, text: str) -> None:
    """Put a text in the box at once, as a paste does."""
    screen.page.locator("#bring-text").fill(text)


def numbers(screen: Screen) -> list[str]:
    """Numbers of the shots on a phone."""
    found: list[str] = screen.page.evaluate(
        "() => tailslate.recordsOf('shot').value.map((key) => tailslate.shown(tailslate.recordNow(key).number)).sort()"
    )
    return found


def test_forty_pasted_rows_become_shots_in_few_actions_without_a_server_and_reach_the_other_phone(
    assistant: Screen, server: ServerProcess, open_device: Callable[..., Page]
) -> None:
    other = Screen(open_device("phone"), server, KEY_GRIP, invite(server, KEY_GRIP))
    page = assistant.page
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.evaluate("text => navigator.clipboard.writeText(text)", SHOTS)
    server.stop()
    hand = Hand(page)
    hand.tap("link", "Set")
    hand.tap("link", "Bring in a list")
    hand.tap("textbox", "Paste it here, with its headings")
    hand.press("Control+v")
    hand.tap("button", f"Bring in {ROWS}: Shots")
    expect(page.get_by_text(f"{ROWS} rows came in.")).to_be_visible()
    assert hand.actions <= MOST_ACTIONS
    expected = sorted(f"21{place}" for place in range(ROWS))
    assert numbers(assistant) == expected
    server.start()
    assistant.hear()
    other.hear()
    assert numbers(other) == expected
    assert other.engine.day() == assistant.engine.day()


def test_the_same_list_again_adds_nothing_and_taking_it_back_takes_all_of_it(assistant: Screen) -> None:
    assistant.go("bring")
    paste(assistant, SHOTS)
    page = assistant.page
    page.get_by_role("button", name=f"Bring in {ROWS}: Shots").tap()
    expect(page.get_by_text(f"{ROWS} rows came in.")).to_be_visible()
    acts = assistant.engine.facts["acts"]
    paste(assistant, SHOTS + "\n")
    expect(page.get_by_text("All of it is on the day already.")).to_be_visible()
    assert assistant.engine.facts["acts"] == acts
    paste(assistant, SHOTS.replace("\n21", "\n31"))
    page.get_by_role("button", name=f"Bring in {ROWS}: Shots").tap()
    expect(page.get_by_text(f"{ROWS} rows came in.")).to_be_visible()
    page.get_by_role("button", name="Take it all back").tap()
    expect(page.get_by_text("Taken back.")).to_be_visible()
    assert numbers(assistant) == sorted(f"21{place}" for place in range(ROWS))


def test_a_fault_holds_all_of_it_back_until_it_is_put_right_or_its_row_left_out(assistant: Screen) -> None:
    page = assistant.page
    assistant.go("bring")
    paste(assistant, "Shot,Lens\n1,35\n2,9000\n3,fifty\n4,50")
    expect(page.get_by_label("Row 3, Lens")).to_have_value("9000")
    expect(page.get_by_text("must be from 4 mm to 2000 mm")).to_be_visible()
    expect(page.get_by_role("button", name="Bring in")).to_have_count(0)
    assert assistant.overflow_px() == 0
    assert assistant.small_targets() == []
    assert accessibility_faults(page) == []
    page.get_by_label("Row 3, Lens").fill("90")
    page.get_by_label("Row 3, Lens").press("Tab")
    page.get_by_role("button", name="Leave row 4 out").click()
    expect(page.get_by_text("Left out: row 4")).to_be_visible()
    page.get_by_role("button", name="Bring in 3: Shots").click()
    expect(page.get_by_text("3 rows came in.")).to_be_visible()
    assert numbers(assistant) == ["1", "2", "4"]
    assert "fifty" in page.locator("#bring-text").input_value(), "nothing pasted is lost"


def test_fifty_thousand_rows_are_refused_at_once_with_the_limit_and_stay_in_the_box(
    assistant: Screen,
) -> None:
    assistant.go("bring")
    text = "Shot,Title\n" + "\n".join(f"{place},Angle" for place in range(50_000))
    assistant.page.evaluate(PASTE, text)
    expect(assistant.page.get_by_text("at most 500 come in at once")).to_be_visible()
    assert len(assistant.page.locator("#bring-text").input_value()) == len(text)


@pytest.mark.parametrize(
    ("encoding", "said"),
    [("utf-8-sig", "UTF-8"), ("utf-16", "UTF-16"), ("utf-16-be", "UTF-16"), ("windows-1252", "Windows-1252")],
)
def test_a_file_is_read_in_the_encoding_that_it_has_and_says_which(
    assistant: Screen, encoding: str, said: str
) -> None:
    """Encodings of Python's codecs are the outside reference: what they write, the phone reads back."""
    mark = b"\xfe\xff" if encoding == "utf-16-be" else b""
    octets = mark + 'Prop;Place;Height\r\nCafé "Étoile" sign;bar;1,8 m\r\n'.encode(encoding)
    assistant.go("bring")
    payload: FilePayload = {"name": "props.csv", "mimeType": "text/csv", "buffer": octets}
    assistant.page.get_by_label("Or choose a CSV file").set_input_files(payload)
    expect(assistant.page.get_by_text(f"props.csv, read as {said}")).to_be_visible()
    assistant.page.get_by_role("button", name="Bring in 1: Dressing").click()
    expect(assistant.page.get_by_text("1 row came in.")).to_be_visible()
    titles = assistant.page.evaluate(
        "() => tailslate.recordsOf('dressing').value.map((key) => tailslate.shown(tailslate.recordNow(key).title))"
    )
    assert titles == ['Café "Étoile" sign']


def take_file(screen: Screen, file: Path | FilePayload) -> None:
    """Choose a day's file."""
    screen.go("bring/day")
    screen.page.get_by_label("Choose the file").set_input_files(file)


def test_two_phones_hand_the_day_over_in_a_file_without_a_server_and_twice_changes_nothing(
    phone: Page, second_phone: Page, server: ServerProcess, tmp_path: Path
) -> None:
    gaffer = Screen(phone, server, GAFFER, invite(server, GAFFER))
    props = Screen(second_phone, server, PROPS_BUYER, invite(server, PROPS_BUYER))
    gaffer.hear()
    props.hear()
    server.stop()
    gaffer.engine.saved("source", "key", {"title": "Lamp over the table"})
    props.engine.saved("dressing", "chart", {"title": "Nautical chart"})
    gaffer.go("bring/day")
    with phone.expect_download() as download:
        phone.get_by_role("button", name="Save as a file").tap()
    file = tmp_path / "day.json"
    download.value.save_as(file)
    take_file(props, file)
    second_phone.get_by_role("button", name="Take in").click()
    expect(second_phone.get_by_text("taken in. They go to the server")).to_be_visible()
    assert props.value_of("source/key", "title") == "Lamp over the table"
    assert props.value_of("dressing/chart", "title") == "Nautical chart"
    take_file(props, file)
    expect(second_phone.get_by_text("All of it is here already.")).to_be_visible()
    server.start()
    props.hear()
    gaffer.hear()
    assert gaffer.engine.day() == props.engine.day()
    assert props.engine.facts["refused"] == []


def test_where_the_phone_can_share_files_the_day_is_handed_over_by_its_own_sheet(assistant: Screen) -> None:
    page = assistant.page
    page.evaluate(
        """() => {
          navigator.canShare = ({ files }) => files.length === 1;
          navigator.share = async ({ files }) => { globalThis.shared = files[0]; };
        }"""
    )
    assistant.engine.saved("source", "key", {"title": "Lamp over the table"})
    assistant.go("bring/day")
    page.get_by_role("button", name="Share the file").tap()
    expect(page.get_by_role("status").filter(has_text="KB")).to_be_visible()
    text = page.evaluate("async () => await shared.text()")
    assert json.loads(text)["file"] == "tailslate-day-1"
    assert "Lamp over the table" in text


def test_a_file_that_is_damaged_cut_or_of_another_day_says_so_and_takes_nothing_by_itself(
    phone: Page, second_phone: Page, server: ServerProcess
) -> None:
    gaffer = Screen(phone, server, GAFFER, invite(server, GAFFER))
    grip = Screen(second_phone, server, KEY_GRIP, invite(server, KEY_GRIP))
    grip.hear()
    server.stop()
    gaffer.engine.saved("source", "key", {"title": "Lamp over the table"})
    gaffer.engine.saved("source", "fill", {"title": "Bounce"})
    text = str(gaffer.engine.ask("() => tailslate.dayFile()"))
    page = grip.page

    def file_of(changed: str) -> FilePayload:
        return {"name": "day.json", "mimeType": "application/json", "buffer": changed.encode()}

    take_file(grip, file_of("nothing of a day"))
    expect(page.get_by_text("this file is no day; choose one that Tailslate exported")).to_be_visible()
    take_file(grip, file_of(text.replace("tailslate-day-1", "tailslate-day-9")))
    expect(page.get_by_text("update the app")).to_be_visible()
    take_file(grip, file_of(text.replace(gaffer.membership["day"], "another")))
    expect(page.get_by_text("this file is of another day")).to_be_visible()
    take_file(grip, file_of(text[: text.rindex("Bounce")]))
    expect(page.get_by_text("It was cut off on its way.")).to_be_visible()
    take_file(grip, file_of(text.replace("over the table", "over the piano")))
    expect(page.get_by_text("it is not what was exported")).to_be_visible()
    assert grip.engine.fields("source/fill") == {}, "nothing is taken until the person says so"
    page.get_by_role("button", name="that are whole").click()
    expect(page.get_by_text("taken in. They go to the server")).to_be_visible()
    assert grip.value_of("source/fill", "title") == "Bounce"
    assert grip.engine.fields("source/key") == {}
