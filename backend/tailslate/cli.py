"""The command `tailslate`: serve, demo, invite, new-day, backup, restore, export, import, sheet, pack, report, csv, match."""

from __future__ import annotations

import datetime
import errno
import hashlib
import json
import socket
import sys
import tempfile
import threading
import webbrowser
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import Any

import click
from flask import Flask
from granian.constants import Interfaces, SSLProtocols
from granian.log import LogLevels
from granian.server import Server

from tailslate import __version__, demonstration, next_day
from tailslate.api.at_hand import KEY, Parts
from tailslate.app import create_app, wall_clock_ms
from tailslate.certificate import Certificates, certificates
from tailslate.day import edit as edits
from tailslate.day.edit import Edit
from tailslate.day.kinds import DEPARTMENT_NAMES
from tailslate.desk import sheet
from tailslate.greeting import Code, addresses, greeting, server_names
from tailslate.pack.commands import csv, match_command, pack, report
from tailslate.pack.whole_day import records_of
from tailslate.store import crew
from tailslate.store.backup import FACTS_SUFFIX, BackupRefused, back_up, restore
from tailslate.store.database import DatabaseDamaged, database_url
from tailslate.store.day_file import FileRefused, read_file, take_day, write_day
from tailslate.store.intake import NoSuchDay, days
from tailslate.store.photographs import PhotographRefused, keep, take_files, write_files
from tailslate.store.seal import make_sealed

HOUR_MS = 3_600_000
FIRST_TITLE = "Shooting day"
THREADS = 256
WAITING_REQUESTS = 512
STOP_SECONDS = 3  # then the streams that still wait are cut; what was confirmed is on disk by then
DEMONSTRATION_CODES = (
    ("key grip", ("grip",), True),
    ("gaffer", ("electric",), True),
    ("art department and props", ("art", "props"), True),
    ("camera", ("camera",), False),
    ("assistant directors", ("assistant_directors",), True),
    ("producer", ("production",), True),
)

DATABASE = click.option(
    "--database",
    envvar="TAILSLATE_DATABASE",
    help="Path of an SQLite file, or postgresql://...; by default tailslate.sqlite3 in the data folder.",
)
DATA = click.option(
    "--data",
    type=click.Path(file_okay=False, path_type=Path),
    default=lambda: click.get_app_dir("tailslate"),
    envvar="TAILSLATE_DATA",
    help="Folder for the database and the certificates.",
)


def serving(command: Callable[..., None]) -> Callable[..., None]:
    """Add the options that serve and demo share."""
    for option in (
        click.option("--open", "opens", is_flag=True, help="Open it in this machine's browser."),
        click.option(
            "--tls", is_flag=True, help="Serve https with a certificate authority of this server's own."
        ),
        click.option("--name", "names", multiple=True, help="A further host name for the certificate."),
        click.option(
            "--port",
            default=8000,
            show_default=True,
            type=click.IntRange(1, 65535),
            help="Port to listen at.",
        ),
        click.option(
            "--host",
            default="0.0.0.0",  # phones on the network are the purpose
            show_default=True,
            help="Address to listen at; 127.0.0.1 keeps it to this machine.",
        ),
    ):
        command = option(command)
    return command


class Commands(click.Group):
    """Says what a person can mend in a sentence and not as a traceback."""

    def invoke(self, ctx: click.Context) -> Any:
        """Run the chosen command."""
        try:
            return super().invoke(ctx)
        except (BackupRefused, DatabaseDamaged, FileRefused, PhotographRefused) as error:
            raise click.ClickException(str(error)) from error
        except NoSuchDay as error:
            raise click.ClickException(f"there is no day {error} in this database") from error
        except FileExistsError as error:
            raise click.ClickException(f"{error.filename} exists already; choose another name") from error


@click.group(cls=Commands)
@click.version_option(__version__)
def main() -> None:
    """A film crew's shared prep checklist for one shooting day."""


for at_a_desk in (sheet, pack, report, csv, match_command):
    main.add_command(at_a_desk)


