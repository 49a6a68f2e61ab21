"""The face as the phone gets it: one width and weight for sentences, one for labels and figures, of what npm brings.

Archivo is under the SIL Open Font License 1.1, which allows this and reserves no name.
"""

from __future__ import annotations

from pathlib import Path

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont
from fontTools.ttLib.scaleUpem import scale_upem
from fontTools.varLib.instancer import instantiateVariableFont

PWA = Path(__file__).resolve().parent
WHOLE = PWA / "node_modules/@fontsource-variable/archivo/files/archivo-latin-standard-normal.woff2"
# Widths in percent. Fixed places on the two axes weigh half of what the axes do.
FACES = {"text": {"wght": 480, "wdth": 94}, "label": {"wght": 650, "wdth": 76}}
UNITS_PER_EM = 500  # half the grid it was drawn on: a twelfth of a pixel in the largest figure
FEATURES = ["kern", "lnum", "tnum"]  # what is typed on a set comes composed: no marks to place
# What the screens themselves say. Other letters (names have them) come when they are first needed and there is signal;
# until then the phone's own face draws them.
CORE = {*range(0x20, 0x7F), *map(ord, "\u00a0£°±²µ·¼½¾×€–—‘’“”…−↑↓")}


OTHERS = [
    *range(0xA1, 0x180),
    *range(0x2BB, 0x2DD),
    *range(0x2000, 0x2216),
]  # the core's rule, named later, wins


def _ranges(letters: list[int]) -> str:
    """Return letters as a CSS unicode-range."""
    runs: list[list[int]] = []
    for one in letters:
        if runs and one == runs[-1][1] + 1:
            runs[-1][1] = one
        else:
            runs.append([one, one])
    return ",".join(f"U+{first:X}" + (f"-{last:X}" if last > first else "") for first, last in runs)


def write_faces() -> list[Path]:
    """Write the faces and their style sheet where the front end's build imports them, and return those paths."""
    style = PWA / "generated" / "faces.css"
    newest = max(WHOLE.stat().st_mtime, Path(__file__).stat().st_mtime)
    written = [style]
    rules = []
    for name, place in FACES.items():
        for part, letters in (("more", OTHERS), ("core", sorted(CORE))):
            path = PWA / "generated" / f"archivo_{name}_{part}.woff2"
            written.append(path)
            rules.append(_rule(name, path.name, letters))
            if not path.exists() or path.stat().st_mtime < newest:
                _write(path, place, [one for one in letters if part == "core" or one not in CORE])
    text = "/* Written by face.py. */\n" + "".join(rules)
    if not style.exists() or style.read_text(encoding="utf-8") != text:
        style.write_text(text, encoding="utf-8")
    return written


def _rule(name: str, file: str, letters: list[int]) -> str:
    # Told apart by width. optional: a face that came late would move rows under a thumb; it is there at the next start.
    widths = {"text": "90% 100%", "label": "50% 89%"}[name]
    return (
        f'@font-face{{font-family:"Archivo";font-weight:1 1000;font-stretch:{widths};font-display:optional;'
        f'src:url("./{file}") format("woff2");unicode-range:{_ranges(letters)}}}\n'
    )


def _write(path: Path, place: dict[str, float], letters: list[int]) -> None:
    font = TTFont(WHOLE)
    subsetter = Subsetter(Options(layout_features=FEATURES, hinting=False, notdef_outline=True))
    subsetter.populate(unicodes=letters)
    subsetter.subset(font)
    font = instantiateVariableFont(font, place)
    scale_upem(font, UNITS_PER_EM)
    font.flavor = "woff2"
    path.parent.mkdir(exist_ok=True)
    font.save(path)
