"""The commands as a person types them: a day made, a code read out, a backup taken and brought back."""

from __future__ import annotations

import datetime
import os
import socket
import ssl
from collections.abc import Callable
from pathlib import Path

import click
import pytest
from click.testing import CliRunner, Result

from a_server import Here
from people import GAFFER, GRIP, KEY_GRIP, PRODUCER, PROPS_BUYER, CrewMember
from phone_double import PhoneDouble, over_http
from server_process import ServerProcess
from tailslate import greeting
from tailslate.certificate import Certificates, certificates
from tailslate.cli import DEMONSTRATION_CODES, main

NOON = datetime.datetime(2025, 11, 25, 12, tzinfo=datetime.UTC)


def tailslate(*arguments: str) -> Result:
    """Run a command in this process."""
    return CliRunner().invoke(main, list(arguments))


@pytest.mark.parametrize("command", sorted(main.commands))
def test_every_command_and_option_says_what_it_is_for(command: str) -> None:
    found = main.commands[command]
    assert found.help
    assert [one.name for one in found.params if isinstance(one, click.Option) and not one.help] == []
    assert tailslate(command, "--help").exit_code == 0


@pytest.mark.slow
def test_a_code_from_the_command_opens_the_day_on_a_running_server(
    tmp_path: Path, start_server: Callable[[str], ServerProcess]
) -> None:
    database = str(tmp_path / "day.sqlite3")
    server = start_server(database)
    made = tailslate("invite", "--database", database, "--department", "grip", "--head", "--uses", "1")
    phone = PhoneDouble(over_http(server.url), KEY_GRIP)
    assert phone.join(made.output.strip()).status == 201
    phone.act("hold", "h-1", {"cleared": ["done", []]})
    phone.exchange()
    assert phone.is_matched()


@pytest.mark.slow
def test_the_first_start_prints_a_code_for_production(
    tmp_path: Path, start_server: Callable[[str], ServerProcess]
) -> None:
    server = start_server(str(tmp_path / "day.sqlite3"))
    code = next(line.split()[0] for line in server.log.splitlines() if line.endswith("   production"))
    phone = PhoneDouble(over_http(server.url), PRODUCER)
    assert phone.join(code).status == 201
    assert phone.ask("GET", f"/api/days/{phone.day}/devices").status == 200
    server.stop()
    server.start()
    assert code not in server.log.rsplit("Tailslate:", 1)[1], (
        "a code at every start would fill a service's log"
    )


@pytest.mark.slow
def test_yesterday_s_backup_is_brought_back_and_the_phones_refill_it(
    tmp_path: Path, start_server: Callable[[str], ServerProcess]
) -> None:
    database, backup = str(tmp_path / "day.sqlite3"), str(tmp_path / "yesterday.sqlite3")
    server = start_server(database)
    phones = []
    for member in (KEY_GRIP, GRIP, PRODUCER):
        made = tailslate("invite", "--database", database, "--department", member.departments[0])
        phones.append(PhoneDouble(over_http(server.url), member))
        phones[-1].join(made.output.strip())
        phones[-1].exchange()
    taken = tailslate("backup", "--database", database, backup)
    assert taken.exit_code == 0, taken.output
    for phone in phones:
        phone.keep(phone.pen.ticks(50))
        phone.exchange()
    refused = tailslate("restore", "--database", database, backup)
    assert refused.exit_code == 1
    assert "stop the server" in refused.output
    server.stop()
    brought = tailslate("restore", "--database", database, backup)
    assert brought.exit_code == 0, brought.output
    server.start()
    for phone in phones:
        phone.carry = over_http(server.url)
    for _again in range(2):
        for phone in phones:
            phone.exchange()
    assert len({frozenset(phone.texts["floor"]) for phone in phones}) == 1
    assert all(phone.is_matched() for phone in phones)
    assert len(phones[0].texts["floor"]) > 150


def test_a_second_day_is_added_and_invited_to(tmp_path: Path) -> None:
    database = str(tmp_path / "day.sqlite3")
    made = tailslate("new-day", "--database", database, "Night Crossing, day 5")
    day_id = made.output.strip()
    assert tailslate("invite", "--database", database, "--department", "art", "--day", day_id).exit_code == 0
    wrong = tailslate("invite", "--database", database, "--department", "art", "--day", "no-such-day")
    assert wrong.exit_code == 1
    assert "no-such-day" in wrong.output


