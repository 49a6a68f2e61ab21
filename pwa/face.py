"""The face as the phone gets it: the weights and widths that the screens use, of the one file that npm brings.

Archivo is under the SIL Open Font License 1.1, which allows this and reserves no name.
"""

from __future__ import annotations

from pathlib import Path

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont
from fontTools.varLib.instancer import AxisTriple, instantiateVariableFont

PWA = Path(__file__).resolve().parent
WHOLE = PWA / "node_modules/@fontsource-variable/archivo/files/archivo-latin-standard-normal.woff2"
FACE = PWA / "generated" / "archivo.woff2"
WEIGHTS = AxisTriple(460, 600, 760)
WIDTHS = AxisTriple(68, 94, 94)  # percent; nothing on a screen is wider than its sentences
FEATURES = ["kern", "lnum", "tnum"]  # what is typed on a set comes composed: no marks to place


def write_face() -> Path:
    """Write the face where the front end's build imports it, and return that path."""
    if FACE.exists() and FACE.stat().st_mtime >= max(WHOLE.stat().st_mtime, Path(__file__).stat().st_mtime):
        return FACE
    font = TTFont(WHOLE)
    options = Options(layout_features=FEATURES, hinting=False, notdef_outline=True)
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=font.getBestCmap().keys())
    subsetter.subset(font)
    font = instantiateVariableFont(font, {"wght": WEIGHTS, "wdth": WIDTHS})
    font.flavor = "woff2"
    FACE.parent.mkdir(exist_ok=True)
    font.save(FACE)
    return FACE
