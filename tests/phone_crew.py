"""Filling in a day on a phone as people type it: figures as text, read by the rules, seen as the phone has them."""

from __future__ import annotations

from typing import Any

from a_day import EXPOSURE
from phone_engine import Engine
from tailslate.day import kinds, shown


def put(engine: Engine, kind: str, record: str, **typed: Any) -> None:
    """Set fields of a record; a quantity is given as a person types it."""
    changes = {}
    for field, value in typed.items():
        known = kinds.field_of(kind, field)
        assert known, f"{kind} has no field {field}"
        is_typed = known.type == "quantity" and isinstance(value, str)
        changes[field] = shown.read_typed(kind, field, value)["value"] if is_typed else value
    cells = engine.fields(f"{kind}/{record}")
    painted = {field: [one[0] for one in cells[field][1]] for field in changes if field in cells}
    engine.saved(kind, record, changes, painted=painted)


def read(engine: Engine, record: str, lux: str, *, shot: str, point: str, role: str) -> None:
    """Take a reading for what burns now, as the screen that takes one does."""
    kept = engine.ask(
        """async ([shot, point, role]) => {
          const { sheet } = await tailslate.shotNow(shot);
          const records = Object.fromEntries(sheet.reads.map((key) => [key, tailslate.recordNow(key)]));
          return (await tailslate.ask({ do: "taken_for", shot, point: `point/${point}`, role, records })).set;
        }""",
        [shot, point, role],
    )
    put(engine, "reading", record, shot=shot, point=point, role=role, illuminance_lx=lux, **kept)


def a_saloon(engine: Engine, shot: str = "12c") -> None:
    """One shot lit by a key at 2 m and by a white cloth on the table; key read at 400 lx, the table at 320 lx.

    The cloth is 0.9 by 1.5 m, its near edge 0.15 m before the face and 0.45 m below it: F = 0.2312 (Howell, Catalogue
    of Configuration Factors), so it gives 0.8 * 320 * F = 59.2 lx, and the contrast is (400 + 59.2) / 59.2 = 7.8 : 1.
    """
    put(engine, "scene", "12", number="12", title="Saloon", inside="interior")
    put(engine, "point", "face", title="the Gambler's face", scene="12", type="face", height_m="1.2 m")
    put(engine, "point", "table", title="the table", scene="12", type="table")
    fields = {"number": shot.upper(), "title": "Over the Gambler", "scene": "12", "phase": "setting"}
    put(engine, "shot", shot, **fields, **EXPOSURE)
    put(engine, "source", "key", title="Key", scene="12", intensity_cd="1600 cd", overhead="no", order=1)
    burning = {"source": "key", "shot": shot, "on": "yes", "role": "key", "point": "face"}
    put(engine, "level", f"key~{shot}", **burning, distance_m="2 m")
    cloth = {"title": "White cloth", "scene": "12", "material": "white cotton", "reflectance_ratio": "0.8"}
    size = {"width_m": "1.5 m", "depth_m": "0.9 m", "base_height_m": "0.75 m"}
    put(engine, "dressing", "cloth", **cloth, **size, flame_retardant="yes")
    lifts = {"dressing": "cloth", "shot": shot, "use": "bounce", "point": "face", "near_m": "0.15 m"}
    put(engine, "serves", f"cloth~{shot}", **lifts)
    read(engine, "k", "400 lx", shot=shot, point="face", role="key")
    read(engine, "t", "320 lx", shot=shot, point="table", role="all")
