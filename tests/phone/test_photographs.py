"""Photographs of a day with a signal that comes and goes: taken, kept, sent after the words, seen by others, never by half.

Sources: Pillow (Jeffrey A. Clark and contributors) makes the pictures that go in and reads what comes out; the tags
that must not survive are those of Exif 2.32 (CIPA DC-008).
"""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Callable
from contextlib import closing

import pytest
from playwright.sync_api import FilePayload, Page, Route, expect

from a_photograph import MAKER, digest_of, opened, picture
from devices import accessibility_faults
from people import ART_DIRECTOR, GAFFER
from phone_engine import Engine, invite
from phone_screen import Screen
from server_process import ServerProcess

PUT_PICTURES = "**/photographs/*"
CHART = "dressing/chart"
SAYS = "Chart, corner to camera"


def file(octets: bytes, name: str = "IMG_2041.JPG") -> FilePayload:
    """A file as the camera of a phone names it."""
    return {"name": name, "mimeType": "image/jpeg", "buffer": octets}


class Taker:
    """The art director's phone, and what they do with its camera."""

    def __init__(self, screen: Screen, server: ServerProcess) -> None:
        self.screen = screen
        self.page = screen.page
        self.engine = screen.engine
        self.server = server

    def choose(self, octets: bytes, on: str = CHART) -> None:
        """Open the form of a note on something, and choose a picture in it."""
        self.page.evaluate("where => { location.hash = where; }", f"#/raise/note?on={on}")
        self.page.get_by_label("Choose one").set_input_files(file(octets))

    def take(self, octets: bytes, says: str = SAYS, on: str = CHART) -> str:
        """Keep a note with a picture, and return the picture's record."""
        before = set(self.photographs())
        self.choose(octets, on)
        self.page.get_by_label("What it shows", exact=True).fill(says)
        self.page.get_by_role("button", name="Keep the note").click()
        expect(self.page.get_by_label("What it shows", exact=True)).to_have_count(0)
        (made,) = set(self.photographs()) - before
        return made

    def photographs(self) -> list[str]:
        """The records of all photographs that this phone knows."""
        found = self.engine.ask("() => tailslate.recordsOf('photograph').value")
        return [one for one in found if one != "photograph/table-12a"]  # the demonstration's own

    def look(self, photograph: str) -> None:
        """Open a photograph."""
        self.page.evaluate("where => { location.hash = where; }", f"#/{photograph}")
        expect(self.page.get_by_role("heading", level=1)).to_contain_text("Photograph")

    def unsent(self) -> int:
        """How many pictures this phone has that the server has not."""
        return int(self.engine.ask("() => tailslate.pictures_now.value.unsent"))

    def until_pictures_are_sent(self) -> None:
        """Exchange, and wait until the server has every picture."""
        self.engine.ask("() => tailslate.exchangeNow()")
        self.engine.until("facts.unsent === 0 && tailslate.pictures_now.value.unsent === 0")

    def on_the_server(self) -> dict[str, bytes]:
        """Digest and bytes of every whole picture that a phone brought to the server."""
        with closing(sqlite3.connect(self.server.database)) as database:
            found = database.execute("SELECT digest, octets FROM photographs WHERE carrier != ''")
            return dict(found.fetchall())


def picture_of(page: Page) -> bytes:
    """The bytes of the full picture on a photograph's screen, once the browser has decoded it."""
    expect(page.locator(".picture:not(.small) img")).to_be_visible()
    page.wait_for_function("() => document.querySelector('.picture:not(.small) img').naturalWidth > 200")
    found = page.evaluate(
        """async () => {
          const record = tailslate.recordNow(location.hash.slice(2));
          const { octets, is_full } = await tailslate.picture(tailslate.shown(record.digest), true);
          return is_full ? [...octets] : [];
        }"""
    )
    return bytes(found)


@pytest.fixture
def taker(phone: Page, demonstration: ServerProcess) -> Taker:
    """The art director's phone on the demonstration day."""
    code = invite(demonstration, ART_DIRECTOR)
    return Taker(Screen(phone, demonstration, ART_DIRECTOR, code), demonstration)


