"""The demonstration day comes in as anyone's edits do."""

from __future__ import annotations

from functools import partial
from itertools import count
from typing import Any

from a_server import Here
from people import DAY
from tailslate import demonstration
from tailslate.day import edit, kinds
from tailslate.store.edits import texts_of_kind
from tailslate.store.intake import Carrier
from tailslate.store.seal import make_sealed

NOW_MS = 1_764_079_920_000  # 25 November 2025, 14:12 UTC


def test_a_server_takes_it_as_it_takes_anyones_edits_and_lets_all_of_it_count(here: Here) -> None:
    office = here.parts.office
    made = demonstration.edits_of(
        demonstration.plan(), day_id=DAY, incarnation="demo000001", salts=(f"{number:08d}" for number in count()), now_ms=NOW_MS,
        seal=partial(make_sealed, office.secret),
    )  # fmt: skip
    by_set: dict[str, list[Any]] = {name: [one.text for one in made if one.set == name] for name in edit.SETS}
    with here.parts.database.writing() as session:
        answers = office.take(
            session, office.read(by_set, day_id=DAY), day_id=DAY, carrier=Carrier(), now_ms=NOW_MS
        )
        verdicts = [edit.read(text, day=DAY) for text in texts_of_kind(session, DAY, "verdict")]
    assert {answer[0] for rows in answers.values() for answer in rows} == {"stored"}
    assert {one.changes[0][1][0] for one in verdicts} == {"counts"}
    reserved = [one.id for one in made if kinds.is_reserved(one.kind, one.changes)]
    assert set(reserved) <= {one.record for one in verdicts}
