"""Joining, editing, settling, raising: what is typed is saved or refused at once, and never shown as what it is not."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from people import ASSISTANT_DIRECTOR, GAFFER, KEY_GRIP, PRODUCER
from phone_screen import Screen
from server_process import ServerProcess

LAMP = "source/table-lamp"
# A name that tries to run, one that tries to turn the line round (U+202E), one of a family of joined signs.
HOSTILE = {
    "12e": '<img src=x onerror="window.hurt=1">',
    "12b": "{{7*7}}\u202egnp.exe",
    "12c": "&lt;b&gt;",
    "12d": "\U0001f468\u200d\U0001f469\u200d\U0001f467",
}
OF_ONE = ("record/task/t", "history/task/t", "hold/h")


@pytest.fixture
def key_grip(phone: Page, demonstration: ServerProcess) -> Screen:
    """The key grip's phone on the demonstration day."""
    return Screen(phone, demonstration, KEY_GRIP, demonstration.join_code("key grip"))


@pytest.fixture
def gaffer(second_phone: Page, demonstration: ServerProcess) -> Screen:
    """The gaffer's phone on the same day."""
    return Screen(second_phone, demonstration, GAFFER, demonstration.join_code("gaffer"))


def fill_in_who(page: Page) -> None:
    page.get_by_label("Your name").fill("Tove")
    page.get_by_label("What you do").fill("Key grip")
    page.get_by_role("checkbox", name="Grip", exact=True).check()


def test_a_link_brings_its_code_and_joining_opens_the_day(phone: Page, demonstration: ServerProcess) -> None:
    phone.goto(f"{demonstration.url}/join#{demonstration.join_code('key grip')}")
    fill_in_who(phone)
    phone.get_by_role("button", name="Join the day").click()
    phone.get_by_role("link", name="Skip").click()
    expect(phone.get_by_role("heading", name="Night Crossing")).to_be_visible()
    expect(phone.locator(".facts")).to_contain_text("heard")
    assert phone.evaluate("location.pathname + location.hash") == "/#/day"


def test_a_wrong_code_is_refused_beside_the_code_with_what_to_do(
    phone: Page, demonstration: ServerProcess
) -> None:
    phone.goto(demonstration.url)
    phone.get_by_label("Code").fill("AAAA-AAAA")
    fill_in_who(phone)
    phone.get_by_role("button", name="Join the day").click()
    expect(phone.get_by_role("alert")).to_contain_text("code")


def test_a_form_that_lacks_something_says_what_and_sends_nothing(
    phone: Page, demonstration: ServerProcess
) -> None:
    phone.goto(demonstration.url)
    phone.get_by_role("button", name="Join the day").click()
    expect(phone.get_by_role("alert")).to_have_count(4)
    expect(phone.get_by_text("Type the code first.")).to_be_visible()


def test_without_signal_joining_says_that_it_needs_some(phone: Page, demonstration: ServerProcess) -> None:
    phone.goto(demonstration.url)
    phone.get_by_label("Code").fill("AAAA-AAAA")
    fill_in_who(phone)
    phone.context.set_offline(True)
    phone.get_by_role("button", name="Join the day").click()
    expect(phone.get_by_role("alert")).to_be_visible()


def test_on_plain_http_the_app_says_why_it_cannot_be_installed(
    phone: Page, demonstration: ServerProcess
) -> None:
    phone.add_init_script("Object.defineProperty(window, 'isSecureContext', { value: false });")
    phone.goto(demonstration.url)
    expect(phone.get_by_role("alert")).to_contain_text("https")


def test_a_phone_is_asked_to_install_first_and_its_code_is_shown_to_take_along(
    open_device: object, browser: object, demonstration: ServerProcess
) -> None:
    agent = "Mozilla/5.0 (iPhone; CPU iPhone OS 18_0 like Mac OS X) AppleWebKit/605.1.15 Version/18.0 Safari/604.1"
    page: Page = open_device("phone", user_agent=agent)  # type: ignore[operator]
    page.goto(f"{demonstration.url}/join#ABCD-EFGH")
    expect(page.get_by_text("Install the app first, then join inside it")).to_be_visible()
    expect(page.get_by_text("Add to Home Screen")).to_be_visible()
    expect(page.get_by_text("ABCD-EFGH")).to_be_visible()
    page.get_by_role("button", name="Join in the browser anyway").click()
    expect(page.get_by_label("Code")).to_have_value("ABCD-EFGH")


