"""MicroPython without the library in Python that is frozen into it: no rule imports any of it, and it is a sixth of the whole.

It is blanked, not cut out: every address stays, and zeros pack to nothing. What lies where is as MicroPython's own
`tools/mpy-tool.py` writes it: a pool of names, the list of files, a record of three words for each, pointers to these
records, and then what they hold, file by file.
"""

from __future__ import annotations

import re
import struct

FIRST = 0x10000  # the address at which the data begin
HEAD = b"\x00\x41\x80\x80\x04\x0b"  # WebAssembly for "data from that address on"; their length follows in three octets
FILES = re.compile(rb"(?:[\w/]+\.py\0){20,}\0")
RECORD_BYTES = 12


def thinned(wasm: bytes) -> bytes:
    """Return MicroPython's WebAssembly as if nothing had been frozen into it."""
    octets = bytearray(wasm)
    shift = wasm.index(HEAD) + len(HEAD) + 3 - FIRST

    def word(address: int) -> int:
        return int(struct.unpack_from("<I", wasm, address + shift)[0])

    def blank(start: int, end: int) -> None:
        octets[start + shift : end + shift] = bytes(end - start)

    found = FILES.search(wasm)
    if not found:
        raise ValueError("this MicroPython has no frozen files, or keeps them otherwise: read thinned.py anew")
    files = found.start() - shift
    count = found[0].count(b"\0") - 1
    records = -(-(found.end() - shift) // 4) * 4
    after = records + count * RECORD_BYTES
    pointers = next(address for address in range(after, after + 16, 4) if word(address) == records)
    last_record = word(pointers + 4 * (count - 1))
    blank(files, word(last_record + 8))

    # The pool ends where the files begin: room, how many names, where their digests and lengths are, a pointer to each.
    # As many stay as it has room for: into a pool that is not full MicroPython would write.
    pool = next(at for at in range(files - 28, FIRST, -4) if files - 16 < at + 16 + 4 * word(at + 4) <= files)
    room, names, digests, lengths = (word(pool + 4 * place) for place in range(4))
    struct.pack_into("<I", octets, pool + 4 + shift, room)
    blank(pool + 16 + 4 * room, files)
    blank(digests + 2 * room, digests + 2 * names)
    blank(lengths + room, lengths + names)
    return bytes(octets)
