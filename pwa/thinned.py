"""MicroPython without the library in Python that is frozen into it: a sixth of the whole, and no rule imports any of it.

It is blanked, not cut out: every address stays, and zeros pack to nothing. What lies where is as MicroPython's own
`tools/mpy-tool.py` writes it: a pool of names, the list of files, a record of three words for each, pointers to these
records, and then what they hold, file by file.
"""

from __future__ import annotations

import re
import struct
from collections.abc import Callable

FIRST = 0x10000  # the address at which the data begin
HEAD = b"\x00\x41\x80\x80\x04\x0b"  # WebAssembly for "data from that address on"; their length follows in three octets
FILES = re.compile(rb"(?:[\w/]+\.py\0){20,}\0")
RECORD_BYTES = 12
POOL_HEAD_BYTES = (
    16  # for how many names there is room, how many there are, where their digests and lengths lie
)
ALIGNED_BYTES = 16


def thinned(wasm: bytes) -> bytes:
    """Return MicroPython's WebAssembly as if nothing had been frozen into it.

    Raises:
        ValueError: this MicroPython keeps what is frozen in another way; then this file has to be written anew.
    """
    octets = bytearray(wasm)
    found = FILES.search(wasm)
    if not found or HEAD not in wasm:
        raise ValueError(
            "no list of frozen files in this MicroPython: read pwa/thinned.py anew, or leave it out"
        )
    shift = wasm.index(HEAD) + len(HEAD) + 3 - FIRST

    def word(address: int) -> int:
        return int(struct.unpack_from("<I", wasm, address + shift)[0])

    def blank(start: int, end: int) -> None:
        octets[start + shift : end + shift] = bytes(end - start)

    files, files_end = (place - shift for place in found.span())
    records = _first(range(files_end, files_end + 4), lambda at: at % 4 == 0)
    records_end = records + RECORD_BYTES * (found[0].count(b"\0") - 1)
    pointers = _first(range(records_end, records_end + ALIGNED_BYTES, 4), lambda at: word(at) == records)
    pointers_end = pointers + (records_end - records) // RECORD_BYTES * 4
    # Up to the code of the last file, which alone has no other behind it to say where it ends. It is no longer listed.
    blank(files, word(word(pointers_end - 4) + 8))

    def ends_at_files(at: int) -> bool:
        return files - ALIGNED_BYTES < at + POOL_HEAD_BYTES + 4 * word(at + 4) <= files

    pool = _first(range(files // 4 * 4 - POOL_HEAD_BYTES, FIRST, -4), ends_at_files)
    room, names, digests, lengths = (word(pool + 4 * place) for place in range(4))
    # As many stay as there is room for: into a pool that is not full MicroPython would write.
    struct.pack_into("<I", octets, pool + 4 + shift, room)
    blank(pool + POOL_HEAD_BYTES + 4 * room, files)
    blank(digests + 2 * room, digests + 2 * names)
    blank(lengths + room, lengths + names)
    return bytes(octets)


def _first(places: range, fits: Callable[[int], bool]) -> int:
    for place in places:
        if fits(place):
            return place
    raise ValueError(
        f"nothing fits between {places.start:#x} and {places.stop:#x} of this MicroPython: read pwa/thinned.py anew"
    )
