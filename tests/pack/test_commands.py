"""`tailslate pack`, `report`, `csv` and `match`: from a file to paper, tables and a match, and what they refuse."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from printed_day import NOON, a_crew, pages
from tailslate import seed_data_folder
from tailslate.cli import main
from tailslate.pack import cells
from tailslate.pack.tables import TABLES

DEMONSTRATION = seed_data_folder() / "demonstration_day.json"


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, [str(one) for one in (*arguments, "--at", NOON)])


@pytest.mark.parametrize("command", ["pack", "report"])
def test_the_demonstration_day_is_printed_and_the_same_again(command: str, tmp_path: Path) -> None:
    first, again = tmp_path / "first.pdf", tmp_path / "again.pdf"
    for target in (first, again):
        outcome = run(command, DEMONSTRATION, "--out", target)
        assert outcome.exit_code == 0, outcome.output
    assert first.read_bytes() == again.read_bytes()
    said = pages(first.read_bytes())
    assert len(said) > 5
    assert all("Night Crossing" in text for text in said)
    assert "12C" in " ".join(said)


def test_imperial_units_are_printed_too(tmp_path: Path) -> None:
    target = tmp_path / "day.pdf"
    assert run("pack", DEMONSTRATION, "--out", target, "--units", "imperial").exit_code == 0
    assert " ft " in " ".join(pages(target.read_bytes())).replace("\u00a0", " ")


def test_letters_that_cannot_be_printed_are_told(tmp_path: Path) -> None:
    file = a_crew(shot_title="船 at the quay").file(tmp_path)
    outcome = run("pack", file, "--out", tmp_path / "day.pdf")
    assert outcome.exit_code == 0, outcome.output
    assert "cannot print 船; give a folder of fonts with --fonts" in outcome.stderr


@pytest.mark.parametrize("what", sorted(TABLES))
def test_every_table_has_its_heads_and_as_many_cells_in_every_row(what: str) -> None:
    outcome = run("csv", DEMONSTRATION, "--what", what)
    assert outcome.exit_code == 0, outcome.output
    table = cells.read(outcome.stdout)
    assert len(table) > 3
    assert {len(row) for row in table} == {len(table[0])}


def test_a_title_that_would_run_is_text_and_figures_are_numbers(tmp_path: Path) -> None:
    file = a_crew(shot_title='=HYPERLINK("http://a.b")').file(tmp_path)
    target = tmp_path / "shots.csv"
    assert run("csv", file, "--what", "shots", "--out", target).exit_code == 0
    octets = target.read_bytes()
    assert octets.startswith(b"\xef\xbb\xbf")
    text = octets.decode("utf-8")
    assert '"\'=HYPERLINK(""http://a.b"")"' in text
    (heads, row) = cells.read(text)
    assert row[heads.index("title")] == '=HYPERLINK("http://a.b")'
    assert ",4," in text  # T4, bare


def test_a_shot_beside_itself_differs_in_nothing() -> None:
    outcome = run("match", DEMONSTRATION, "--shot", "12A", "--shot-then", "12a")
    assert outcome.exit_code == 0, outcome.output
    assert "DIFFERS" not in outcome.stdout
    assert "matches: stop: now T4; then T4" in outcome.stdout


def test_a_pickup_is_told_beside_the_shot_of_another_file(tmp_path: Path) -> None:
    """T4 against T2.8 is 2 log2(4 / 2.8) = 1.03 stops, by hand."""
    file = a_crew().file(tmp_path)
    outcome = run("match", file, "--shot", "12C", "--with", DEMONSTRATION, "--shot-then", "12C")
    assert outcome.exit_code == 0, outcome.output
    assert "DIFFERS: stop: now T4; then T2.8 (1.0 stops closed); within 0.3 stops" in outcome.stdout
    assert "NOT KNOWN: lens: now not known; then 35 mm" in outcome.stdout


def test_what_is_no_day_or_no_shot_says_what_to_do(tmp_path: Path) -> None:
    empty = tmp_path / "empty.json"
    empty.write_text("[]", encoding="utf-8")
    refused = run("pack", empty, "--out", tmp_path / "day.pdf")
    assert (refused.exit_code, "holds no day, scene or shot" in refused.stderr) == (1, True)
    assert not (tmp_path / "day.pdf").exists()
    refused = run("match", DEMONSTRATION, "--shot", "12A", "--shot-then", "99")
    assert (refused.exit_code, "no shot is called 99" in refused.stderr) == (1, True)
    refused = run("report", DEMONSTRATION, "--out", tmp_path / "no" / "day.pdf")
    assert (refused.exit_code, "choose another with --out" in refused.stderr) == (1, True)
