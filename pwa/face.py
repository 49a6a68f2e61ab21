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


def write_faces() -> list[Path]:
    """Write the faces where the front end's build imports them, and return those paths."""
    written = [PWA / "generated" / f"archivo_{name}.woff2" for name in FACES]
    newest = max(WHOLE.stat().st_mtime, Path(__file__).stat().st_mtime)
    for path, place in zip(written, FACES.values(), strict=True):
        if path.exists() and path.stat().st_mtime >= newest:
            continue
        font = TTFont(WHOLE)
        subsetter = Subsetter(Options(layout_features=FEATURES, hinting=False, notdef_outline=True))
        subsetter.populate(unicodes=font.getBestCmap().keys())
        subsetter.subset(font)
        font = instantiateVariableFont(font, place)
        scale_upem(font, UNITS_PER_EM)
        font.flavor = "woff2"
        path.parent.mkdir(exist_ok=True)
        font.save(path)
    return written
