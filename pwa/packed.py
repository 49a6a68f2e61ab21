"""What the phone's Python needs, packed smaller than gzip can: MicroPython itself, and the rules that it runs.

xz takes a sixth off what gzip makes of them, which is more than the unpacker costs (`pwa/src/engine/packed.ts`).
"""

from __future__ import annotations

import lzma
from pathlib import Path

from rules_bundle import phone_bundle
from thinned import thinned

PWA = Path(__file__).resolve().parent
GENERATED = PWA / "generated"
MICROPYTHON = PWA / "node_modules/@micropython/micropython-webassembly-pyscript/micropython.wasm"
# What "pb" says to xz of data that keep to words of four octets, as tables in WebAssembly do and text does not.
IN_WORDS, NOT_IN_WORDS = 2, 0


def micropython() -> bytes:
    """Return MicroPython's WebAssembly as the phone runs it."""
    return thinned(MICROPYTHON.read_bytes())


def packed(octets: bytes, position_bits: int) -> bytes:
    """Return octets as an xz file; CRC32 is the one check that the phone's unpacker knows."""
    how = {"id": lzma.FILTER_LZMA2, "preset": 9 | lzma.PRESET_EXTREME, "lc": 3, "lp": 0, "pb": position_bits}
    return lzma.compress(octets, format=lzma.FORMAT_XZ, check=lzma.CHECK_CRC32, filters=[how])


def write_packed() -> list[Path]:
    """Write what the front end's build imports, and return those paths."""
    GENERATED.mkdir(exist_ok=True)
    # A path, its source, the next path, with NUL between: in JSON every end of a line would be two signs.
    # The longest first: the short ones then find most of their words in what went before.
    files = sorted(phone_bundle().items(), key=lambda file: -len(file[1]))
    rules = "\0".join(part for file in files for part in file).encode()
    contents = {
        "micropython.packed": packed(micropython(), IN_WORDS),
        "rules.packed": packed(rules, NOT_IN_WORDS),
    }
    for name, octets in contents.items():
        (GENERATED / name).write_bytes(octets)
    return [GENERATED / name for name in contents]


if __name__ == "__main__":
    for path in write_packed():
        print(path.relative_to(PWA), path.stat().st_size)
