"""The laws of the merge over generated histories: copies with clones, clocks years off, repeats and gaps."""

from __future__ import annotations

import json
import random
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from tailslate.day import edit, kinds, merge
from tailslate.day.edit import Edit

DAY = "laws"
CELLS: list[tuple[str, str, str, list[Any]]] = [
    ("task", "t1", "amount", ["1", "2", "3"]),
    ("task", "t1", "title", ["bag it", "line it"]),
    ("task", "t2", "done", [False, ["done", []], ["done", [["task/t2/title", "x"]]]]),
    ("level", "s~a", "distance_m", [["1.8288", "6 ft"], ["1.8288", "1.8288 m"], ["2.7", "2.7 m"]]),
    ("hold", "h1", "type", ["stop", "watch"]),
    ("kit", "k1", "flame_retardant", ["unknown", "no", "yes", "expired"]),
    ("shot", "a", "takes", [1, 2, 3]),
]


class Copy:
    """One phone's copy of the day: what has arrived, its name of this run, its counter, its clock's error."""

    def __init__(self, incarnation: str, skew_ms: int) -> None:
        self.incarnation = incarnation
        self.counter = 0
        self.skew_ms = skew_ms
        self.edits: dict[str, Edit] = {}

    def clone(self, incarnation: str) -> Copy:
        twin = Copy(incarnation, self.skew_ms)
        twin.edits = dict(self.edits)
        twin.counter = self.counter if incarnation == self.incarnation else 0
        return twin


def history(seed: int, size: int) -> tuple[list[Copy], list[Edit], dict[str, str]]:
    """Play a history; return the copies, all edits made, and verdicts on some of them."""
    chance = random.Random(seed)
    copies = [
        Copy(f"phone{number:05d}", chance.choice([0, 0, -3600_000, 157_680_000_000, -63_072_000_000]))
        for number in range(chance.randint(2, 4))
    ]
    made: list[Edit] = []
    for step in range(size):
        copy = chance.choice(copies)
        what = chance.random()
        if what < 0.6:
            made.append(act(copy, chance, step))
        elif what < 0.9:  # some of another's edits arrive: in pieces, in any order, perhaps again
            other = chance.choice(copies)
            for one in chance.sample(list(other.edits.values()), chance.randint(0, len(other.edits))):
                copy.edits[one.id] = one
        elif len(copies) < 6:  # a phone restored from a backup; one in three keeps the very same name
            same = chance.random() < 0.33
            copies.append(copy.clone(copy.incarnation if same else f"clone{step:05d}"))
    verdicts = {}
    for one in made:
        if kinds.is_reserved(one.kind, one.changes) or chance.random() < 0.15:
            verdicts[one.id] = chance.choice(["counts", "out", "parked", ""])
    return copies, made, {i: word for i, word in verdicts.items() if word}


def act(copy: Copy, chance: random.Random, step: int) -> Edit:
    kind, record, field, values = chance.choice(CELLS)
    painted = merge.fold(list(copy.edits.values()), {}).get(f"{kind}/{record}/{field}")
    seen = [entry[0] for entry in painted[merge.LIVE]] if painted else []
    if painted and painted[merge.OFF] and chance.random() < 0.5:
        seen += painted[merge.OFF]
    if chance.random() < 0.2:
        seen = seen[:1]  # an older screen: it showed less than had arrived
    copy.counter += 1
    one = edit.make(
        day=DAY,
        set_name="floor",
        incarnation=copy.incarnation,
        counter=copy.counter,
        salt=f"{chance.randrange(10**8):08d}",
        rules=1,
        at_ms=max(0, 1764000000000 + step * 1000 + copy.skew_ms),
        by="p-" + copy.incarnation,
        kind=kind,
        record=record,
        changes={field: chance.choice(values)},
        seen={field: seen},
    )
    copy.edits[one.id] = one
    return one


def dump(cells: dict[str, Any]) -> str:
    return json.dumps(cells, sort_keys=True)