def test_a_height_may_be_typed_as_people_write_it(key_grip: Screen) -> None:
    key_grip.go(f"record/{LAMP}")
    height = key_grip.page.get_by_label("height to the lens")
    # 6 ft 4 in is 1.9304 m exactly: the international foot of 1959, 0.3048 m.
    for typed, metres in (("193 cm", 1.93), ("6 ft 4 in", 1.9304), ("1,93 m", 1.93)):
        height.fill(typed)
        expect(key_grip.page.get_by_text("not saved yet")).to_be_visible()
        height.blur()
        expect(key_grip.page.get_by_text("not saved yet")).to_have_count(0)
        assert float(key_grip.value_of(LAMP, "height_m")[0]) == pytest.approx(metres, abs=1e-9)
        assert key_grip.value_of(LAMP, "height_m")[1] == typed


def test_what_cannot_be_read_is_refused_at_once_and_stays_in_the_field(key_grip: Screen) -> None:
    before = key_grip.value_of(LAMP, "height_m")
    key_grip.go(f"record/{LAMP}")
    height = key_grip.page.get_by_label("height to the lens")
    height.fill("very high")
    expect(height).to_have_attribute("aria-invalid", "true")
    height.blur()
    key_grip.go("day")
    key_grip.go(f"record/{LAMP}")
    expect(height).to_have_value("very high")
    assert key_grip.value_of(LAMP, "height_m") == before


def test_leaving_a_form_in_mid_word_saves_what_was_typed(key_grip: Screen) -> None:
    key_grip.go(f"record/{LAMP}")
    key_grip.page.get_by_label("lamp", exact=True).fill("LED panel, 2 by 1 ft")
    key_grip.go("day")
    key_grip.engine.until(
        "tailslate.shown(tailslate.recordNow('source/table-lamp').lamp).startsWith('LED panel, 2')"
    )


def test_the_level_that_an_edit_makes_stands_beside_the_field(key_grip: Screen) -> None:
    level = key_grip.page.evaluate(
        """() => tailslate.recordsOf("level").value.find((key) =>
          tailslate.shown(tailslate.recordNow(key).shot) === "12c" && tailslate.shown(tailslate.recordNow(key).role) === "fill")"""
    )
    key_grip.go("shot/12c/light")
    expect(key_grip.page.get_by_text("Key to fill", exact=True)).to_be_visible()
    key_grip.go(f"record/{level}?shot=12c")
    distance = key_grip.page.get_by_label("last frame or lamp to the subject")
    distance.fill("5 m")
    distance.blur()
    beside = key_grip.page.get_by_label("What it does to the light")
    expect(beside).to_contain_text("12C")
    expect(beside).to_contain_text("was ")


def test_two_answers_stand_side_by_side_until_someone_picks_one(key_grip: Screen, gaffer: Screen) -> None:
    key_grip.go(f"two/{LAMP}/height_m")
    answers = key_grip.page.locator(".ans")
    expect(answers).to_have_count(2)
    expect(answers.filter(has_text="Grip")).to_contain_text("2.4 m")
    expect(answers.filter(has_text="Electric")).to_contain_text("2.1 m")
    answers.filter(has_text="2.4 m").tap()
    expect(key_grip.page.get_by_text("Settled. One answer stands now.")).to_be_visible()
    key_grip.hear()
    gaffer.hear()
    assert gaffer.value_of(LAMP, "height_m")[0] == "2.4"


