"""Photographs over HTTP: parts, where to go on, what is refused, who may see them, on both databases.

Sources: Pillow (Jeffrey A. Clark and contributors) makes the pictures and is the outside reading of their sizes;
RFC 9110, 14.5 for partial PUT; ITU-T T.81 annex B, the PNG specification and RFC 9649 for the heads.
"""

from __future__ import annotations

import hashlib
import io
import sqlite3
from dataclasses import dataclass
from pathlib import Path

import pytest
from click.testing import CliRunner
from PIL import Image
from sqlalchemy import func, select

from a_photograph import digest_of, picture
from a_server import HOUR_MS, Here
from people import ART_DIRECTOR, DAY, GAFFER, GRIP, PRODUCER
from phone_double import PhoneDouble, Reply
from tailslate.cli import main
from tailslate.store.backup import BackupRefused, back_up, restore, verify
from tailslate.store.photographs import PART_LIMIT_BYTES, SIZE_LIMIT_BYTES
from tailslate.store.picture import NotAPicture, read_picture
from tailslate.store.tables import PhotographPart

PHOTOGRAPHS = f"/api/days/{DAY}/photographs"


@dataclass
class Upload:
    """A picture on its way from a phone."""

    phone: PhoneDouble
    octets: bytes
    digest: str = ""
    part_bytes: int = PART_LIMIT_BYTES

    def __post_init__(self) -> None:
        self.digest = self.digest or digest_of(self.octets)

    @property
    def address(self) -> str:
        return f"{PHOTOGRAPHS}/{self.digest}"

    def part(self, start: int, *, total: int = 0, octets: bytes | None = None) -> Reply:
        """Send the part that begins at `start`."""
        body = self.octets[start : start + self.part_bytes] if octets is None else octets
        end = start + len(body) - 1
        headers = {
            "Authorization": f"Bearer {self.phone.token}",
            "Content-Type": "application/octet-stream",
            "Content-Range": f"bytes {start}-{end}/{total or len(self.octets)}",
        }
        return self.phone.carry("PUT", self.address, body, headers)

    def whole(self) -> Reply:
        """Send all parts, and return the last answer."""
        reply = Reply()
        for start in range(0, len(self.octets), self.part_bytes):
            reply = self.part(start)
            if reply.status != 200:
                break
        return reply


def get(phone: PhoneDouble, digest: str) -> Reply:
    """Ask for a picture."""
    return phone.ask("GET", f"{PHOTOGRAPHS}/{digest}")


def how_far(here: Here, upload: Upload) -> tuple[int, str]:
    """Return what HEAD says."""
    headers = {"Authorization": f"Bearer {upload.phone.token}"}
    found = here.app.test_client().head(upload.address, headers=headers).headers
    return int(found["Upload-Offset"]), found["Upload-Complete"]


def parts_left(here: Here) -> int:
    """Return how many parts wait on the server for the rest of their picture."""
    with here.parts.database.reading() as session:
        return session.scalar(select(func.count()).select_from(PhotographPart)) or 0


@pytest.mark.parametrize("format", ["JPEG", "PNG", "WEBP"])
def test_p1_a_picture_sent_in_parts_comes_back_as_it_was(on_both: Here, format: str) -> None:
    art, gaffer = on_both.phone_of(ART_DIRECTOR), on_both.phone_of(GAFFER)
    upload = Upload(art, picture(1200, 900, format=format))
    assert len(upload.octets) > PART_LIMIT_BYTES
    assert upload.whole().json == {"offset": len(upload.octets), "is_whole": True}
    found = get(gaffer, upload.digest)
    assert (found.status, found.octets) == (200, upload.octets)
    assert found.content_type == f"image/{format.lower()}"
    assert parts_left(on_both) == 0


def test_p1_half_a_picture_is_given_to_nobody(here: Here) -> None:
    art = here.phone_of(ART_DIRECTOR)
    upload = Upload(art, picture(1200, 900))
    assert upload.part(0).json == {"offset": PART_LIMIT_BYTES, "is_whole": False}
    assert (get(art, upload.digest).status, get(art, upload.digest).json["error"]["code"]) == (
        404,
        "no_such_photograph",
    )