@pytest.fixture
def other(second_phone: Page, demonstration: ServerProcess) -> Taker:
    """The gaffer's phone on the same day."""
    return Taker(Screen(second_phone, demonstration, GAFFER, invite(demonstration, GAFFER)), demonstration)


def test_a_picture_taken_without_signal_is_seen_kept_and_sent_after_the_words(
    taker: Taker, other: Taker
) -> None:
    taker.engine.ask("async () => { await navigator.serviceWorker.ready; }")
    taker.page.context.set_offline(True)
    made = taker.take(picture())
    taker.look(made)
    mine = picture_of(taker.page)
    assert taker.engine.reload() == "day"
    taker.look(made)
    assert picture_of(taker.page) == mine, "kept through a reload without signal"
    expect(taker.screen.facts).to_contain_text("3 unsent")  # note, photograph, picture
    asked: list[str] = []
    taker.page.on("request", lambda one: asked.append(f"{one.method} {one.url.split('/')[-1]}"))
    taker.page.context.set_offline(False)
    taker.until_pictures_are_sent()
    puts = [place for place, one in enumerate(asked) if one.startswith("PUT")]
    sent_words = next(place for place, one in enumerate(asked) if one == "POST exchange")
    assert puts
    assert sent_words < puts[0], asked
    other.screen.hear()
    assert other.engine.shown(made, "says") == SAYS
    other.look(made)
    assert picture_of(other.page) == mine
    assert digest_of(mine) == other.engine.shown(made, "digest")
    other.page.context.set_offline(True)
    other.screen.go("day")
    other.look(made)
    assert picture_of(other.page) == mine, "what was fetched is kept"


def test_the_note_shows_its_picture_wherever_it_is_read(taker: Taker) -> None:
    taker.take(picture())
    taker.screen.go(f"record/{CHART}")
    taker.page.get_by_role("button", name="Notes").click()
    row = taker.page.get_by_role("link", name=SAYS).and_(taker.page.locator(".photo"))
    expect(row.locator("img")).to_be_visible()
    row.click()
    expect(taker.page.get_by_role("img", name=SAYS)).to_be_visible()
    taker.page.get_by_label("what it shows").fill("Chart, corner to the window")
    taker.page.get_by_label("what it shows").blur()
    expect(taker.page.get_by_role("img", name="Chart, corner to the window")).to_be_visible()


def test_what_shows_a_picture_has_no_fault_and_fits_the_phone(taker: Taker) -> None:
    made = taker.take(picture())
    missing = {"says": "Not here", "of": CHART, "digest": "0" * 64, "width_px": 4, "height_px": 3, "bytes": 9}
    taker.engine.saved("photograph", "nowhere", missing)
    taker.choose(picture(seed=2))
    expect(taker.page.get_by_label("What it shows", exact=True)).to_be_visible()
    for where in ("", made, "photograph/nowhere", f"record/{CHART}"):
        if where:
            taker.screen.go(where)
        taker.screen.settle()
        assert taker.screen.small_targets() == [], where
        assert taker.screen.overflow_px() == 0, where
        for mode in ("dark", "night", "day"):
            taker.page.evaluate("mode => { document.documentElement.dataset.mode = mode; }", mode)
            assert accessibility_faults(taker.page) == [], (where, mode)


def test_a_hold_carries_a_picture_too(taker: Taker) -> None:
    taker.page.evaluate("() => { location.hash = '#/raise/hold?on=dressing/chart'; }")
    taker.page.get_by_label("Why").fill("Glass on the floor")
    taker.page.get_by_label("Choose one").set_input_files(file(picture()))
    taker.page.get_by_role(
        "button", name="Raise the hold"
    ).click()  # at once: the picture is still being made
    row = taker.page.locator(".photo")
    expect(row).to_contain_text(
        "Glass on the floor"
    )  # nothing was said of the picture, so the hold's words stand
    expect(row.locator("img")).to_be_visible()


