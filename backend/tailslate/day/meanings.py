"""What each number on a sheet is: in the trade's words, with its formula, its source and its caution.

Knows no shot. N1 every label that a sheet can show stands here, and nothing else does. N2 a source is named as
craft/SOURCES.md has it, in short; where there is none it says so. N3 short: all of it goes to every phone.
"""

from tailslate.day import cautions

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

PRACTICE = "common practice, no source"

# source key -> its short form
SOURCES = {
    "battery-1": "energy arithmetic",
    "cable-1": "NFPA 70 table 8, IEC 60228",
    "colour-1": "definition of the mired",
    "colour-2": "CIE 015, Ohno 2014",
    "colour-6": "Judd; Wyszecki and Stiles",
    "contrast-1": PRACTICE,
    "dimmer-1": PRACTICE,
    "drinks-1": "Beer-Lambert law",
    "drinks-3": PRACTICE,
    "exposure-1": "ISO 2720",
    "exposure-3": "definition of the stop",
    "flicker-1": "arithmetic; " + PRACTICE,
    "flicker-2": "WCAG 2.3.1, written for screens",
    "food-1": "WHO guideline on sugars, 2015",
    "food-2": "EFSA opinion on caffeine, 2015",
    "food-3": "21 CFR 101.100; EU 1169/2011",
    "food-4": "FDA Food Code",
    "food-5": "EU 1169/2011; US FALCPA",
    "geometry-3": "similar triangles",
    "lens-1": "thin lens, pinhole",
    "lens-2": "Ray, Applied Photographic Optics",
    "light-1": "inverse-square and cosine law",
    "light-2": "Howell, configuration factors",
    "light-7": "Stokes, pile of plates",
    "power-1": "NFPA 70, 210.20",
    "power-2": "circuit theory",
    "power-5": "IEC 60364-5-53",
    "reading-1": "ratio of a reading to its model",
    "rigging-1": "statics",
    "rigging-2": PRACTICE,
    "rigging-3": "OSHA 1910.184, EN 17206",
    "schedule-2": "PERT; Taylor",
    "schedule-3": "PERT; Clark 1961",
    "schedule-4": "normal distribution",
    "tape-1": "counting lengths",
    "tape-2": "unrolled cylinder",
    "walkway-1": "ADA Standards 303",
    "wind-1": "EN 1991-1-4",
    "wind-3": "WMO, Beaufort scale",
    "": "",
}

# label -> (what it is, formula in words, source key, code of the caution)
FIGURES = {
    "Counterweight": (
        "Weight on the short end that balances what hangs on the arm.",
        "load × its arm / arm of the weight",
        "rigging-1",
        "load",
    ),
    "Bags": (
        "Bags on the legs so that a stand does not tip, also if its arm swings the worst way.",
        "(1.5 × what tips it − what holds it) / reach of the legs",
        "rigging-2",
        "load",
    ),
    "Load on the stand": ("All that the column carries, against its maker's rating.", "sum", "rigging-1", "load"),
    "Holding moment": (
        "How hard the arm turns in its grip, level, where it is largest.",
        "load × distance from the grip",
        "rigging-1",
        "load",
    ),
    "Safety": (
        "What the second, independent support must hold: over people ten times what hangs on it.",
        "weight × design factor",
        "rigging-3",
        "overhead",
    ),
    "Tips in gusts": (
        "The gust at which the sheet pulls its stand over, by the sum.",
        "wind pressure × area × height = what holds it down × half the base",
        "wind-1",
        "wind",
    ),
    "Wind limit": ("The gust at which it is struck: set by a person, below where it tips.", "", "rigging-2", "wind"),
    "Gusts": ("As read at the sheet's height, against the limit. Gusts reach half as much again as the mean.", "", "wind-3", "wind"),
    "Struck by": ("Who takes it down when the limit is near.", "", "rigging-2", "wind"),
    "Load": (
        "Current of all that is plugged in here, against the breaker.",
        "watts / (volts × power factor), added; 80 % of the breaker for 3 hours and more",
        "power-1",
        "electric",
    ),
    "One more": ("What is left on this circuit.", "allowed current − load", "power-2", "electric"),
    "Neutral": (
        "Current in the shared neutral of three legs; dimmed and electronic loads can fill it.",
        "phasor sum, third harmonics added",
        "power-2",
        "electric",
    ),
    "Voltage drop": (
        "What the cable takes on the way: lamps burn dimmer and warmer.",
        "2 × length × resistance a metre × current",
        "cable-1",
        "electric",
    ),
    "Leakage": (
        "Standing leakage of all that is plugged in: too much trips the residual-current device.",
        "sum, against three tenths of the device",
        "power-5",
        "wet",
    ),
    "Protection": ("Whether a residual-current device stands before it. Not known is not yes.", "", "power-5", "wet"),
    "Runs for": ("How long one battery lasts.", "energy × usable share × cold share / watts", "battery-1", "battery"),
    "Batteries": ("How many for the time it burns.", "time / time of one, rounded up", "battery-1", "battery"),
    "Allergy round": ("Every performer was asked, for what is in it now. No answer is not a yes.", "", "food-5", "not_cleared"),
    "To mix": (
        "Litres for all takes, resets and spares.",
        "fill of a glass × glasses × (resets + 1) + spares + waste",
        "drinks-3",
        "food",
    ),
    "Portions": ("How many to make for all takes.", "eaten a take × takes + spares", "drinks-3", "food"),
    "Look": ("The colour of the mix beside the real one.", "absorbance = share × depth, added", "drinks-1", "food"),
    "Mix, sugar, caffeine, sulphites": ("Worked out once it is listed what is in it.", "", "drinks-3", "swallowed"),
    "Sugar": ("Grams swallowed over all takes, against 50 g a day.", "swallowed × share", "food-1", "swallowed"),
    "Caffeine": ("Milligrams swallowed, against 200 at once and 400 a day; children less.", "swallowed × share", "food-2", "swallowed"),
    "Sulphites": ("From 10 mg/kg they are named on the label.", "share of each part, added", "food-3", "swallowed"),
    "Out of the cold": ("Until when it may stand out: the clock never starts again.", "made at + 4 hours (6 when never above 21 °C)", "food-4", "batch"),
    "Used so far": ("What was counted as used up.", "sum", "drinks-3", ""),
    "Angle of view": ("How wide the lens sees.", "2 atan(sensor width / 2 × focal length)", "lens-1", ""),
    "Field at the subject": ("Width and height of the picture where the subject is.", "sensor × (distance − focal length) / focal length", "lens-1", ""),
    "Depth of field": ("What is sharp, from near to far.", "from focal length, stop, distance, circle of confusion", "lens-2", ""),
    "Even light": ("Shutter angles at which pulsing lamps light each frame alike.", "whole pulses in an exposure", "flicker-1", ""),
    "Flashes": ("Flashes a second: over three can harm people.", "", "flicker-2", "flash"),
    "Needed at once": ("How many the shots that overlap need together, against how many are there.", "sum over shots", "", ""),
    "Marks": ("Tape for all marks of this roll.", "strips of each mark, added", "tape-1", ""),
    "Tape": ("Tape that the job takes; or rolls, against those that are there.", "runs × length + turns; rolls rounded up", "tape-2", "hot_cable"),
    "Walkway": (
        "What a cable needs where people walk: over 6.4 mm a bevel, over 13 mm a ramp.",
        "height of the bump",
        "walkway-1",
        "trip",
    ),
}  # fmt: skip