@main.command()
@serving
@DATABASE
@DATA
@click.option("--title", default=FIRST_TITLE, help="Title of the first day, when the database is new.")
@click.option(
    "--proxy-hops", default=0, type=click.IntRange(0, 5), help="How many proxies of yours stand in front."
)
@click.option("--withdraw-worker", is_flag=True, help="Make phones drop a service worker that went wrong.")
def serve(
    database: str | None, data: Path, title: str, proxy_hops: int, withdraw_worker: bool, **serving: Any
) -> None:
    """Run the server until it is stopped."""
    config = {
        "DATABASE": _database(database, data),
        "PROXY_HOPS": proxy_hops,
        "WITHDRAW_WORKER": withdraw_worker,
    }
    with _app(config) as app:
        day_id, day_title, is_new = _newest_day(app, title)
        codes = (
            [Code("production", _code(app, day_id, ("production",), is_head=True))]
            if is_new or _is_seen()
            else []
        )
    _run(config, data, day_title=day_title, codes=codes, **serving)


@main.command()
@serving
@DATABASE
@DATA
def demo(database: str | None, data: Path, **serving: Any) -> None:
    """Run a server with the demonstration day; kept nowhere unless --database says where."""
    with tempfile.TemporaryDirectory(prefix="tailslate-") as folder:
        config = {"DATABASE": database or str(Path(folder) / "demonstration.sqlite3")}
        with _app(config) as app:
            day_id, day_title, is_new = _newest_day(app, str(demonstration.plan()["title"]))
            if is_new:
                _load_demonstration(app, day_id)
            codes = [
                Code(whom, _code(app, day_id, departments, is_head=is_head))
                for whom, departments, is_head in DEMONSTRATION_CODES
            ]
        _run(config, data, day_title=day_title, codes=codes, **serving)


@main.command()
@DATABASE
@DATA
@click.option(
    "--department",
    "departments",
    multiple=True,
    required=True,
    type=click.Choice(DEPARTMENT_NAMES),
    help="Whom the code is for; may be given several times.",
)
@click.option("--head", is_flag=True, help="For the head of a department, who may clear safety holds.")
@click.option(
    "--uses", default=10, show_default=True, type=click.IntRange(1, 200), help="How many phones it admits."
)
@click.option(
    "--hours", default=24, show_default=True, type=click.IntRange(1, 168), help="How long it is good."
)
@click.option("--day", "day_id", help="Id of the day; by default the newest.")
def invite(
    database: str | None,
    data: Path,
    departments: tuple[str, ...],
    head: bool,
    uses: int,
    hours: int,
    day_id: str | None,
) -> None:
    """Make a join code for one or more departments and print it."""
    with _app({"DATABASE": _database(database, data), "CHECK_DATABASE": False}) as app:
        chosen = day_id or _newest_day(app, FIRST_TITLE)[0]
        click.echo(_code(app, chosen, departments, is_head=head, uses=uses, hours=hours))


@main.command()
@DATABASE
@DATA
@click.option(
    "--like",
    help="Make it like another day: a file that `tailslate export` wrote, or the id of a day of this database. "
    "Structure and crew are kept; ticks, readings, takes, holds and times of the day stay behind.",
)
@click.argument("title")
def new_day(database: str | None, data: Path, like: str | None, title: str) -> None:
    """Add a day and print its id."""
    with _app({"DATABASE": _database(database, data), "CHECK_DATABASE": False}) as app:
        parts: Parts = app.extensions[KEY]
        records: dict[str, Any] = {}
        if like:
            is_file = Path(like).is_file()
            other = read_file(Path(like)) if is_file else write_day(parts.database, like, with_health=False)
            found = [edits.read(text, day=other["day"]) for text in other["sets"].get("floor", [])]
            records = records_of(found)
        with parts.database.writing() as session:
            day_id = parts.office.open_day(session, title=title, now_ms=wall_clock_ms())
        _take_written(
            app,
            day_id,
            next_day.edits_of(
                records,
                day_id=day_id,
                incarnation=crew.random_name(),
                now_ms=wall_clock_ms(),
                seal=partial(make_sealed, parts.office.secret),
            ),
        )
        click.echo(day_id)


@main.command()
@DATABASE
@DATA
@click.argument("target", type=click.Path(dir_okay=False, path_type=Path))
def backup(database: str | None, data: Path, target: Path) -> None:
    """Copy the database to TARGET while the server runs, and check the copy."""
    facts = back_up(_sqlite_file(database, data), target, wall_clock_ms())
    click.echo(f"{target} holds {_counted(facts)}; keep {target.name}{FACTS_SUFFIX} beside it")


