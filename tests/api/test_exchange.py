"""The exchange over HTTP: every edit answered, bad ones named, nothing lost, nothing twice."""

from __future__ import annotations

from a_server import Here
from people import GAFFER, KEY_GRIP


def test_what_the_key_grip_enters_is_on_the_gaffers_phone(here: Here) -> None:
    grip, gaffer = here.phone_of(KEY_GRIP), here.phone_of(GAFFER)
    edit = grip.act("rig", "r-1", {"load_kg": ["12", "12 kg"]})
    grip.exchange()
    gaffer.exchange()
    assert edit.id in grip.confirmed
    assert gaffer.texts["floor"][edit.id] == edit.text
    assert gaffer.is_matched()