# part of a shot -> its words beside figures that have no label of their own
PARTS = {
    "light": (
        ("Level",
            "How far the light at a point is from the shot's target. Plain: a meter's. In a bracket: worked out, "
            "between two ends. One stop is twice the light; under is darker.",
            "log2(lux / target lux); target = 250 or 340 × stop squared / (index × time)",
            "exposure-1",
            "",
        ),
        ("Lux and footcandles", "Light on a surface that faces the lamp.", "candela × cos / distance squared; 10.8 lx a footcandle", "light-1", ""),
        ("Key to fill", "Contrast of the two sides of a face.", "(key + fill) : fill", "contrast-1", ""),
        ("From the key", "How much darker or brighter than the key.", "log2(one / key)", "exposure-3", ""),
        ("Spread", "From the brightest to the darkest point of the shot.", "log2(brightest / darkest)", "exposure-3", ""),
        ("Ladder", "Where the light of one lamp goes: what each sheet, gel or louvre takes, in stops.", "each stage's share, sheets reflect between them", "light-7", ""),
        ("Softness", "How large the source looks from the face, and so how wide its shadow edge is.", "2 atan(width / 2 × distance); edge = width × gap / distance", "geometry-3", ""),
        ("Dimmers", "Where the dimmer meets the level wanted. A range, until two readings say its curve.", "light = setting to the power 1 to 2.2", "dimmer-1", ""),
        ("Light from dressing", "What a cloth, chart or wall gives back as fill.", "light on it × reflectance × share of the view", "light-2", ""),
        ("Said by readings", "How far a reading is from the model of its lamp: the model is moved by that from then on.", "reading / model", "reading-1", ""),
    ),
    "colour": (
        ("Balanced for", "The colour that the camera takes for white.", "", "colour-2", ""),
        ("Mired", "Colour temperature on a scale where gels add up; warm is more.", "1 000 000 / kelvin", "colour-1", ""),
        ("Tint", "Off the line of black bodies: plus is green, minus magenta.", "Duv, distance in CIE 1960 u, v", "colour-2", ""),
        ("Visible", "Two sources side by side differ to the eye from about 5 mired.", "difference in mired", "colour-6", ""),
    ),
    "board": (
        ("Ready between", "Eight times in ten the shot is ready between the two ends; the upright is the likely time. From words, what is left, the pace of today's ticks and how many hands there are.", "a task: (earliest + 4 likely + latest) / 6; where paths meet, the latest", "schedule-3", ""),
        ("Odds", "Of ten days like this one, in how many it is ready by the time planned.", "chance of a normal time", "schedule-4", ""),
        ("Own word", "What a department says outranks the sum until it is old. 10 more is taken as 8 to 15: " + PRACTICE + ".", "", "", ""),
        ("Left, again, two", "Left: not done. Again: done once, and what it was done for has moved since. Two: two answers, the careful one counts. No word: nobody of it has said anything. Was done: done, and long not heard since.", "", "", ""),
        ("Sooner", "What the shot gains if this is done now.", "mean time with it less mean time without", "schedule-2", ""),
        ("Age", "Since a department's last act that reached here. Old: ask by voice.", "", "", ""),
        ("Wrap, rest, hours", "What was typed, held against the forecast. Within is arithmetic and gives no leave.", "", "", "hours"),
    ),
    "turn": (
        ("What moves", "Told from the step of its field on, such as 0.1 m of a lamp's distance; a smaller move stays. What nobody said is asked.", "", "", ""),
        ("Level in a match", "Each from its own shot's stop: that is how dark it is recorded.", "stops now less stops then", "exposure-1", ""),
        ("Contrast in a match", "How much harder or flatter, in stops.", "log2(ratio now / ratio then)", "exposure-3", ""),
        ("Direction in a match", "Where light comes from at the point, in the room: 0 is straight away, right is right. Of another day, as the camera sees it. Two faces may be mirror images.", "", "", ""),
        ("Passes within", "What a cut hides: 0.3 stops, 15\u00b0, 5 mired and 0.003 Duv; " + PRACTICE + ", save the colours.", "", "colour-6", ""),
    ),
}  # fmt: skip

