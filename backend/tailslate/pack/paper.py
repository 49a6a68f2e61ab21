"""Blocks -> PDF, by typst with the faces that it brings along: the same bytes for the same words, on any machine.

The words go in as JSON data. They are never read as markup: what a person typed cannot run or reach a file.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import typst

from tailslate.pack.blocks import Block, all_words, words

LAYOUT = Path(__file__).with_name("paper.typ")
# What the faces that typst brings along can show; from their character tables, rounded to whole blocks.
_SHOWN = (
    (0x0020, 0x0377), (0x0384, 0x0527), (0x05D0, 0x05EA), (0x1E00, 0x1FFF), (0x2000, 0x206F), (0x2070, 0x22FF),
    (0x2500, 0x25FF), (0xFB00, 0xFB06), (0xFEFF, 0xFEFF),
)  # fmt: skip


def pdf(
    blocks: Sequence[Block],
    *,
    title: str,
    printed_at: str,
    fonts: Path | None = None,
) -> bytes:
    """Return a document as PDF.

    Args:
        blocks: what stands in it, in order.
        title: of the day, on every page.
        printed_at: clock of the place when it was printed, on every page.
        fonts: folder of more faces, for letters that the built-in ones lack.
    """
    facts: dict[str, Any] = {
        "title": words(title),
        "printed_at": printed_at,
        "blocks": list(blocks),
    }
    return typst.compile(
        LAYOUT,
        font_paths=[fonts] if fonts else [],
        ignore_system_fonts=True,
        sys_inputs={"facts": json.dumps(facts, ensure_ascii=False)},
        format="pdf",
    )


def letters_without_a_face(blocks: Sequence[Block]) -> list[str]:
    """Return the letters that the built-in faces cannot show, sorted; a folder of fonts brings them."""
    return sorted(
        one
        for one in all_words(blocks)
        if one != "\n" and not any(low <= ord(one) <= high for low, high in _SHOWN)
    )
