"""The built files once more as brotli (RFC 7932) and gzip (RFC 1952), so that the server compresses nothing while phones wait."""

from __future__ import annotations

import gzip
from pathlib import Path

import brotli

WORTH_IT_BYTES = 512
WORTH_IT_RATIO = 0.95


def write_compressed(folder: Path) -> None:
    """Write `name.br` and `name.gz` beside every file of a built folder that becomes clearly smaller by it."""
    for path in sorted(path for path in folder.rglob("*") if path.is_file()):
        octets = path.read_bytes()
        if len(octets) < WORTH_IT_BYTES:
            continue
        for suffix, smaller in ((".br", brotli.compress(octets)), (".gz", gzip.compress(octets, 9, mtime=0))):
            if len(smaller) < WORTH_IT_RATIO * len(octets):
                path.with_name(path.name + suffix).write_bytes(smaller)
