"""Which field a column of a brought list holds: guessed from its heading in the trade's words, then from its cells.

Knows no record. B1 every guess is shown and can be set otherwise; a column that nobody names is left out, and said so.
"""

from tailslate.craft import quantity
from tailslate.craft.errors import RuleError
from tailslate.day import kinds

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

SETUP = "setup."
_NOTE = "note notes comment comments remark remarks"
# For each kind of list its fields with the headings that people write over them, in small letters, "|" between
# those of several words. A field of the set-up that a shot is given stands behind "setup.".
HEADINGS: "dict[str, tuple[tuple[str, str], ...]]" = {
    "shot": (
        ("number", "shot|shot no|shot nr|shot number|no|nr|number|slate|shots|id"),
        (
            "title",
            "description|shot description|title|action|what|name|content|subject|size|shot size|framing",
        ),
        ("scene", "scene|sc|scene no|scene nr|scene number"),
        (SETUP + "lens_mm", "lens|focal length|focal|lens mm"),
        (SETUP + "camera_height_m", "height|camera height|lens height|cam height|cam ht"),
        (SETUP + "camera_distance_m", "distance|camera distance|subject distance|lens to subject"),
        (SETUP + "path", "movement|move|camera movement|camera move|path|camera path|grip"),
        ("t_stop", "stop|t stop|tstop|t|aperture"),
        ("exposure_index", "iso|ei|asa|index|exposure index"),
        ("frame_rate_per_s", "fps|frame rate|frames"),
        ("shutter_angle_deg", "shutter|shutter angle"),
        ("planned_roll_time", "roll|roll time|time|planned|planned to roll|start"),
        ("shooting_min", "minutes|min|duration|shooting time|est min|estimate"),
        ("note", _NOTE.replace(" ", "|")),
    ),
    "dressing": (
        ("title", "prop|props|dressing|item|name|title|description|object|what"),
        ("scene", "scene|sc|scene no|scene nr|scene number"),
        ("place", "place|location|where|position|on set"),
        ("material", "material|made of|finish|cloth"),
        ("width_m", "width|wide|w"),
        ("depth_m", "depth|deep|length|d|l"),
        ("tall_m", "height|tall|h|its height"),
        ("flame_retardant", "flame retardant|fire retardant|fr|flameproof|flame proof"),
        ("reflectance_ratio", "reflectance|reflects"),
        ("glass", "mirror|flat glass|glass or mirror"),
        ("note", _NOTE.replace(" ", "|")),
    ),
    "drink": (
        ("title", "drink|passes for|plays|seen as|name|title|item|what"),
        ("mixed_from", "mixed from|made from|mix|really|actual|contents|recipe|substitute"),
        ("scene", "scene|sc|scene no|scene nr|scene number"),
        ("glass", "glass|vessel|glass type|in"),
        ("fill_l", "fill|filled to|volume|fill line|pour"),
        ("glasses", "glasses|qty|quantity|count|how many|number|no|pcs"),
        ("spares", "spares|spare"),
        ("resets", "resets|reset"),
        ("takes_planned", "takes|takes planned"),
        ("performers", "performers|drinkers|who drinks"),
        ("allergens", "allergens|allergen|allergies|contains"),
        ("note", _NOTE.replace(" ", "|")),
    ),
    "kit": (
        ("title", "kit|item|equipment|name|title|description|gear|what"),
        ("owner", "owner|from|source|owned or hired|own or hire|hire|whose"),
        ("count", "count|qty|quantity|how many|amount|pcs|pieces|number|no|units"),
        ("place", "place|location|where|truck|shelf|case"),
        ("rating", "rating|rated|working load|wll|load|max load"),
        ("cost", "cost|price|rate|day rate|fee"),
        ("flame_retardant", "flame retardant|fire retardant|fr|flameproof|flame proof"),
        ("input_w", "watts|power|input power|w"),
        ("colour_k", "colour|color|colour temperature|kelvin|k"),
        ("roll_m", "roll|roll length|on a roll"),
        ("note", _NOTE.replace(" ", "|")),
    ),
}
KEYS = {"shot": "number", "dressing": "title", "drink": "title", "kit": "title"}
JOINED = ("title", "note")  # several columns may go here; what they hold is joined
HEADER_ROWS = 10


def field_of(kind: str, name: str) -> "tuple[str, kinds.Field]":
    """Return the kind that a column's field is of, and the field.

    Raises: RuleError "not_for_a_list".
    """
    of_kind = "setup" if name.startswith(SETUP) else kind
    found = kinds.field_of(of_kind, name[len(SETUP) :] if of_kind != kind else name)
    if found is None or name not in [row[0] for row in HEADINGS[kind]]:
        raise RuleError("not_for_a_list", "a list of {} has no column {}; choose another".format(kind, name))
    return of_kind, found


