"""Bytes -> what picture they are, by their head: JPEG, PNG or WebP, whole, of a sane size, without metadata.

Knows no database. Markers and chunks as in ITU-T T.81 annex B, the PNG specification (W3C, third edition) and
RFC 9649 (WebP). Nothing is decoded here: browsers do that, in a sandbox of their own.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterator
from dataclasses import dataclass

SIDE_LIMIT_PX = 4096

_JPEG = b"\xff\xd8\xff"
_JPEG_END = b"\xff\xd9"
_PNG = b"\x89PNG\r\n\x1a\n"
_START_OF_FRAME = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
_START_OF_SCAN = 0xDA
# Exif and XMP, Photoshop's block (IPTC), a comment: what may name a place, a camera or a person
_JPEG_METADATA = frozenset({0xE1, 0xED, 0xFE})
_PNG_METADATA = frozenset({b"eXIf", b"tEXt", b"zTXt", b"iTXt", b"tIME"})
_WEBP_METADATA = frozenset({b"EXIF", b"XMP "})


class NotAPicture(Exception):
    """Bytes that are no picture that may be kept, with code and sentence."""

    def __init__(self, code: str, sentence: str) -> None:
        super().__init__(sentence)
        self.code = code


@dataclass(frozen=True)
class Picture:
    """What the head of a picture says."""

    media_type: str
    width_px: int
    height_px: int


def media_type_of(start: bytes) -> str:
    """Return the type that the first twelve bytes announce.

    Raises: NotAPicture "not_a_photograph".
    """
    if start.startswith(_JPEG):
        return "image/jpeg"
    if start.startswith(_PNG):
        return "image/png"
    if start[:4] == b"RIFF" and start[8:12] == b"WEBP":
        return "image/webp"
    raise NotAPicture(
        "not_a_photograph", "this is no JPEG, PNG or WebP picture; choose a photograph and send it again"
    )


def read_picture(octets: bytes) -> Picture:
    """Return what a whole picture is.

    Raises: NotAPicture "not_a_photograph", "cut_off", "carries_metadata" or "too_many_pixels".
    """
    media_type = media_type_of(octets[:12])
    read = {"image/jpeg": _jpeg_size, "image/png": _png_size, "image/webp": _webp_size}[media_type]
    try:
        width_px, height_px = read(octets)
    except IndexError as error:
        raise _cut_off() from error
    if not (0 < width_px <= SIDE_LIMIT_PX and 0 < height_px <= SIDE_LIMIT_PX):
        raise NotAPicture(
            "too_many_pixels",
            f"a picture may have at most {SIDE_LIMIT_PX} pixels a side, "
            f"this one has {width_px} by {height_px}; make it smaller",
        )
    return Picture(media_type, width_px, height_px)


def _cut_off() -> NotAPicture:
    return NotAPicture("cut_off", "the picture ends too early; send it again")


def _refuse_metadata(name: object) -> None:
    raise NotAPicture(
        "carries_metadata",
        f"the picture carries metadata ({name}), which may tell a place; encode it again without",
    )


def _number(octets: bytes, start: int, size: int, order: str = "big") -> int:
    part = octets[start : start + size]
    if len(part) < size:
        raise IndexError(start)
    return int.from_bytes(part, "big" if order == "big" else "little")


def _jpeg_size(octets: bytes) -> tuple[int, int]:
    place, found = 2, (0, 0)
    while (marker := octets[place + 1]) != _START_OF_SCAN:
        if octets[place] != 0xFF:
            raise NotAPicture("not_a_photograph", "the head of this JPEG is damaged; take the picture again")
        if marker in _JPEG_METADATA:
            _refuse_metadata(f"APP{marker - 0xE0}" if marker != 0xFE else "comment")
        if marker in _START_OF_FRAME:
            found = (_number(octets, place + 7, 2), _number(octets, place + 5, 2))
        place += 2 + max(2, _number(octets, place + 2, 2))
    if not octets.endswith(_JPEG_END):
        raise _cut_off()
    return found


def _png_size(octets: bytes) -> tuple[int, int]:
    place, found, name = len(_PNG), (0, 0), b""
    while name != b"IEND":
        size = _number(octets, place, 4)
        name, body = octets[place + 4 : place + 8], octets[place + 4 : place + 8 + size]
        if zlib.crc32(body) != _number(octets, place + 8 + size, 4):
            raise _cut_off()
        if name in _PNG_METADATA:
            _refuse_metadata(name.decode())
        if name == b"IHDR":
            found = (_number(body, 4, 4), _number(body, 8, 4))
        place += 12 + size
    return found


def _webp_chunks(octets: bytes) -> Iterator[tuple[bytes, bytes]]:
    end = 8 + _number(octets, 4, 4, "little")
    if end > len(octets):
        raise _cut_off()
    place = 12
    while place + 8 <= end:
        size = _number(octets, place + 4, 4, "little")
        yield octets[place : place + 4], octets[place + 8 : place + 8 + size]
        place += 8 + size + size % 2


def _webp_size(octets: bytes) -> tuple[int, int]:
    found = (0, 0)
    for name, body in _webp_chunks(octets):
        if name in _WEBP_METADATA:
            _refuse_metadata(name.decode().strip())
        if name == b"VP8X":
            found = (1 + _number(body, 4, 3, "little"), 1 + _number(body, 7, 3, "little"))
        elif name == b"VP8 " and found == (0, 0):
            found = (_number(body, 6, 2, "little") & 0x3FFF, _number(body, 8, 2, "little") & 0x3FFF)
        elif name == b"VP8L" and found == (0, 0):
            bits = _number(body, 1, 4, "little")
            found = (1 + (bits & 0x3FFF), 1 + (bits >> 14 & 0x3FFF))
    return found