def test_a_whole_day_goes_to_another_server_in_one_file_and_twice_changes_nothing(tmp_path: Path) -> None:
    here = Here(str(tmp_path / "set.sqlite3"))
    props, gaffer = here.phone_of(PROPS_BUYER), here.phone_of(GAFFER)
    props.act("allergy", "a-1", {"what": "nuts"})
    gaffer.act("hold", "h-1", {"cleared": ["done", []]})
    for phone in (props, gaffer):
        phone.keep(phone.pen.ticks(600))
        phone.exchange()
    here.close()
    for name, options in (("floor", []), ("all", ["--with-health"])):
        file = str(tmp_path / f"{name}.json")
        assert tailslate("export", "--database", here.database, *options, file).exit_code == 0
        assert ("nuts" in Path(file).read_text(encoding="utf-8")) == (name == "all")
    office = str(tmp_path / "office.sqlite3")
    assert tailslate("import", "--database", office, file).output.strip().endswith("0 known, 0 refused")
    assert tailslate("import", "--database", office, file).output.startswith("0 stored")
    there = Here(office, opens_day=False)
    assert set(there.edits()) == set(here.edits())
    there.reconnect(gaffer)
    assert gaffer.exchange()["outcome"] == "not_allowed", "credentials do not travel in the file"
    again = there.phone_of(GAFFER, person=gaffer.person)
    again.exchange()
    assert again.cells("hold", "h-1")["hold/h-1/cleared"][1] != []


def test_a_damaged_file_is_refused_by_part_and_what_is_whole_only_on_request(tmp_path: Path) -> None:
    here = Here(str(tmp_path / "set.sqlite3"))
    gaffer = here.phone_of(GAFFER)
    gaffer.act("task", "t-1", {"title": "Bag stand 3"})
    gaffer.exchange()
    here.close()
    file, office = tmp_path / "day.json", str(tmp_path / "office.sqlite3")
    assert tailslate("export", "--database", here.database, str(file)).exit_code == 0
    file.write_text(file.read_text(encoding="utf-8").replace("Bag stand 3", "Bag stand 8"), encoding="utf-8")
    refused = tailslate("import", "--database", office, str(file))
    assert refused.exit_code == 1
    assert "floor, edit " in refused.output
    assert "nothing was taken in" in refused.output
    taken = tailslate("import", "--database", office, "--only-whole", str(file))
    assert taken.exit_code == 0
    assert "0 refused" in taken.output
    cut = tmp_path / "cut.json"
    cut.write_text(file.read_text(encoding="utf-8")[:-40], encoding="utf-8")
    assert "--only-whole" in tailslate("import", "--database", office, str(cut)).output
    assert tailslate("import", "--database", office, "--only-whole", str(cut)).exit_code == 0


@pytest.mark.parametrize(
    "content", ["", "[]", "{", '{"file": "tailslate-day-1"}', '{"file": "other"}', "[" * 100000]
)
def test_a_file_that_is_no_day_is_refused_in_a_sentence(tmp_path: Path, content: str) -> None:
    file = tmp_path / "file.json"
    file.write_text(content)
    found = tailslate("import", "--database", str(tmp_path / "d.sqlite3"), str(file))
    assert found.exit_code == 1
    assert "export" in found.output


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("invite", "--department", "catering"), "'catering' is not one of"),
        (("backup", "copy.sqlite3"), "there is no database"),
        (("backup", "--database", "postgresql://u@h/d", "copy"), "pg_dump"),
    ],
)
def test_what_cannot_be_done_is_said_in_a_sentence(
    tmp_path: Path, arguments: tuple[str, ...], words: str
) -> None:
    command, *rest = arguments
    found = CliRunner(env={"TAILSLATE_DATA": str(tmp_path)}).invoke(main, [command, *rest])
    assert found.exit_code != 0
    assert words in found.output
    assert "Traceback" not in found.output