def test_p2_an_upload_goes_on_where_it_stopped_also_after_a_restart(on_both: Here) -> None:
    art = on_both.phone_of(ART_DIRECTOR)
    upload = Upload(art, picture(2400, 1800))
    assert len(upload.octets) > 3 * PART_LIMIT_BYTES
    assert how_far(on_both, upload) == (0, "?0")
    upload.part(0)
    on_both.close()
    on_both.open()
    on_both.reconnect(art)
    assert how_far(on_both, upload) == (PART_LIMIT_BYTES, "?0")
    assert upload.part(0).json["offset"] == PART_LIMIT_BYTES, "sent again because the answer was lost"
    ahead = upload.part(2 * PART_LIMIT_BYTES, octets=b"x")
    assert (ahead.status, ahead.json["error"]["offset"]) == (409, PART_LIMIT_BYTES)
    for start in range(PART_LIMIT_BYTES, len(upload.octets), PART_LIMIT_BYTES):
        upload.part(start)
    assert how_far(on_both, upload) == (len(upload.octets), "?1")
    assert upload.whole().json == {"offset": len(upload.octets), "is_whole": True}, "all of it once more"
    assert get(art, upload.digest).octets == upload.octets


def test_p2_an_upload_that_nobody_went_on_with_for_a_week_begins_anew(on_both: Here) -> None:
    art, gaffer = on_both.phone_of(ART_DIRECTOR), on_both.phone_of(GAFFER)
    left, other = Upload(art, picture(2400, 1800)), Upload(gaffer, picture(2400, 1800, seed=2))
    left.part(0)
    on_both.now_ms += 6 * 24 * HOUR_MS
    other.part(0)
    assert parts_left(on_both) == 2
    on_both.now_ms += 25 * HOUR_MS
    other.part(PART_LIMIT_BYTES)
    assert (how_far(on_both, left), how_far(on_both, other)) == ((0, "?0"), (2 * PART_LIMIT_BYTES, "?0"))
    assert left.whole().json["is_whole"]


def test_p2_parts_of_two_phones_never_mix(on_both: Here) -> None:
    art, grip = on_both.phone_of(ART_DIRECTOR), on_both.phone_of(GRIP)
    mine = Upload(art, picture(1200, 900))
    theirs = Upload(grip, bytes(reversed(mine.octets)), mine.digest)
    mine.part(0)
    theirs.part(0, octets=mine.octets[:20])
    theirs.part(20, octets=b"x" * 40)
    assert mine.whole().json["is_whole"]
    assert get(grip, mine.digest).octets == mine.octets
    assert how_far(on_both, theirs) == (len(mine.octets), "?1")


def test_bytes_that_are_not_what_they_are_named_for_are_dropped(here: Here) -> None:
    art = here.phone_of(ART_DIRECTOR)
    upload = Upload(art, picture(), digest_of(b"another picture"))
    reply = upload.whole()
    assert (reply.status, reply.json["error"]["code"]) == (422, "wrong_digest")
    assert how_far(here, upload) == (0, "?0"), "the next upload begins anew"
    assert parts_left(here) == 0


