"""The pictures of the day on paper, for continuity: each with what it shows, of what, when and by which department."""

from __future__ import annotations

import base64
from collections.abc import Iterator, Mapping
from xml.sax.saxutils import quoteattr

from tailslate.day import names
from tailslate.pack import blocks
from tailslate.pack.blocks import Block
from tailslate.pack.whole_day import WholeDay

PRINTED = 40  # at some 300 KB each: more make a file that no printer on a set takes
MEDIA_TYPES = {b"\xff\xd8": "image/jpeg", b"\x89P": "image/png"}
HIGHEST = 0.7  # of its width, so that two stand on a page


def digests(day: WholeDay) -> list[str]:
    """Return the SHA-256 of every picture that would be printed, in order."""
    return [day.found.text(key, "digest") for key in _listed(day)]


def of_day(day: WholeDay, pictures: Mapping[str, bytes]) -> Iterator[Block]:
    """Give a part with the pictures, nothing for none; one that is not here is named all the same.

    Args:
        day: the day.
        pictures: SHA-256 to the bytes of the picture.
    """
    listed = _listed(day)
    if listed:
        yield blocks.part("Pictures")
    for key in listed:
        about = day.found.target(key, "of")
        said = day.found.text(about, "text") if about.startswith("note/") else ""
        if said:
            about = day.found.target(about, "on") or about
        entry = day.found.entry(key, "digest")
        words = ", ".join(
            part
            for part in (
                names.name_of(about, day.found) if about else "",
                names.who(entry, day.found),
                day.clock(entry[2]) if entry else "",
            )
            if part
        )
        told = [blocks.name(day.found.text(key, "says") or said or "Picture"), blocks.line(words)]
        if said and day.found.text(key, "says"):
            told.append(blocks.line(said))
        octets = pictures.get(day.found.text(key, "digest"), b"")
        width, height = (day.found.whole(key, field) or 0 for field in ("width_px", "height_px"))
        if octets[:2] in MEDIA_TYPES and width and height:
            told.append(blocks.drawing(_svg(octets, width, height)))
        else:
            told.append(blocks.against("not here to be printed: look on the phones"))
        yield blocks.together(told)
    more = len(day.found.of_kind("photograph")) - len(listed)
    if more > 0:
        yield blocks.line(f"and {more} older: look on the phones")


def _listed(day: WholeDay) -> list[str]:
    """Return the newest photographs, in the order in which they were taken."""

    def at_ms(key: str) -> int:
        entry = day.found.entry(key, "digest")
        return int(entry[2]) if entry else 0

    found = sorted(day.found.of_kind("photograph"), key=lambda key: (at_ms(key), key))
    return found[-PRINTED:]


def _svg(octets: bytes, width_px: int, height_px: int) -> str:
    """Return a drawing that is the picture, no higher than two on a page allow."""
    across = max(width_px, round(height_px / HIGHEST))
    address = f"data:{MEDIA_TYPES[octets[:2]]};base64,{base64.b64encode(octets).decode('ascii')}"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {across} {height_px}">'
        f'<image width="{width_px}" height="{height_px}" href={quoteattr(address)}/></svg>'
    )