def test_a_port_in_use_is_said_before_anything_starts(tmp_path: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = str(taken.getsockname()[1])
        found = tailslate(
            "serve", "--database", str(tmp_path / "d.sqlite3"), "--host", "127.0.0.1", "--port", port
        )
    assert found.exit_code == 1
    assert f"port {port}" in found.output
    assert "--port" in found.output


def test_the_greeting_says_where_how_to_join_and_why_a_phone_cannot_keep_it_yet() -> None:
    codes = [greeting.Code("key grip", "ABCD-EFGH"), greeting.Code("producer", "JKLM-NPQR")]
    here, there = "http://127.0.0.1:8000", "http://192.0.2.7:8000"
    plain = greeting.greeting(
        here=here, there=there, day_title="Day 4", codes=codes, fingerprint="", draws=True
    )
    for words in (
        here,
        there,
        "ABCD-EFGH   key grip",
        "JKLM-NPQR   producer",
        f"{there}/join#ABCD-EFGH",
        "--tls",
        "█",
    ):
        assert words in plain
    assert "cannot install the app" in plain
    trusted = greeting.greeting(
        here=here, there=there, day_title="Day 4", codes=codes, fingerprint="AA:BB", draws=False
    )
    assert "AA:BB" in trusted
    assert f"{there}/certificate" in trusted
    assert "█" not in trusted


def handshake(found: Certificates, name: str, authority: Path | None) -> None:
    """Shake hands as a phone that trusts `authority` and opened `name`; raises SSLError when it does not trust it."""
    served = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    served.load_cert_chain(found.server, found.server_key)
    phone = ssl.create_default_context(cafile=str(authority) if authority else None)
    to_server, to_phone = ssl.MemoryBIO(), ssl.MemoryBIO()
    one = phone.wrap_bio(to_phone, to_server, server_hostname=name)
    other = served.wrap_bio(to_server, to_phone, server_side=True)
    done = 0
    for _step in range(10):
        for side in (one, other):
            try:
                side.do_handshake()
                done += 1
            except ssl.SSLWantReadError:
                continue
    assert done >= 2


def test_a_phone_that_trusts_the_authority_trusts_the_server_by_every_name(tmp_path: Path) -> None:
    found = certificates(
        tmp_path, ["localhost", "127.0.0.1", "192.0.2.7", "cart.local"], datetime.datetime.now(datetime.UTC)
    )
    for name in ("localhost", "127.0.0.1", "192.0.2.7", "cart.local"):
        handshake(found, name, found.authority)
    with pytest.raises(ssl.SSLCertVerificationError):
        handshake(found, "elsewhere.example", found.authority)
    with pytest.raises(ssl.SSLCertVerificationError):
        handshake(found, "localhost", None)


def test_the_authority_s_key_is_its_owner_s_alone_and_stays_while_the_server_s_changes(
    tmp_path: Path,
) -> None:
    first = certificates(tmp_path / "c", ["localhost"], NOON)
    for key in ("authority.key", "server.key"):
        assert os.stat(tmp_path / "c" / key).st_mode & 0o777 == 0o600
    server, authority = first.server.read_bytes(), first.authority.read_bytes()
    assert certificates(tmp_path / "c", ["localhost"], NOON).server.read_bytes() == server
    moved = certificates(tmp_path / "c", ["localhost", "192.0.2.9"], NOON)
    renamed = moved.server.read_bytes()
    assert renamed != server
    assert moved.fingerprint == first.fingerprint
    later = certificates(tmp_path / "c", ["localhost"], NOON + datetime.timedelta(days=380))
    assert later.server.read_bytes() != renamed
    assert later.authority.read_bytes() == authority


@pytest.mark.slow
def test_the_demonstration_day_opens_for_every_department_that_it_names(demonstration: ServerProcess) -> None:
    for whom, departments, is_head in DEMONSTRATION_CODES:
        member = CrewMember("Someone", whom, departments, is_head)
        phone = PhoneDouble(over_http(demonstration.url), member)
        assert phone.join(demonstration.join_code(whom)).status == 201
        phone.exchange()
        assert phone.is_matched()
        assert len(phone.texts["floor"]) > 100
        outs = [one for one in phone.edits() if one.kind == "verdict" and one.changes[0][1][0] != "counts"]
        assert outs == []