@main.command("restore")
@DATABASE
@DATA
@click.argument("source", type=click.Path(exists=True, dir_okay=False, path_type=Path))
def restore_command(database: str | None, data: Path, source: Path) -> None:
    """Put a backup in the database's place; the server must be stopped. Phones bring back what it lacks."""
    target = _sqlite_file(database, data)
    facts = restore(source, target, wall_clock_ms())
    click.echo(f"{target} holds {_counted(facts)} again.")
    click.echo("Look at the list of devices: one that was taken off the day after the backup is on it again.")


@main.command("export")
@DATABASE
@DATA
@click.option("--day", "day_id", help="Id of the day; by default the newest.")
@click.option(
    "--with-health", is_flag=True, help="Also allergies and the like; keep such a file to yourself."
)
@click.option(
    "--photographs",
    type=click.Path(file_okay=False, path_type=Path),
    help="Folder to write its pictures to, each named by its SHA-256, as TARGET names them.",
)
@click.argument("target", type=click.Path(dir_okay=False, path_type=Path))
def export_day(
    database: str | None,
    data: Path,
    day_id: str | None,
    with_health: bool,
    photographs: Path | None,
    target: Path,
) -> None:
    """Write a whole day to TARGET, every edit as it was made."""
    with _app({"DATABASE": _database(database, data), "CHECK_DATABASE": False}) as app:
        parts: Parts = app.extensions[KEY]
        found = write_day(parts.database, day_id or _newest_day(app, FIRST_TITLE)[0], with_health=with_health)
        pictures = 0
        if photographs:
            with parts.database.reading() as session:
                pictures = write_files(session, day_id=found["day"], folder=photographs)
    with target.open("x", encoding="utf-8") as file:  # never over another file
        json.dump(found, file, ensure_ascii=False)
    click.echo(
        f"{target} holds {sum(len(texts) for texts in found['sets'].values())} edits of {found['title']}"
    )
    if photographs:
        click.echo(f"{photographs} holds {pictures} photographs")


@main.command("import")
@DATABASE
@DATA
@click.option("--only-whole", is_flag=True, help="Of a damaged file take the edits that are whole.")
@click.option(
    "--photographs",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    help="Folder with its pictures, as export wrote it.",
)
@click.argument("source", type=click.Path(exists=True, dir_okay=False, path_type=Path))
def import_day(
    database: str | None, data: Path, only_whole: bool, photographs: Path | None, source: Path
) -> None:
    """Take the edits of SOURCE into this database; what is here already stays once."""
    with _app({"DATABASE": _database(database, data), "CHECK_DATABASE": False}) as app:
        parts: Parts = app.extensions[KEY]
        found = read_file(source, only_whole=only_whole)
        counted = take_day(parts.database, parts.office, found, wall_clock_ms())
        if photographs:
            with parts.database.writing() as session:
                pictures = take_files(
                    session, day_id=found["day"], folder=photographs, now_ms=wall_clock_ms()
                )
            counted["photographs"] = pictures
    click.echo(", ".join(f"{count} {word}" for word, count in counted.items()))


class Load:
    """Makes the app in the server's process; an object, so that it can be handed to one."""

    def __init__(self, config: dict[str, Any], opens: str) -> None:
        self.config = config
        self.opens = opens

    def __call__(self) -> Flask:
        """Return the app, and open it in a browser when asked to."""
        app = create_app({**self.config, "CHECK_DATABASE": False})  # the command has done so
        if self.opens:
            threading.Thread(target=webbrowser.open, args=(self.opens,), daemon=True).start()
        return app


def _run(
    config: dict[str, Any],
    data: Path,
    *,
    day_title: str,
    codes: list[Code],
    host: str,
    port: int,
    tls: bool,
    names: tuple[str, ...],
    opens: bool,
) -> None:
    _refuse_a_taken_port(host, port)
    shown: Certificates | None = None
    if tls:
        now = datetime.datetime.now(datetime.UTC)
        shown = certificates(data / "certificates", server_names(host, names), now)
        config = {**config, "CERTIFICATE_AUTHORITY": str(shown.authority)}
    here, there = addresses(host, port, tls=tls)
    draws = (sys.stdout.encoding or "").lower().replace("-", "") == "utf8"
    fingerprint = shown.fingerprint if shown else ""
    click.echo(
        greeting(
            here=here, there=there, day_title=day_title, codes=codes, fingerprint=fingerprint, draws=draws
        )
    )
    sys.stdout.flush()
    link = f"{here}/join#{codes[0].code}" if codes else here
    # one process: the bell and the queue of writers live in it
    server = Server(
        "tailslate.app",
        address=host,
        port=port,
        interface=Interfaces.WSGI,
        workers=1,
        blocking_threads=THREADS,
        backpressure=WAITING_REQUESTS,
        respawn_failed_workers=True,
        workers_kill_timeout=STOP_SECONDS,
        log_level=LogLevels.error,
        ssl_cert=shown.server if shown else None,
        ssl_key=shown.server_key if shown else None,
        ssl_protocol_min=SSLProtocols.tls12,
    )
    server.serve(target_loader=Load(config, link if opens else ""), wrap_loader=False)