def test_place_camera_and_all_other_metadata_stay_behind_and_the_picture_stands_upright(taker: Taker) -> None:
    given = picture(3000, 2000, has_place=True, orientation=6)
    assert MAKER.encode() in given
    assert opened(given).getexif().get_ifd(0x8825)
    taker.take(given)
    taker.until_pictures_are_sent()
    ((digest, kept),) = taker.on_the_server().items()
    assert digest == digest_of(kept)
    assert MAKER.encode() not in kept
    for word in (b"Exif", b"GPS", b"http://ns.adobe.com", b"Photoshop"):
        assert word not in kept
    seen = opened(kept)
    assert dict(seen.getexif()) == {}
    assert seen.size == (1067, 1600), "turned as its orientation said"
    red, _green, blue = seen.convert("RGB").getpixel((1600 * 2 // 3 * 3 // 4, 200))  # type: ignore[misc]
    assert red > blue + 60, "the warm field, upper left in the file, is upper right when turned a quarter"
    assert len(kept) < 400_000


def test_48_megapixels_come_out_at_1600_wide_or_high(taker: Taker) -> None:
    taker.take(picture(8000, 6000, is_noisy=False))
    taker.take(picture(6000, 8000, is_noisy=False))
    taker.until_pictures_are_sent()
    kept = taker.on_the_server().values()
    assert {opened(one).size for one in kept} == {(1600, 1200), (1200, 1600)}


NO_PICTURES = {
    "a document": b"%PDF-1.7 call sheet",
    "nothing": b"",
    "a head alone": picture()[:40],
    "a torn one": b"\xff\xd8\xff\xe0 and then nothing",
}


def test_what_is_no_picture_is_refused_and_the_words_stay(taker: Taker) -> None:
    taker.page.evaluate("where => { location.hash = where; }", f"#/raise/note?on={CHART}")
    taker.page.get_by_label("Note", exact=True).fill("Left glass turned")
    for what, octets in NO_PICTURES.items():
        taker.page.get_by_label("Choose one").set_input_files(file(octets))
        expect(taker.page.get_by_role("alert"), what).to_contain_text("cannot read that as a picture")
        expect(taker.page.get_by_label("Note", exact=True)).to_have_value("Left glass turned")
        taker.page.get_by_label("Choose one").set_input_files(file(picture()))
        expect(taker.page.get_by_label("What it shows", exact=True)).to_be_visible()
        expect(taker.page.get_by_role("alert"), what).to_have_count(0)
        taker.page.get_by_role("button", name="Without it").click()


def test_a_server_killed_in_the_middle_of_an_upload_is_sent_the_rest(taker: Taker) -> None:
    ranges: list[str] = []

    def kill_after_two(route: Route) -> None:
        if route.request.method != "PUT":
            return route.continue_()
        ranges.append(route.request.headers["content-range"])
        if len(ranges) == 3:
            taker.server.kill()
        return route.continue_()

    taker.page.context.route(PUT_PICTURES, kill_after_two)
    with taker.page.expect_event("requestfailed", lambda one: one.method == "PUT", timeout=90_000):
        made = taker.take(picture(3000, 2400))
    assert len(ranges) == 3
    assert taker.unsent() == 1
    taker.server.start()
    taker.until_pictures_are_sent()
    starts = [int(re.split(r"[ -]", one)[1]) for one in ranges]
    assert starts.count(0) == 1, "what had arrived is not sent again"
    assert starts[:3] == [0, 65536, 131072]
    ((digest, kept),) = taker.on_the_server().items()
    assert digest == digest_of(kept) == taker.engine.shown(made, "digest")
    opened(kept)


def test_until_the_picture_arrives_its_words_stand_and_then_it_appears(taker: Taker, other: Taker) -> None:
    taker.page.context.route(PUT_PICTURES, lambda route: route.abort())
    made = taker.take(picture())
    taker.engine.until("facts.unsent === 0")
    other.screen.hear()
    other.look(made)
    expect(other.page.get_by_role("status").filter(has_text="Picture not here yet")).to_be_visible()
    expect(other.page.locator(".picture img")).to_have_count(0)
    taker.page.context.unroute_all(behavior="ignoreErrors")
    taker.until_pictures_are_sent()
    expect(other.page.get_by_role("img", name=SAYS)).to_be_visible()  # the bell rang: nobody tapped


CUT: dict[str, Callable[[bytes], bytes]] = {
    "half of it": lambda whole: whole[: len(whole) // 2],
    "another": lambda _whole: picture(seed=9),
    "a page": lambda _whole: b"<html>",
}


def test_half_a_picture_is_never_shown_as_a_whole_one(taker: Taker, other: Taker) -> None:
    for seed, cut in enumerate(CUT.values(), start=1):
        shown_whole_or_not_at_all(taker, other, taker.take(picture(seed=seed)), cut)


def shown_whole_or_not_at_all(taker: Taker, other: Taker, made: str, cut: Callable[[bytes], bytes]) -> None:
    taker.until_pictures_are_sent()

    def damage(route: Route) -> None:
        whole = route.fetch()
        route.fulfill(response=whole, body=cut(whole.body()))

    other.page.context.route(PUT_PICTURES, damage)
    other.screen.hear()
    other.look(made)
    expect(other.page.get_by_text("What arrived is not this picture")).to_be_visible()
    expect(other.page.locator(".picture img")).to_have_count(0)
    other.page.context.unroute_all(behavior="ignoreErrors")
    # The bell may have brought it already: then there is nothing left to tap.
    other.page.evaluate(
        "() => [...document.querySelectorAll('button')].find((one) => one.textContent === 'Fetch it')?.click()"
    )
    expect(other.page.get_by_role("img", name=SAYS)).to_be_visible()


def test_the_same_picture_twice_is_kept_and_sent_once(taker: Taker) -> None:
    first, second = taker.take(picture()), taker.take(picture(), says="The same again")
    taker.until_pictures_are_sent()
    assert taker.engine.shown(first, "digest") == taker.engine.shown(second, "digest")
    assert len(taker.on_the_server()) == 1


def test_the_oldest_sent_picture_makes_room_and_an_unsent_or_pinned_one_never_does(taker: Taker) -> None:
    oldest, pinned = taker.take(picture(seed=1)), taker.take(picture(seed=2))
    taker.until_pictures_are_sent()
    taker.look(pinned)
    taker.page.get_by_role("button", name="Keep in full on this phone").click()
    expect(taker.page.get_by_role("button", name="Let it make room")).to_be_visible()
    taker.engine.ask("() => tailslate.picturesBudget(1000)")
    taker.page.context.set_offline(True)
    unsent = [taker.take(picture(seed=3)), taker.take(picture(seed=4))]

    def has_full(photograph: str) -> bool:
        digest = taker.engine.shown(photograph, "digest")
        seen = taker.engine.ask("digest => tailslate.picture(digest, true)", digest)
        return bool(seen["is_full"])

    assert [has_full(one) for one in (oldest, pinned, *unsent)] == [False, True, True, True]
    taker.look(oldest)
    expect(taker.page.locator(".picture:not(.small) img")).to_be_visible()  # the small one
    expect(taker.page.get_by_role("status").filter(has_text="fetched once there is signal")).to_be_visible()
    taker.page.context.set_offline(False)
    taker.until_pictures_are_sent()
    taker.page.wait_for_function(
        "digest => tailslate.picture(digest, true).then((one) => one.is_full)",
        arg=taker.engine.shown(oldest, "digest"),
    )


def test_a_full_phone_says_that_the_picture_is_not_kept_and_keeps_the_words(taker: Taker) -> None:
    taker.engine.in_worker(
        """() => {
          self.kept_put = IDBObjectStore.prototype.put;
          IDBObjectStore.prototype.put = function (...asked) {
            if (this.name === "full") throw new DOMException("no room", "QuotaExceededError");
            return self.kept_put.apply(this, asked);
          };
        }"""
    )
    taker.choose(picture())
    taker.page.get_by_label("Note", exact=True).fill("Left glass turned")
    taker.page.get_by_label("What it shows", exact=True).fill(SAYS)
    taker.page.get_by_role("button", name="Keep the note").click()
    expect(taker.page.get_by_role("alert")).to_contain_text("the picture is NOT kept")
    expect(taker.page.get_by_label("Note", exact=True)).to_have_value("Left glass turned")
    assert taker.photographs() == [], "no record names a picture that nobody has"
    taker.engine.in_worker("() => { IDBObjectStore.prototype.put = self.kept_put; }")
    taker.page.get_by_role("button", name="Keep the note").click()
    expect(taker.page.get_by_label("What it shows", exact=True)).to_have_count(0)
    taker.until_pictures_are_sent()
    assert len(taker.on_the_server()) == 1


def test_a_picture_that_the_server_refuses_says_why_and_stays(taker: Taker) -> None:
    sentence = "this picture is refused; take another"
    refusal = {"error": {"code": "not_a_photograph", "sentence": sentence, "request_id": ""}}

    def refuse(route: Route) -> None:
        if route.request.method != "PUT":
            return route.continue_()
        return route.fulfill(status=415, json=refusal, headers={"X-Tailslate": "server"})

    taker.page.context.route(PUT_PICTURES, refuse)
    made = taker.take(picture())
    taker.look(made)
    expect(taker.page.get_by_role("status").filter(has_text=sentence)).to_be_visible()
    expect(taker.page.get_by_role("img", name=SAYS)).to_be_visible()


def test_a_sign_in_page_takes_no_picture_for_sent(taker: Taker) -> None:
    taker.page.context.route(
        PUT_PICTURES,
        lambda route: route.fulfill(status=200, content_type="text/html", body="<!doctype html>"),
    )
    taker.take(picture())
    taker.engine.until("facts.unsent === 0 && tailslate.pictures_now.value.unsent === 1")
    taker.engine.ask("() => tailslate.exchangeNow()")
    assert taker.unsent() == 1
    taker.page.context.unroute_all(behavior="ignoreErrors")
    taker.until_pictures_are_sent()


def test_forgetting_the_day_counts_pictures_that_were_never_sent(taker: Taker) -> None:
    taker.engine.ask("async () => { await navigator.serviceWorker.ready; }")
    taker.page.context.set_offline(True)
    taker.take(picture())
    taker.screen.go("phone")
    taker.page.get_by_role("button", name="Forget this day").click()
    expect(taker.page.get_by_text("3 changes were never sent")).to_be_visible()
    assert taker.engine.ask("() => tailslate.forget(2)") == {"forgotten": False, "unsent": 3}
    assert taker.engine.ask("() => tailslate.forget(3)")["forgotten"]
    names = taker.engine.ask("async () => (await indexedDB.databases()).map(({ name }) => name)")
    assert names == []


def test_another_phone_of_the_day_opens_no_picture_before_someone_looks(
    taker: Taker, other: Taker, open_device: Callable[..., Page]
) -> None:
    asked: list[str] = []
    other.page.on("request", lambda one: "/photographs/" in one.url and asked.append(one.url))
    taker.take(picture())
    taker.until_pictures_are_sent()
    other.screen.hear()
    assert asked == []


def test_two_tabs_send_one_picture_without_harm(taker: Taker) -> None:
    taker.page.context.set_offline(True)
    taker.take(picture(2400, 1800))
    second = Engine(taker.page.context.new_page(), taker.server.url)
    taker.engine.ask("async () => { await navigator.serviceWorker.ready; }")
    assert second.open() == "day"
    second.until("facts.rules")
    taker.page.context.set_offline(False)
    second.ask("() => tailslate.exchangeNow()")
    taker.until_pictures_are_sent()
    ((digest, kept),) = taker.on_the_server().items()
    assert digest == digest_of(kept)
