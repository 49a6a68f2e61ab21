"""The command `tailslate sheet`: a shot's sheet at a desk, from a file, without a server.

The same rules and the same words as on a phone. Reads a day that `tailslate export` wrote, a list of edit
texts, or the file of the demonstration day.
"""

from __future__ import annotations

import datetime
import itertools
import json
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from tailslate import demonstration
from tailslate.craft.errors import RuleError
from tailslate.day import gathered, merge, phone_door
from tailslate.day.edit import Edit
from tailslate.day.gathered import Gathered
from tailslate.desk_text import lines
from tailslate.pack.whole_day import Records, offsets_of, records_of

if TYPE_CHECKING:
    from tailslate.day.place_clock import Offset

HARD_SPACE = "\u00a0"


class NoDay(click.ClickException):
    """A file that holds no day, or a shot that is not in it, with what to do."""


@click.command("sheet")
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--shot", "name", required=True, help="Number or id of the shot, such as 12C.")
@click.option("--json", "as_json", is_flag=True, help="Print what the rules give, as a phone gets it.")
@click.option(
    "--units",
    type=click.Choice(["metric", "imperial"]),
    default="metric",
    show_default=True,
    help="Units that the sheet is told in.",
)
@click.option("--at", "at", help="Time to tell it for, such as 2026-11-25T14:00+00:00; by default now.")
def sheet(file: Path, name: str, as_json: bool, units: str, at: str | None) -> None:
    """Print the sheet of one shot of the day in FILE."""
    moment = moment_of(at)
    edits = read_edits(file, int(moment.timestamp() * 1000))
    records = records_of(edits)
    answer = _ask(
        do="shot",
        shot=shot_of(records, name),
        records=records,
        complete=True,
        now_ms=int(moment.timestamp() * 1000),
        units=units,
        utc_offset_min=_utc_offset_min(records, edits, moment),
    )
    if as_json:
        click.echo(json.dumps(answer, ensure_ascii=False, indent=2))
        return
    for line in lines(answer["sheet"], answer["readiness"]):
        click.echo(line.replace(HARD_SPACE, " "))


def moment_of(at: str | None) -> datetime.datetime:
    """Return the time that an option names, now when it names none.

    Raises: BadParameter.
    """
    if at is None:
        return datetime.datetime.now(datetime.UTC)
    try:
        found = datetime.datetime.fromisoformat(at)
    except ValueError as error:
        raise click.BadParameter(
            f"{at} is no time such as 2026-11-25T14:00+00:00", param_hint="--at"
        ) from error
    return found if found.tzinfo else found.astimezone()


def _ask(**asked: Any) -> dict[str, Any]:
    answer: dict[str, Any] = json.loads(phone_door.call(json.dumps(asked, ensure_ascii=False)))
    if not answer.pop("ok"):
        raise NoDay(answer["sentence"])
    return answer


def read_edits(file: Path, now_ms: int) -> list[Edit]:
    """Return the edits of the floor that a file holds.

    Args:
        file: what `tailslate export` wrote, a JSON list of edit texts, or the demonstration day.
        now_ms: now [ms since 1970 UTC]: the demonstration day is told as if it had led up to it.
    Raises: NoDay.
    """
    try:
        held = json.loads(file.read_text(encoding="utf-8"))
    except ValueError as error:
        raise NoDay(f"{file} is not whole JSON in UTF-8; export the day again") from error
    if isinstance(held, dict) and "acts" in held:
        found: Iterable[Edit] = _demonstration(held, now_ms)
    else:
        texts = held.get("sets", {}).get("floor") if isinstance(held, dict) else held
        if not isinstance(texts, list) or not all(isinstance(one, str) for one in texts):
            raise NoDay(
                f"{file} holds no day: give a file that `tailslate export` wrote, or a list of edit texts"
            )
        found = _read(texts)
    return list(found)


def _demonstration(plan: dict[str, Any], now_ms: int) -> list[Edit]:
    salts = (f"{place:08d}" for place in itertools.count())
    try:
        return demonstration.edits_of(
            plan, day_id="demonstration", incarnation="desk000000", salts=salts, now_ms=now_ms
        )
    except RuleError as error:
        raise NoDay(error.sentence) from error


def _read(texts: list[str]) -> Iterator[Edit]:
    """Read texts of one day; one that is no edit is told, and loses nothing of the others."""
    day = next((parts[1] for parts in map(_parts, texts) if parts), "")
    found, refused = merge.read_all(texts, day)
    for place, _code, sentence in refused:
        click.echo(f"text {place + 1} is left out: {sentence}", err=True)
    return (one for one in found if one is not None)


def _parts(text: str) -> list[Any]:
    try:
        parts = json.loads(text)
    except ValueError:
        return []
    return parts if isinstance(parts, list) and len(parts) > 1 else []


def shot_of(records: Records, name: str) -> str:
    """Return the id of the shot of that number or id.

    Raises: NoDay.
    """
    found = Gathered(records)
    numbers = {found.text(key, "number") or gathered.id_of(key): key for key in found.of_kind("shot")}
    for number, key in numbers.items():
        if name.lower() in (number.lower(), gathered.id_of(key).lower()):
            return gathered.id_of(key)
    there = ", ".join(sorted(numbers)) or "none"
    raise NoDay(f"no shot is called {name}; the shots of this day: {there}")


def _utc_offset_min(records: Records, edits: list[Edit], moment: datetime.datetime) -> Offset:
    """Return how far the clock of the day's place is ahead of UTC; this machine's where nobody said."""
    offset_min = offsets_of(records, edits, moment)
    if offset_min is None and not Gathered(records).of_kind("day"):
        offset_min = int((moment.utcoffset() or datetime.timedelta()).total_seconds()) // 60
    if offset_min is None:
        click.echo("the time zone of the place is not known: times are this machine's", err=True)
        offset_min = int((moment.astimezone().utcoffset() or datetime.timedelta()).total_seconds()) // 60
    return offset_min