def plain(heading: str) -> str:
    """Return a heading without case, marks and unit, for looking it up.

    >>> plain("Camera-Height (ft)"), plain("Shot #")
    ('camera height', 'shot no')
    """
    words = without_unit(heading)[0].lower().replace("#", " no ")
    for mark in "._-/:*?'":
        words = words.replace(mark, " ")
    return " ".join(words.split())


def without_unit(heading: str) -> "tuple[str, str]":
    """Return a heading without the unit that stands in brackets, and the unit; "" when it names none.

    >>> without_unit("Width [cm]")
    ('Width', 'cm')
    """
    for start, end in (("(", ")"), ("[", "]")):
        at, to = heading.find(start), heading.rfind(end)
        if 0 <= at < to:
            unit = heading[at + 1 : to].strip()
            try:
                quantity.stored_unit(unit)
                return heading[:at].strip(), unit
            except RuleError:
                return heading[:at].strip() or heading, ""  # what is in the brackets is a remark
    return heading.strip(), ""


def _named(kind: str, heading: str) -> str:
    words = plain(heading)
    for field, headings in HEADINGS[kind]:
        if words and words in headings.split("|"):
            return field
    return ""


def header_at(rows: "list[list[str]]") -> "tuple[int, str]":
    """Return where the headings stand and what kind of list they head; -1 when no row looks like headings.

    Args:
        rows: all rows; those before the headings are a title, such as a merged cell leaves.
    """
    best, found = 0, (-1, "shot")
    for place, row in enumerate(rows[:HEADER_ROWS]):
        for kind in HEADINGS:
            named = [_named(kind, cell) for cell in row]
            score = len(set([one for one in named if one])) * 2 + (1 if KEYS[kind] in named else 0)
            if plain(row[0] if row else "").startswith(kind) or kind in [plain(cell) for cell in row]:
                score += 1
            if score > best and score > 2:
                best, found = score, (place, kind)
    place, kind = found
    below = [cell for cell in rows[place + 1] if cell.strip()] if 0 <= place < len(rows) - 1 else []
    if below and all([_named(kind, cell) for cell in below]):
        place += 1  # under merged cells stands a second row of headings
    return place, kind


def headings_of(rows: "list[list[str]]", header: int) -> "list[str]":
    """Return one heading for each column; where a merged cell left one blank, what stands above it."""
    width = max([len(row) for row in rows] + [0])
    found = []
    for column in range(width):
        here = rows[header][column].strip() if header >= 0 and column < len(rows[header]) else ""
        above = rows[header - 1] if header > 0 else []
        if not here and column < len(above) and len([cell for cell in above if cell.strip()]) > 1:
            here = above[column].strip()
        found.append(here)
    return found


def guess(kind: str, headings: "list[str]", body: "list[list[str]]") -> "list[str]":
    """Return the field of each column, "" for one to leave out: by its heading, else by what its cells look like."""
    found: list[str] = []
    for heading in headings:
        field = _named(kind, heading)
        found.append("" if field in found and field not in JOINED else field)
    cells = [
        [row[at].strip() for row in body if at < len(row) and row[at].strip()] for at in range(len(found))
    ]
    for at, field in enumerate(found):
        if not field and cells[at]:
            seen = _looks_like(kind, cells[at])
            found[at] = "" if seen in found else seen
    key = KEYS[kind]
    if key not in found:
        free = [at for at, field in enumerate(found) if not field and cells[at]]
        wanted = [at for at in free if _is_key(kind, cells[at])]
        if wanted:
            found[wanted[0]] = key
    if "title" not in found:
        free = [at for at, field in enumerate(found) if not field and cells[at]]
        if free:
            longest = max(free, key=lambda at: (sum([len(cell) for cell in cells[at]]), -at))
            found[longest] = "title"
    return found


def _is_key(kind: str, cells: "list[str]") -> bool:
    if len(set(cells)) != len(cells):
        return False
    if kind != "shot":
        return True
    return all([len(cell) <= 8 and any([mark.isdigit() for mark in cell]) for cell in cells])


def _looks_like(kind: str, cells: "list[str]") -> str:
    if kind != "shot":
        return ""
    for field, ends, starts in (
        (SETUP + "lens_mm", "mm", ""),
        ("frame_rate_per_s", "fps", ""),
        ("t_stop", "", "t"),
    ):
        if all([_is_figure(cell.lower(), ends, starts) for cell in cells]):
            return field
    return ""


def _is_figure(cell: str, ends: str, starts: str) -> bool:
    if not cell.startswith(starts) or not cell.endswith(ends):
        return False
    digits = cell[len(starts) : len(cell) - len(ends)].strip().replace(".", "").replace(",", "")
    return digits.isdigit()


def options(kind: str) -> "list[dict[str, Any]]":
    """Return the fields that a column may hold: list of dict, keys field, label, unit."""
    found = []
    for name, _headings in HEADINGS[kind]:
        known = field_of(kind, name)[1]
        found.append({"field": name, "label": known.label, "unit": known.unit})
    return found
