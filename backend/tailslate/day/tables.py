"""A row of a shipped table -> what a record takes from it when someone picks it.

Figures are copied, so a production may overwrite any with its own, and `figures_from` says that they are
the table's. Of a range the careful end is copied: the lighter stand, the weaker battery, the most
caffeine. A maker's rating is never copied: only the plate says it.
"""

from tailslate.craft.errors import RuleError
from tailslate.craft.rounding import plain_text
from tailslate.day import kinds

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    Row = dict[str, Any]
    Copy = tuple[str, str, str]  # field of the record, figure of the row, which end of a range


def _spread(name: str, unit: str) -> "tuple[Copy, ...]":
    figure = name + "_" + unit
    return (
        (name + "_low_" + unit, figure, "low"),
        (figure, figure, "typical"),
        (name + "_high_" + unit, figure, "high"),
    )


_SHEET: "tuple[Copy, ...]" = (
    _spread("transmittance", "ratio")
    + _spread("direct", "ratio")
    + _spread("shift", "mired")
    + (("reflectance_ratio", "reflectance_ratio", "typical"),)
)
_SEVERAL = ("stands", "materials")  # tables that hold several kinds of row
_TYPES = {"sheet": "diffusion", "gel": "gel"}
# Table, and kind of row where it has several -> kind of record, field for the row's name, figures to copy.
_TAKEN: "dict[str, tuple[str, str, tuple[Copy, ...]]]" = {
    "lamps": (
        "source",
        "lamp",
        (
            ("input_w", "input_w", "high"),
            ("power_factor_ratio", "power_factor_ratio", "low"),
            ("colour_k", "colour_k", "typical"),
        ),
    ),
    "batteries": (
        "source",
        "",
        (
            ("energy_wh", "energy_wh", "low"),
            ("usable_ratio", "usable_ratio", "low"),
            ("cold_ratio", "cold_ratio", "low"),
            ("converter_ratio", "converter_ratio", "low"),
        ),
    ),
    "stands/stand": (
        "rig",
        "",
        (
            ("stand_kg", "mass_kg", "low"),
            ("leg_radius_m", "leg_radius_m", "low"),
            ("legs", "leg_count", "low"),
            ("top_height_m", "top_height_m", "typical"),
        ),
    ),
    "stands/arm": ("rig", "", (("boom_kg", "mass_kg", "high"),)),
    "stands/bag": ("rig", "", (("bag_kg", "mass_kg", "low"),)),
    "cables": ("circuit", "", ()),
    "outlets": (
        "circuit",
        "",
        (
            ("voltage_v", "voltage_v", "typical"),
            ("breaker_a", "breaker_a", "low"),
            ("phase_count", "phase_count", "typical"),
        ),
    ),
    "beverages": (
        "ingredient",
        "title",
        (
            ("sugar_g_per_hundred_g", "sugars_g_100g", "high"),
            ("caffeine_mg_per_hundred_g", "caffeine_mg_100g", "high"),
            ("density_kg_per_l", "density_kg_l", "high"),
        ),
    ),
    "tapes": ("kit", "title", (("roll_m", "length_m", "low"),)),
    "materials/sheet": ("layer", "title", _SHEET),
    "materials/gel": ("layer", "title", _SHEET),
    "materials/surface": ("dressing", "material", _spread("reflectance", "ratio")),
}
OF_FITTING: "tuple[Copy, ...]" = (
    ("beam_deg", "beam_deg", "typical"),
    ("intensity_low_cd", "intensity_cd", "low"),
    ("intensity_cd", "intensity_cd", "typical"),
    ("intensity_high_cd", "intensity_cd", "high"),
)
CABLE_UNITS = {"awg": " AWG", "mm2": " mm2"}


def taken(table: str, row: "Row", *, fitting: int = 0) -> "dict[str, Any]":
    """Return what a record takes from a row.

    Args:
        table: name of the shipped file without its ending: lamps, batteries, stands, cables, outlets,
            beverages, tapes, materials.
        row: as the file holds it.
        fitting: which of a lamp's fittings, from 0.
    Returns: dict, keys kind, set (field to value, with figures_from).
    Raises: RuleError "not_in_a_table".
    """
    name = _name(table, row)
    if name not in _TAKEN:
        raise RuleError("not_in_a_table", "nothing is taken from a row of " + name, table=table)
    kind, title, copies = _TAKEN[name]
    changes: dict[str, Any] = {}
    _copy(kind, copies, row, changes)
    fittings = row.get("fittings") or []
    if table == "lamps" and 0 <= fitting < len(fittings):
        _copy(kind, OF_FITTING, fittings[fitting], changes)
    if table == "cables":
        changes["cable_size"] = str(row["size"]) + CABLE_UNITS[row["system"]]
    if table == "beverages":
        changes["allergens"] = _allergens(row)
    if kind == "layer":
        changes["type"] = _TYPES[row["kind"]]
    if title:
        changes[title] = row["name"]
    if kinds.field_of(kind, "figures_from"):
        changes["figures_from"] = "table, the careful end: " + str(row["name"])
    return {"kind": kind, "set": changes}


def copied(table: str, row: "Row") -> "tuple[Copy, ...] | None":
    """Return what is copied of a row: field of the record, figure of the row, which end; None when nothing is."""
    found = _TAKEN.get(_name(table, row))
    return found[2] if found else None


def _name(table: str, row: "Row") -> str:
    return table + "/" + str(row.get("kind")) if table in _SEVERAL else table


def _copy(kind: str, copies: "tuple[Copy, ...]", row: "Row", changes: "dict[str, Any]") -> None:
    for field, name, end in copies:
        figure = row.get(name)
        value = figure.get(end, figure.get("value")) if isinstance(figure, dict) else None
        known = kinds.field_of(kind, field)
        if value is None or not known:
            continue  # not known in the table is not known in the record
        text = plain_text(value)
        changes[field] = int(value) if known.type == "count" else [text, text + " " + known.unit]


def _allergens(row: "Row") -> str:
    named = sorted(set(row.get("allergens_eu", []) + row.get("allergens_us", [])))
    may = sorted(row.get("may_hold", []))
    said = ", ".join(named) or "none named in the table"
    return said + ("; may hold " + ", ".join(may) if may else "") + "; read the label"