@pytest.mark.parametrize(
    ("octets", "status", "code"),
    [
        (b"<!doctype html><script>alert(1)</script>", 415, "not_a_photograph"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", 415, "not_a_photograph"),
        (b"GIF89a" + bytes(100), 415, "not_a_photograph"),
        (picture()[:-300], 422, "cut_off"),
        (picture(format="PNG")[:-300], 422, "cut_off"),
        (picture(format="WEBP")[:-300], 422, "cut_off"),
        (b"\xff\xd8\xff\xe0", 422, "cut_off"),
        (picture(has_place=True), 422, "carries_metadata"),
        (picture(format="PNG", has_place=True), 422, "carries_metadata"),
        (picture(format="WEBP", has_place=True), 422, "carries_metadata"),
        (picture(4097, 8, is_noisy=False), 422, "too_many_pixels"),
        (picture(8000, 6000, is_noisy=False), 422, "too_many_pixels"),
    ],
    ids=lambda value: f"{len(value)} bytes" if isinstance(value, bytes) else None,
)
def test_what_is_no_picture_to_keep_is_refused_with_its_reason(
    here: Here, octets: bytes, status: int, code: str
) -> None:
    reply = Upload(here.phone_of(ART_DIRECTOR), octets).whole()
    error = reply.json["error"]
    assert (reply.status, error["code"]) == (status, code)
    assert ";" in error["sentence"], "the sentence names the next step"
    assert parts_left(here) == 0


@pytest.mark.parametrize("format", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("size", [(1, 1), (17, 31), (1600, 1200)])
def test_sizes_are_read_as_pillow_reads_them(format: str, size: tuple[int, int]) -> None:
    found = read_picture(picture(*size, format=format))
    assert (found.width_px, found.height_px) == size


def test_a_lossless_and_a_progressive_picture_are_read_too() -> None:
    for format, how in (("WEBP", {"lossless": True}), ("JPEG", {"progressive": True})):
        made = io.BytesIO()
        Image.new("RGB", (33, 21), (200, 90, 20)).save(made, format, **how)
        found = read_picture(made.getvalue())
        assert (found.width_px, found.height_px) == (33, 21)


def test_no_beginning_of_a_picture_passes_for_a_whole_one() -> None:
    for format in ("JPEG", "PNG", "WEBP"):
        octets = picture(40, 30, format=format)
        for end in range(len(octets)):
            with pytest.raises(NotAPicture):
                read_picture(octets[:end])


def test_a_picture_that_is_too_large_is_refused_before_it_is_sent(here: Here) -> None:
    upload = Upload(here.phone_of(ART_DIRECTOR), picture())
    reply = upload.part(0, total=SIZE_LIMIT_BYTES + 1)
    assert (reply.status, reply.json["error"]["code"]) == (413, "too_large")
    large = Upload(upload.phone, picture(), part_bytes=PART_LIMIT_BYTES + 1)
    large.octets = large.octets + bytes(PART_LIMIT_BYTES)
    assert large.part(0).json["error"]["code"] == "too_large"


@pytest.mark.parametrize("named", ["", "bytes 0-9/10", "bytes 0-11/10", "bytes 5-1/10", "octets 0-11/12"])
def test_a_part_that_does_not_say_where_it_belongs_is_refused(here: Here, named: str) -> None:
    art = here.phone_of(ART_DIRECTOR)
    headers = {"Authorization": f"Bearer {art.token}", "Content-Range": named}
    reply = art.carry("PUT", f"{PHOTOGRAPHS}/{'0' * 64}", b"\xff\xd8\xff012345678", headers)
    assert (reply.status, reply.json["error"]["code"]) in ((400, "no_range"), (400, "cut_off"))


def test_the_day_s_room_and_a_phone_s_share_of_it_are_limited(tmp_path: Path) -> None:
    octets = picture()
    here = Here(str(tmp_path / "day.sqlite3"), PHOTOGRAPH_BYTES_A_DAY=len(octets) * 5)
    art, grip = here.phone_of(ART_DIRECTOR), here.phone_of(GRIP)
    assert Upload(art, octets).whole().status == 200
    second = Upload(art, picture(seed=2)).whole()
    assert (second.status, second.json["error"]["code"]) == (507, "photographs_full")
    assert Upload(grip, octets).whole().json["is_whole"], "the same picture again takes no room"
    assert Upload(grip, picture(seed=3)).whole().status == 200, "another phone has a share of its own"
    here.close()


def test_a_picture_is_never_a_page(here: Here) -> None:
    art = here.phone_of(ART_DIRECTOR)
    upload = Upload(art, picture())
    upload.whole()
    found = (
        here.app.test_client().get(upload.address, headers={"Authorization": f"Bearer {art.token}"}).headers
    )
    assert found["X-Content-Type-Options"] == "nosniff"
    assert found["Content-Disposition"] == f'attachment; filename="{upload.digest}.jpg"'
    assert found["Content-Security-Policy"].startswith("default-src 'none'; sandbox")
    assert found["Cache-Control"] == "no-store"


def test_only_phones_of_the_day_get_pictures(here: Here) -> None:
    art = here.phone_of(ART_DIRECTOR)
    upload = Upload(art, picture())
    upload.whole()
    stranger = here.app.test_client()
    assert stranger.get(upload.address).status_code == 401
    assert stranger.put(upload.address, data=b"x").status_code == 401
    elsewhere = upload.address.replace(DAY, "other-day")
    assert art.ask("GET", elsewhere).status == 403
    for name in ("../../../etc/passwd", "short", "G" * 64):
        assert art.ask("GET", f"{PHOTOGRAPHS}/{name}").status == 404


def test_p3_what_a_revoked_phone_brings_is_parked_until_production_lets_it_count(on_both: Here) -> None:
    producer, lost, gaffer = (on_both.phone_of(member) for member in (PRODUCER, GRIP, GAFFER))
    upload = Upload(lost, picture(1200, 900))
    upload.part(0)
    producer.ask("POST", f"/api/days/{DAY}/devices/{lost.device}/revoke")
    made = lost.act("photograph", "p-1", {"digest": upload.digest, "says": "the table"})
    lost.exchange()
    assert upload.whole().json["is_whole"], "kept, as its edits are"
    assert get(lost, upload.digest).status == 403
    assert get(gaffer, upload.digest).status == 404
    assert get(producer, upload.digest).octets == upload.octets
    told = producer.ask("POST", f"/api/days/{DAY}/verdicts", {"edit": made.id, "says": "counts"})
    assert told.status == 201
    assert get(gaffer, upload.digest).octets == upload.octets


def test_p3_a_parked_picture_that_someone_on_the_day_sends_too_is_everyone_s(here: Here) -> None:
    producer, lost, gaffer = (here.phone_of(member) for member in (PRODUCER, GRIP, GAFFER))
    octets = picture()
    producer.ask("POST", f"/api/days/{DAY}/devices/{lost.device}/revoke")
    Upload(lost, octets).whole()
    own = Upload(gaffer, octets)
    assert how_far(here, own) == (0, "?0")
    assert own.whole().json["is_whole"]
    assert get(gaffer, own.digest).status == 200


def test_a_full_disk_takes_nothing_in(tmp_path: Path) -> None:
    here = Here(str(tmp_path / "day.sqlite3"), FREE_BYTES=lambda _path: 0)
    upload = Upload(here.phone_of(ART_DIRECTOR), picture())
    reply = upload.part(0)
    assert (reply.status, reply.json["error"]["code"], reply.retry_after_s) == (507, "disk_full", 60)
    here.close()


def test_b1_a_backup_holds_the_pictures_and_notices_one_that_is_damaged(here: Here, tmp_path: Path) -> None:
    art = here.phone_of(ART_DIRECTOR)
    upload = Upload(art, picture())
    upload.whole()
    backup = tmp_path / "backup.sqlite3"
    facts = back_up(Path(here.database), backup, 1)
    assert facts["days"][DAY]["photographs"]["count"] == 1
    with sqlite3.connect(backup) as file:
        file.execute("UPDATE photographs SET octets = ?", (upload.octets[:-1],))
    with pytest.raises(BackupRefused, match=upload.digest):
        verify(backup)


def test_b2_a_restored_backup_gives_its_pictures_and_takes_those_it_lacks(here: Here, tmp_path: Path) -> None:
    art = here.phone_of(ART_DIRECTOR)
    before, after = Upload(art, picture(seed=1)), Upload(art, picture(seed=2))
    before.whole()
    back_up(Path(here.database), tmp_path / "backup.sqlite3", 1)
    after.whole()
    here.close()
    restore(tmp_path / "backup.sqlite3", Path(here.database), 2)
    here.open()
    here.reconnect(art)
    assert get(art, before.digest).octets == before.octets
    assert how_far(here, after) == (0, "?0")
    assert after.whole().json["is_whole"]


def test_an_export_writes_the_pictures_beside_the_day_and_an_import_takes_them(
    here: Here, tmp_path: Path
) -> None:
    art = here.phone_of(ART_DIRECTOR)
    upload = Upload(art, picture())
    art.act("photograph", "p-1", {"digest": upload.digest, "says": "the table"})
    art.exchange()
    upload.whole()
    run, folder, file = CliRunner().invoke, str(tmp_path / "pictures"), str(tmp_path / "day.json")
    told = run(main, ["export", "--database", here.database, "--photographs", folder, file])
    assert told.exit_code == 0, told.output
    assert "1 photographs" in told.output
    assert (tmp_path / "pictures" / f"{upload.digest}.jpg").read_bytes() == upload.octets
    assert upload.digest in Path(file).read_text(), "the file names it"
    other = str(tmp_path / "other.sqlite3")
    told = run(main, ["import", "--database", other, "--photographs", folder, file])
    assert "1 photographs" in told.output
    with sqlite3.connect(other) as database:
        ((octets,),) = database.execute("SELECT octets FROM photographs").fetchall()
    assert hashlib.sha256(octets).hexdigest() == upload.digest
