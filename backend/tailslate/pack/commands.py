"""The commands `pack`, `report`, `csv` and `match`: paper and tables at a desk, from a file, without a server."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from tailslate import desk
from tailslate.day import match, sheet
from tailslate.day.gathered import Gathered
from tailslate.pack import cells, day_pack, day_report, paper, pictures, tables
from tailslate.pack.blocks import Block
from tailslate.pack.whole_day import WholeDay

FILE = click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
UNITS = click.option(
    "--units",
    type=click.Choice(["metric", "imperial"]),
    default="metric",
    show_default=True,
    help="Units that it is told in.",
)
AT = click.option("--at", "at", help="Time to tell it for, such as 2026-11-25T14:00+00:00; by default now.")
FONTS = click.option(
    "--fonts",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    help="Folder of font files, for letters that the built-in faces lack.",
)


OUT = click.option(
    "--out",
    type=click.Path(dir_okay=False, path_type=Path),
    required=True,
    help="File to write, such as day.pdf.",
)


@click.command("pack")
@FILE
@OUT
@click.option("--join", "join_link", default="", help="Join link; its QR code is printed on the first page.")
@click.option(
    "--photographs",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    help="Folder with its pictures, as export wrote it; they are printed last.",
)
@UNITS
@FONTS
@AT
def pack(
    file: Path,
    out: Path,
    join_link: str,
    photographs: Path | None,
    units: str,
    fonts: Path | None,
    at: str | None,
) -> None:
    """Print the day in FILE as PDF: emergency card, shots, each shot's sheet, checklists to tick by pen, pictures."""
    day = _day(file, at, units)
    held = None
    if photographs:
        wanted = pictures.digests(day)
        held = {one.stem: one.read_bytes() for one in photographs.iterdir() if one.stem in wanted}
    _print(day_pack.of_day(day, join_link=join_link, pictures_held=held), day, out, fonts)


@click.command("report")
@FILE
@OUT
@UNITS
@FONTS
@AT
def report(file: Path, out: Path, units: str, fonts: Path | None, at: str | None) -> None:
    """Print the end of the day in FILE as PDF: as shot, takes, holds, what was used up, safety ticks by name."""
    day = _day(file, at, units)
    _print(day_report.of_day(day), day, out, fonts)


@click.command("csv")
@FILE
@click.option("--what", type=click.Choice(list(tables.TABLES)), required=True, help="Which table.")
@click.option(
    "--out", type=click.Path(dir_okay=False, path_type=Path), help="File to write; by default the terminal."
)
@AT
def csv(file: Path, what: str, out: Path | None, at: str | None) -> None:
    """Write a table of the day in FILE for a spreadsheet; no cell of it runs as a formula."""
    octets = cells.written(tables.of_day(_day(file, at, "metric"), what)).encode("utf-8")
    if out:
        _write(out, octets)
    else:
        click.echo(octets, nl=False)


@click.command("match")
@FILE
@click.option("--shot", "name", required=True, help="Number or id of the pickup, such as 12C.")
@click.option(
    "--with",
    "other",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="File that holds the earlier shot; by default the same.",
)
@click.option(
    "--shot-then", "name_then", required=True, help="Number or id of the shot that it must cut with."
)
@UNITS
@AT
def match_command(
    file: Path, name: str, other: Path | None, name_then: str, units: str, at: str | None
) -> None:
    """Tell point by point how a shot in FILE differs from the one that it must cut with."""
    found = match.of_shots(
        _sheet(_day(file, at, units), name), _sheet(_day(other or file, at, units), name_then)
    )
    click.echo(f"{found['now']}, beside {found['then']}")
    click.echo(found["sentence"])
    for state in (match.DIFFERS, match.MAY_DIFFER, match.UNKNOWN, match.MATCHES):
        for one in found["points"]:
            if one["state"] == state:
                off = f" ({one['difference']})" if one["difference"] else ""
                let_pass = f"; {one['tolerance']}" if one["tolerance"] else ""
                said = f"  {one['word']}: {one['about']}: now {one['now']}; then {one['then']}{off}{let_pass}"
                click.echo(said.replace(desk.HARD_SPACE, " "))


def _sheet(day: WholeDay, name: str) -> tuple[dict[str, Any], Gathered]:
    shot = desk.shot_of(day.records, name)
    found = sheet.gather(shot, day.records, units=day.units, utc_offset_min=day.offset)
    return sheet.of_shot(shot, found, now_ms=day.now_ms), found


def _day(file: Path, at: str | None, units: str) -> WholeDay:
    moment = desk.moment_of(at)
    edits = desk.read_edits(file, int(moment.timestamp() * 1000))
    day = WholeDay.of(edits, moment, units=units)
    if not any(day.found.of_kind(kind) for kind in ("day", "scene", "shot")):
        raise desk.NoDay(f"{file} holds no day, scene or shot; export the day again")
    return day


def _print(made: Sequence[Block], day: WholeDay, out: Path, fonts: Path | None) -> None:
    missing = paper.letters_without_a_face(made)
    if missing and not fonts:
        told = " ".join(itertools.islice(missing, 20))
        click.echo(f"the built-in faces cannot print {told}; give a folder of fonts with --fonts", err=True)
    octets = paper.pdf(made, title=day.title, printed_at=day.printed_at, fonts=fonts)
    _write(out, octets)


def _write(out: Path, octets: bytes) -> None:
    try:
        out.write_bytes(octets)
    except OSError as error:
        raise click.ClickException(
            f"{out} cannot be written ({error.strerror}); choose another with --out"
        ) from error
    click.echo(f"{out} is written")