@contextmanager
def _app(config: dict[str, Any]) -> Iterator[Flask]:
    """Give an app for a moment; none of its connections is left open."""
    app = create_app(config)
    parts: Parts = app.extensions[KEY]
    try:
        yield app
    finally:
        parts.database.engine.dispose()


def _newest_day(app: Flask, title: str) -> tuple[str, str, bool]:
    """Return id and title of the newest day, made when there is none, and whether it was."""
    parts: Parts = app.extensions[KEY]
    with parts.database.writing() as session:
        found = days(session)
        if found:
            return found[-1].id, found[-1].title, False
        return parts.office.open_day(session, title=title, now_ms=wall_clock_ms()), title, True


def _load_demonstration(app: Flask, day_id: str) -> None:
    """Bring the demonstration day in as a phone would: read, stored and judged edit by edit."""
    parts: Parts = app.extensions[KEY]
    made = demonstration.edits_of(
        demonstration.plan(),
        day_id=day_id,
        incarnation=crew.random_name(),
        salts=iter(lambda: crew.random_name(8), ""),
        now_ms=wall_clock_ms(),
        seal=partial(make_sealed, parts.office.secret),
    )
    _take_written(app, day_id, made)
    with parts.database.writing() as session:
        for octets in demonstration.pictures():
            keep(
                session,
                day_id=day_id,
                digest=hashlib.sha256(octets).hexdigest(),
                octets=octets,
                carrier="",
                is_parked=False,
                now_ms=wall_clock_ms(),
            )


def _take_written(app: Flask, day_id: str, made: Sequence[Edit]) -> None:
    """Take edits that this program wrote as a phone would bring them."""
    parts: Parts = app.extensions[KEY]
    with parts.database.writing() as session:
        parts.office.take_written(session, made, day_id=day_id, now_ms=wall_clock_ms())


def _code(
    app: Flask, day_id: str, departments: tuple[str, ...], *, is_head: bool, uses: int = 20, hours: int = 24
) -> str:
    parts: Parts = app.extensions[KEY]
    now_ms = wall_clock_ms()
    with parts.database.writing() as session:
        if day_id not in [one.id for one in days(session)]:
            raise NoSuchDay(day_id)
        _row, code = crew.invite(
            session,
            day_id=day_id,
            departments=departments,
            is_head=is_head,
            uses=uses,
            expires_ms=now_ms + hours * HOUR_MS,
            made_by="",
            now_ms=now_ms,
        )
    return code


def _database(database: str | None, data: Path) -> str:
    if database:
        return database
    data.mkdir(mode=0o700, parents=True, exist_ok=True)
    return str(data / "tailslate.sqlite3")


def _sqlite_file(database: str | None, data: Path) -> Path:
    url = database_url(_database(database, data))
    if not url.startswith("sqlite:///"):
        raise BackupRefused("PostgreSQL has its own tools for this: pg_dump, pg_restore")
    return Path(url.removeprefix("sqlite:///"))


def _is_seen() -> bool:
    """Tell whether a person sees what is printed: a code must not end up in a service's log at every start."""
    return sys.stdout.isatty()


def _refuse_a_taken_port(host: str, port: int) -> None:
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with socket.socket(family) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError as error:
            why = "is in use" if error.errno == errno.EADDRINUSE else f"cannot be used ({error.strerror})"
            raise click.ClickException(f"port {port} at {host} {why}; choose another with --port") from error


def _counted(facts: dict[str, Any]) -> str:
    held = [(name, one["count"]) for sets in facts["days"].values() for name, one in sets.items()]
    pictures = sum(count for name, count in held if name == "photographs")
    edits = sum(count for _name, count in held) - pictures
    shown = f" and {pictures} photographs" if pictures else ""
    return f"{len(facts['days'])} day(s) with {edits} edits{shown}"