# facts that the crew fills in -> what they are for
FACTS = {
    "allergens": "All that the label names.", "bags on it": "As hung now.",
    "breaker": "Rating in amperes; the load may not pass it.", "camera path": "Fixed, or how far it moves.",
    "column to foot": "From the column to the end of a leg: what holds against tipping.",
    "depth": "Away from the lens.", "exposure index": "What the camera is rated at: doubling is a stop.",
    "filled to": "Height of the drink, the same in every take.", "flame-retardant": "Proved, not, or unknown: unknown counts as not.",
    "frame rate": "Pictures a second.", "glass": "What it is poured into.", "glasses": "On the set at once.",
    "height of the line": "From the foot of the glass to the drink.", "legs": "A stand tips between two of them.",
    "lens": "Focal length.", "lens height": "Above the floor.", "lens to subject": "Focus distance.",
    "load": "What the arm carries.", "load out from the column": "The arm it tips by.", "made at": "When it left the cold.",
    "made from": "What it is in truth.", "maker's rating": "The most that its maker allows.",
    "material": "What it is made of.", "meter constant C": "250 for a flat, 340 for a dome, unless the maker says otherwise.",
    "mixed at": "When the clock began.", "mixed from": "What it is in truth.", "one bag": "Weight of one.",
    "outlets mapped": "Whether someone proved which outlet is on which breaker.", "over people": "Unknown counts as yes.",
    "place": "Where it stands.", "portions": "As planned.", "reflectance, typical": "Share of light it gives back.",
    "residual-current protected": "Unknown counts as no.", "resets planned": "Times that it is filled again.",
    "serves as": "Its use in this shot.", "shutter angle": "360 is open for the whole frame; 180 for half.",
    "spares": "Sets beside those in use.", "stand": "Its weight.", "stop": "T-stop of the lens: a stop more is half the light.",
    "voltage": "Between line and neutral.", "width": "Across the picture.",
}  # fmt: skip


def label_of(label: str) -> str:
    """Return the label that a meaning stands under: the legs of a circuit share one.

    >>> label_of("Leg 2"), label_of("Bags")
    ('Load', 'Bags')
    """
    return "Load" if label[:4] == "Leg " else label


def meaning(label: str) -> "dict[str, Any] | None":
    """Return what a label means, None for one that no sheet shows.

    Args:
        label: as the sheet has it.
    Returns: dict, keys label, meaning, formula, source, caution (as a sheet shows it, or None).
    """
    name = label_of(label)
    row = FIGURES.get(name)
    for part in PARTS:
        for words in PARTS[part]:
            if words[0] == name:
                row = words[1:]
    if row is None and name in FACTS:
        row = (FACTS[name], "", "", "")
    if row is None:
        return None
    said, formula, source, caution = row
    return {
        "label": name,
        "meaning": said,
        "formula": formula,
        "source": SOURCES[source],
        "caution": cautions.caution(caution) if caution else None,
    }


def meanings(labels: "list[str]", part: str) -> "list[dict[str, Any]]":
    """Return the meanings of what a part of a shot shows, each once, in the order asked.

    Args:
        labels: labels of its figures and facts; what has no meaning is left out.
        part: the part's name, such as "light".
    """
    found: list[dict[str, Any]] = []
    for label in [words[0] for words in PARTS.get(part, ())] + labels:
        one = meaning(label)
        if one and one not in found:
            found.append(one)
    return found