def test_a_third_answer_settles_two(key_grip: Screen) -> None:
    key_grip.go(f"two/{LAMP}/height_m")
    key_grip.page.get_by_label("Or type a third").fill("7 ft 6 in")
    key_grip.page.get_by_role("button", name="Use this").click()
    expect(key_grip.page.get_by_text("Settled. One answer stands now.")).to_be_visible()
    assert float(key_grip.value_of(LAMP, "height_m")[0]) == pytest.approx(2.286)


def test_a_careful_field_says_that_not_done_counts(key_grip: Screen) -> None:
    key_grip.go("list")
    row = key_grip.page.get_by_role("link", name=re.compile("^Safety wire on, sconce 2"))
    expect(row).to_contain_text("Not done counts.")
    row.tap()
    expect(key_grip.page.locator(".ans")).to_have_count(2)
    expect(key_grip.page.get_by_text(re.compile("Not done counts"))).to_be_visible()


def test_history_says_who_when_from_and_to_and_puts_an_earlier_value_back(key_grip: Screen) -> None:
    for typed in ("3 m", "4 m"):
        key_grip.go(f"record/{LAMP}")
        height = key_grip.page.get_by_label("height to the lens")
        height.fill(typed)
        height.blur()
        expect(key_grip.page.get_by_text("not saved yet")).to_have_count(0)
    key_grip.go(f"history/{LAMP}")
    newest = key_grip.page.locator("main li").first
    expect(newest).to_contain_text(re.compile(r"height to the lens: 3.m then 4.m"))
    expect(newest).to_contain_text(KEY_GRIP.name)
    older = key_grip.page.locator("main li").nth(1)
    older.get_by_role("button", name="Put back").click()
    expect(key_grip.page.locator("main li").first).to_contain_text(re.compile(r"4.m then 3.m"))


def test_a_hold_is_raised_in_two_taps_and_says_radio_it_until_others_have_it(
    key_grip: Screen, gaffer: Screen
) -> None:
    page = key_grip.page
    page.context.set_offline(True)
    key_grip.go("shot/12d/rig")
    page.get_by_role("link", name="Raise").tap()
    page.get_by_role("link", name=re.compile("^Hold")).tap()
    expect(page.get_by_label("Why")).to_be_focused()
    page.get_by_label("Why").fill("cable across the door")
    page.get_by_role("button", name="Raise the hold").tap()
    expect(page.get_by_role("heading", name=re.compile("12D"))).to_be_visible()
    expect(page.get_by_text("No one else has this: radio it")).to_be_visible()
    page.context.set_offline(False)
    key_grip.hear()
    gaffer.hear()
    gaffer.engine.ask("() => tailslate.exchangeNow()")
    key_grip.hear()
    expect(page.get_by_text("No one else has this: radio it")).to_have_count(0)
    gaffer.go("day")
    expect(gaffer.page.get_by_role("link", name=re.compile("12D"))).to_contain_text("cable across the door")


def test_a_request_goes_to_the_department_asked_and_stands_in_its_dock(
    key_grip: Screen, gaffer: Screen
) -> None:
    page = key_grip.page
    key_grip.go("raise/request")
    page.get_by_label("What is asked").fill("Kill the practical behind camera")
    page.get_by_label("Ask whom").select_option(label="Electric")
    page.get_by_role("button", name="Send the request").tap()
    expect(page.get_by_text("not heard yet")).to_be_visible()
    key_grip.hear()
    gaffer.hear()
    gaffer.go("day")
    gaffer.page.get_by_role("button", name="Asked of you").tap()
    expect(gaffer.page.get_by_role("link", name=re.compile("Kill the practical"))).to_be_visible()


def test_words_of_people_are_text_wherever_they_stand(key_grip: Screen) -> None:
    screens = ["day", "phone"]
    for shot, hostile in HOSTILE.items():
        task = {"title": hostile, "department": "grip", "shot": shot, "must": "must", "place": hostile}
        key_grip.engine.saved("task", f"t-{shot}", task)
        key_grip.engine.saved("hold", f"h-{shot}", {"why": hostile, "type": "stop", "shot": shot})
        screens += [f"shot/{shot}/rig", *(f"{screen}-{shot}" for screen in OF_ONE)]
    for where in (*screens, "list"):
        key_grip.go(where)
        assert key_grip.page.evaluate("window.hurt") is None, where
        assert key_grip.page.locator("main img").count() == 0, where
    for hostile in HOSTILE.values():
        title = key_grip.page.locator(".row .t bdi").filter(has_text=hostile[:6]).first
        expect(title).to_have_text(hostile)


