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
# Neither text nor WebAssembly keeps to whole words of four octets: no alignment (pb) is worth a context.
FILTERS = [{"id": lzma.FILTER_LZMA2, "preset": 9 | lzma.PRESET_EXTREME, "lc": 3, "lp": 0, "pb": 0}]


def micropython() -> bytes:
    """Return MicroPython's WebAssembly as the phone runs it."""
    return thinned(MICROPYTHON.read_bytes())


def packed(octets: bytes) -> bytes:
    """Return octets as an xz file; CRC32 is the one check that the phone's unpacker knows."""
    return lzma.compress(octets, format=lzma.FORMAT_XZ, check=lzma.CHECK_CRC32, filters=FILTERS)


def write_packed() -> list[Path]:
    """Write what the front end's build imports, and return those paths."""
    GENERATED.mkdir(exist_ok=True)
    # A path, its source, the next path, with NUL between: in JSON every end of a line would be two signs.
    rules = "\0".join(part for file in sorted(phone_bundle().items()) for part in file).encode()
    contents = {"micropython.packed": micropython(), "rules.packed": rules}
    for name, octets in contents.items():
        (GENERATED / name).write_bytes(packed(octets))
    return [GENERATED / name for name in contents]


if __name__ == "__main__":
    for path in write_packed():
        print(path.relative_to(PWA), path.stat().st_size)
