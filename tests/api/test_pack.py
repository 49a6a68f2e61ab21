"""GET /api/days/<day>/pack.pdf: for devices of the day, as the server holds it now, without health data."""

from __future__ import annotations

from a_server import Here
from people import ASSISTANT_DIRECTOR, DAY, GAFFER, PRODUCER
from phone_double import PhoneDouble, in_process
from printed_day import pages

PACK = f"/api/days/{DAY}/pack.pdf"
REPORT = f"/api/days/{DAY}/report.pdf"


def test_a_phone_of_the_day_gets_what_the_server_holds(here: Here) -> None:
    phone = here.phone_of(ASSISTANT_DIRECTOR)
    phone.act("shot", "12c", {"number": "12C", "title": "Over the Gambler"})
    phone.exchange()
    reply = phone.ask("GET", PACK)
    assert (reply.status, reply.content_type) == (200, "application/pdf")
    said = " ".join(pages(reply.octets))
    assert "12C Over the Gambler" in said
    assert "printed at 07:00 UTC" in said
    assert phone.ask("GET", PACK).octets == reply.octets


def test_health_data_and_names_stay_off_the_paper(here: Here) -> None:
    phone = here.phone_of(PRODUCER)
    phone.act("performer", "gambler", {"title": "the Gambler"})
    phone.act("allergy", "a1", {"performer": "gambler", "what": "hazelnuts", "answer": "yes"})
    phone.exchange()
    said = " ".join(pages(phone.ask("GET", PACK).octets))
    assert "hazelnuts" not in said
    assert PRODUCER.name not in said


def test_others_get_nothing(here: Here) -> None:
    assert PhoneDouble(in_process(here.app), GAFFER).ask("GET", PACK).status == 401
    assert here.phone_of(GAFFER).ask("GET", "/api/days/other-day/pack.pdf").status == 403


def test_the_report_comes_the_same_way_and_without_health_data(here: Here) -> None:
    phone = here.phone_of(PRODUCER)
    phone.act("shot", "12c", {"number": "12C", "title": "Over the Gambler"})
    phone.act("incident", "i1", {"what": "a bag slid off stand 3", "injured": "no"})
    phone.act("performer", "gambler", {"title": "the Gambler"})
    phone.act("allergy", "a1", {"performer": "gambler", "what": "hazelnuts", "answer": "yes"})
    phone.exchange()
    reply = phone.ask("GET", REPORT)
    assert (reply.status, reply.content_type) == (200, "application/pdf")
    said = " ".join(pages(reply.octets))
    assert "12C Over the Gambler" in said
    assert "a bag slid off stand 3" in said
    assert "hazelnuts" not in said
    assert PhoneDouble(in_process(here.app), GAFFER).ask("GET", REPORT).status == 401