def test_a_removed_record_comes_back_with_one_tap(key_grip: Screen) -> None:
    key_grip.go("record/mark/mark-12c")
    name = key_grip.page.evaluate("tailslate.recordsOf('mark').value[0]")
    key_grip.go(f"record/{name}")
    page = key_grip.page
    page.get_by_role("button", name="Remove").tap()
    expect(page.get_by_text("It stays in the history.")).to_be_visible()
    page.get_by_role("button", name="Remove").tap()
    expect(page.get_by_text("This was removed.")).to_be_visible()
    page.get_by_role("button", name="Bring it back").tap()
    expect(page.get_by_text("This was removed.")).to_have_count(0)


def test_forgetting_a_day_with_unsent_changes_asks_for_their_number(key_grip: Screen) -> None:
    page = key_grip.page
    page.context.set_offline(True)
    key_grip.engine.saved("note", "n-1", {"text": "one"})
    key_grip.go("phone")
    expect(page.get_by_role("link", name=re.compile("^one"))).to_be_visible()
    page.get_by_role("button", name="Forget this day").tap()
    forget = page.get_by_role("button", name="Forget the day")
    expect(forget).to_be_disabled()
    page.get_by_label("Type 1 to forget them too").fill("1")
    forget.tap()
    expect(page.get_by_role("heading", name="Join a day")).to_be_visible()


def test_the_producer_sees_departments_and_no_names_on_the_board(
    laptop: Page, demonstration: ServerProcess, key_grip: Screen
) -> None:
    key_grip.engine.saved("note", "n-1", {"text": "seen from the van", "shot": "12c"})
    key_grip.hear()
    producer = Screen(laptop, demonstration, PRODUCER, demonstration.join_code("producer"))
    producer.go("day")
    expect(laptop.locator(".beside")).to_contain_text("seen from the van")
    expect(laptop.locator(".frame")).not_to_contain_text(KEY_GRIP.name)


def test_the_phase_of_a_shot_is_one_tap_for_the_assistant_director(
    phone: Page, demonstration: ServerProcess
) -> None:
    director = Screen(
        phone, demonstration, ASSISTANT_DIRECTOR, demonstration.join_code("assistant directors")
    )
    director.go("shot/12c/rig")
    phone.get_by_role("button", name="Phase").tap()
    phone.get_by_role("radio", name="last looks").tap()
    director.engine.until("tailslate.shown(tailslate.recordNow('shot/12c').phase) === 'last_looks'")


def test_a_note_stands_on_the_shot_that_it_was_left_on(key_grip: Screen) -> None:
    page = key_grip.page
    key_grip.go("shot/12d/rig")
    page.get_by_role("link", name="Raise", exact=True).tap()
    page.get_by_role("link", name=re.compile("^Note")).tap()
    page.get_by_label("Note", exact=True).fill("Mind the low beam")
    page.get_by_role("button", name="Keep the note").tap()
    page.get_by_role("button", name="Notes").tap()
    expect(page.get_by_role("link", name=re.compile("Mind the low beam"))).to_be_visible()


def test_a_new_shot_is_added_without_signal(key_grip: Screen) -> None:
    page = key_grip.page
    page.context.set_offline(True)
    key_grip.go("add/shot")
    page.get_by_label("number").fill("12F")
    page.get_by_label("title").fill("Insert, the clock")
    page.get_by_role("button", name="Add", exact=True).tap()
    expect(page.get_by_role("heading", name="12F")).to_be_visible()
    key_grip.go("day")
    expect(page.get_by_role("link", name=re.compile("^12F"))).to_be_visible()