def cell_key(one: Edit) -> str:
    return f"{one.record_key}/{one.changes[0][0]}"


def ancestors(one: Edit, by_id: dict[str, Edit]) -> set[str]:
    """All that an edit saw and all that those had seen, by plain recursion over the texts."""
    found: set[str] = set()
    for id_seen in one.changes[0][2]:
        found.add(id_seen)
        if id_seen in by_id:
            found |= ancestors(by_id[id_seen], by_id)
    return found


SEEDS = st.integers(0, 10**9)
SIZES = st.integers(1, 60)


@settings(max_examples=1200)
@given(SEEDS, SIZES)
def test_m1_m2_copies_with_the_same_edits_show_the_same_bytes_in_any_order_with_repeats(
    seed: int, size: int
) -> None:
    _copies, made, verdicts = history(seed, size)
    chance = random.Random(seed + 1)
    wanted = dump(merge.fold(made, verdicts))
    for _ in range(3):
        shuffled = made + chance.sample(made, len(made) // 2)
        chance.shuffle(shuffled)
        assert dump(merge.fold(shuffled, verdicts)) == wanted


@settings(max_examples=1200)
@given(SEEDS, SIZES)
def test_m1_joining_in_any_batches_gives_what_folding_gives_while_all_count(seed: int, size: int) -> None:
    _copies, made, _verdicts = history(seed, size)
    made = [one for one in made if not kinds.is_reserved(one.kind, one.changes)]
    chance = random.Random(seed + 2)
    if chance.random() < 0.3:  # gaps: some have not arrived
        made = [one for one in made if chance.random() < 0.8]
    wanted = dump(merge.fold(made, {}))
    for _ in range(3):
        waiting = made + chance.sample(made, len(made) // 3)
        chance.shuffle(waiting)
        cells: dict[str, Any] = {}
        while waiting:
            count = chance.randint(1, 7)
            batch, waiting = waiting[:count], waiting[count:]
            cells |= merge.join(cells, batch)
        assert dump(cells) == wanted


@settings(max_examples=1200)
@given(SEEDS, SIZES)
def test_m3_no_edit_hides_an_answer_that_it_had_not_seen(seed: int, size: int) -> None:
    _copies, made, verdicts = history(seed, size)
    by_id = {one.id: one for one in made}
    cells = merge.fold(made, verdicts)
    counting = [one for one in made if merge.counts(one, verdicts.get(one.id, ""))]
    hiders: dict[str, set[str]] = {}
    for one in counting:
        for id_seen in ancestors(one, by_id):
            hiders.setdefault(id_seen, set()).add(one.id)
    for one in counting:
        is_live = any(entry[0] == one.id for entry in cells[cell_key(one)][merge.LIVE])
        assert is_live == (one.id not in hiders), "live exactly while no edit that counts had seen it"


@settings(max_examples=1200)
@given(SEEDS, SIZES)
def test_m4_a_refused_edit_hides_nothing(seed: int, size: int) -> None:
    _copies, made, verdicts = history(seed, size)
    chance = random.Random(seed + 3)
    refused = chance.choice(made) if made else None
    if refused is None:
        return
    without = {**verdicts, refused.id: "out"}
    cells = merge.fold(made, without)
    key = cell_key(refused)
    assert refused.id in cells[key][merge.OFF]
    live = {entry[0] for entry in cells[key][merge.LIVE]}
    by_id = {one.id: one for one in made}
    others = [
        one
        for one in made
        if one.id != refused.id and cell_key(one) == key and merge.counts(one, without.get(one.id, ""))
    ]
    hidden_by_others = set[str]().union(*[ancestors(one, by_id) for one in others])
    assert live == {one.id for one in others} - hidden_by_others


@settings(max_examples=200)
@given(SEEDS, SIZES)
def test_m5_what_someone_saw_and_has_not_arrived_is_kept_until_it_arrives(seed: int, size: int) -> None:
    _copies, made, _verdicts = history(seed, size)
    made = [one for one in made if not kinds.is_reserved(one.kind, one.changes)]
    chance = random.Random(seed + 4)
    arrived = [one for one in made if chance.random() < 0.6]
    late = [one for one in made if one not in arrived]
    cells = merge.join({}, arrived)
    held = {one.id for one in arrived}
    for key, cell in cells.items():
        seen = {i for one in arrived if cell_key(one) == key for i in one.changes[0][2]}
        assert set(cell[merge.ABSENT]) == seen - held
    chance.shuffle(late)
    cells |= merge.join(cells, late)
    assert dump(cells) == dump(merge.join({}, made))
    assert not any(cell[merge.ABSENT] for cell in cells.values())


@settings(max_examples=100)
@given(SEEDS)
def test_m4_verdicts_spread_in_any_order_and_the_hardest_stands(seed: int) -> None:
    chance = random.Random(seed)
    words = [chance.choice(["counts", "out", "parked"]) for _ in range(chance.randint(1, 5))]
    judged = []
    for place, word in enumerate(words):
        judged.append(
            edit.make(
                day=DAY,
                set_name="floor",
                incarnation=f"server{place:04d}",
                counter=1,
                salt="saltsalt",
                rules=1,
                at_ms=chance.randrange(10**12),
                by="",
                how="server",
                kind="verdict",
                record="a.1.0123456789abcdef",
                changes={"says": [word, "code", "why"]},
                seen={},
            )
        )
    chance.shuffle(judged)
    hardest = next(word for word in ("out", "parked", "counts") if word in words)
    assert merge.verdict_words(judged) == {"a.1.0123456789abcdef": hardest}


@settings(max_examples=300)
@given(SEEDS, SIZES)
def test_m6_the_rule_of_the_field_picks_the_answer_shown_and_the_others_stay_beside_it(
    seed: int, size: int
) -> None:
    _copies, made, _verdicts = history(seed, size)
    for key, cell in merge.fold(made, {}).items():
        kind, _record, field = key.split("/")
        live = cell[merge.LIVE]
        values = {json.dumps(kinds.comparable(kind, field, entry[1])) for entry in live}
        if len(values) < 2:
            assert cell[merge.MARK] == (merge.ONE if len(live) < 2 else merge.SAME)
        elif kinds.rule_of(kind, field) == "careful":
            assert cell[merge.MARK] == merge.CAREFUL
            ranks = [kinds.careful_rank(kind, field, entry[1]) for entry in live]
            assert ranks[0] == min(ranks), "the most careful is shown"
        else:
            is_asked = kinds.rule_of(kind, field) == "ask"
            assert cell[merge.MARK] == (merge.TWO if is_asked else merge.SAME)
            assert live[0][2] == max(entry[2] for entry in live), "the latest is shown"


@settings(max_examples=300)
@given(SEEDS, st.integers(1, 25), st.floats(0, 1))
def test_m7_a_record_is_removed_exactly_when_the_removal_covers_all_that_is_live(
    seed: int, size: int, share: float
) -> None:
    _copies, made, _verdicts = history(seed, size)
    made = [one for one in made if one.record_key == "task/t1"]
    chance = random.Random(seed)
    seen = [one for one in made if chance.random() < share]
    painted = {"task/t1": {key.rsplit("/", 1)[1]: cell for key, cell in merge.fold(seen, {}).items()}}
    removal = edit.make(
        day=DAY,
        set_name="floor",
        incarnation="remover000",
        counter=1,
        salt="saltsalt",
        rules=1,
        at_ms=1,
        by="p",
        kind="task",
        record="t1",
        changes={"present": merge.removal(painted, "task/t1")},
        seen={},
    )
    cells = merge.fold([*made, removal], {})
    records = {"task/t1": {key.rsplit("/", 1)[1]: cell for key, cell in cells.items()}}
    live = {entry[0] for key, cell in cells.items() for entry in cell[merge.LIVE] if entry[0] != removal.id}
    covered = set(removal.changes[0][1][1])
    assert merge.presence("task/t1", records) == ("removed" if live <= covered else "back")
