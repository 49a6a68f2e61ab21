"""The log: each edit once, numbered in the order in which it can be seen, with marks that are the phone's too."""

from __future__ import annotations

import random
import threading

from sqlalchemy.orm import Session

from a_server import Here
from people import DAY, DAY_TITLE, GRIP, PRODUCER, Pen
from phone_double import PhoneDouble
from tailslate.day import exchange
from tailslate.day.edit import Edit
from tailslate.store import edits as log
from tailslate.store.edits import lock_day, put


def store(here: Here, batch: list[Edit]) -> set[str]:
    """Put a batch in a transaction of its own."""
    with here.parts.database.writing() as session:
        lock_day(session, DAY)
        return put(session, day_id=DAY, edits=batch, carrier="", now_ms=here.now_ms)


def page_after(session: Session, place: int) -> log.Page:
    """Return the next page of the floor set, as an exchange reads it."""
    reach = log.states(session, DAY)["floor"].reach
    return log.page_after(session, day_id=DAY, set_name="floor", place=place, reach=reach)


def test_marks_are_those_that_a_phone_with_the_same_edits_has(on_both: Here) -> None:
    chance = random.Random(3)
    written = [one for name in "abc" for one in Pen("p-grip", incarnation=f"{name}000000000").ticks(30)]
    chance.shuffle(written)
    arriving = written[:-9]  # some never come: counters with gaps
    for start in range(0, len(arriving), 7):
        store(on_both, arriving[start : start + 7])
        with on_both.parts.database.reading() as session:
            held = list(on_both.edits())
            marks = exchange.add_to_marks({}, held)
            assert log.states(session, DAY)["floor"].mark.row() == exchange.total(marks)
            assert log.details(session, DAY, "floor") == exchange.details(marks)


def test_an_edit_that_comes_again_changes_nothing(on_both: Here) -> None:
    batch = Pen("p-grip").ticks(5)
    assert store(on_both, batch) == {one.id for one in batch}
    before = on_both.edits()
    assert store(on_both, [*batch, *reversed(batch)]) == set()
    assert on_both.edits() == before


def test_a_phone_and_its_clone_with_one_counter_are_both_kept(on_both: Here) -> None:
    one, clone = (
        Pen("p-grip", chance=random.Random(1)).ticks(3),
        Pen("p-grip", chance=random.Random(2)).ticks(3),
    )
    assert [left.id.rsplit(".", 1)[0] for left in one] == [right.id.rsplit(".", 1)[0] for right in clone]
    store(on_both, one)
    assert store(on_both, clone) == {edit.id for edit in clone}


def test_who_sees_a_number_sees_all_below_it(on_both: Here) -> None:
    """A writer that is slow to commit keeps the next one waiting, so no reader passes it by."""
    first, second = (
        Pen("p-grip", incarnation="first00001").ticks(1),
        Pen("p-gaffer", incarnation="second0001").ticks(1),
    )
    slow_has_number, others_tried = threading.Event(), threading.Event()

    def slow() -> None:
        with on_both.parts.database.writing() as session:
            lock_day(session, DAY)
            put(session, day_id=DAY, edits=first, carrier="", now_ms=1)
            slow_has_number.set()
            others_tried.wait(10)

    def quick() -> None:
        slow_has_number.wait(10)
        store(on_both, second)

    threads = [threading.Thread(target=slow), threading.Thread(target=quick)]
    for thread in threads:
        thread.start()
    slow_has_number.wait(10)
    threads[1].join(0.3)
    assert threads[1].is_alive(), "the second writer did not wait"
    with on_both.parts.database.reading() as session:
        early = page_after(session, 0)
    others_tried.set()
    for thread in threads:
        thread.join(10)
    with on_both.parts.database.reading() as session:
        late = page_after(session, early.place)
    texts = [text for _carrier, _at, group in late.groups for text in group]
    assert texts == [first[0].text, second[0].text]


def test_days_do_not_touch_each_other(on_both: Here) -> None:
    with on_both.parts.database.writing() as session:
        on_both.parts.office.open_day(session, title=DAY_TITLE, now_ms=1, day_id="another-day")
        put(session, day_id="another-day", edits=Pen("p", day="another-day").ticks(3), carrier="", now_ms=1)
    store(on_both, Pen("p-grip").ticks(2))
    with on_both.parts.database.reading() as session:
        assert log.reaches(session, "another-day") == {"floor": 4, "health": 0}
        assert log.reaches(session, DAY)["floor"] == 3


def test_no_two_writers_wait_for_each_other(on_both: Here) -> None:
    """Roles change while phones exchange: both touch the day and devices, in one order."""
    grips = [on_both.phone_of(GRIP, seed=seed) for seed in range(4)]
    producer = on_both.phone_of(PRODUCER)
    producer.exchange()
    outcomes: list[str] = []

    def work(phone: PhoneDouble) -> None:
        for place in range(15):
            phone.keep(phone.pen.ticks(1))
            if phone is producer:
                for grip in grips:
                    phone.act("person", grip.person, {"departments": ["props" if place % 2 else "grip"]})
            outcomes.append(phone.round()["outcome"])

    threads = [threading.Thread(target=work, args=(phone,)) for phone in [*grips, producer]]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert outcomes == ["taken"] * 75
