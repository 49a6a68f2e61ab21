"""The golden cases of the merge as edit texts: names become ids, so that each Python can be asked."""

from __future__ import annotations

import itertools
import json
from pathlib import Path
from typing import Any

from tailslate.day import edit, merge
from tailslate.day.edit import Edit

FOLDER = Path(__file__).parent / "cases" / "merge"
DAY = "golden"


class Golden:
    """One case: its edits by name, the texts that arrived, its verdict texts, and what is expected."""

    def __init__(self, file: str, case: dict[str, Any]) -> None:
        self.title = f"{case['rule']} {case['title']}"
        self.name = f"{file}: {self.title}"
        self.case = case
        self.edits: dict[str, Edit] = {}
        for place, row in enumerate(case["edits"]):
            self.edits[row["name"]] = self._edit(place, row)
        self.verdicts: list[Edit] = []
        for place, row in enumerate(case.get("verdicts", [])):
            self.verdicts.append(self._verdict(place, *row))
        missing = case.get("missing", [])
        self.arrived = [self.edits[name] for name in self.edits if name not in missing]

    def _edit(self, place: int, row: dict[str, Any]) -> Edit:
        ids = {name: one.id for name, one in self.edits.items()}
        changes = dict(row.get("set", {}))
        seen = {field: [ids[name] for name in names] for field, names in row.get("seen", {}).items()}
        if "remove" in row:
            changes["present"] = ["removed", sorted(ids[name] for name in row["remove"])]
        return edit.make(
            day=DAY,
            set_name="floor",
            incarnation=row["by"] + "00000"[: 10 - len(row["by"])],
            counter=place + 1,
            salt=f"salt{place:04d}",
            rules=row.get("rules", 1),
            at_ms=row["at"] * 1000,
            by="p-" + row["by"],
            kind=row.get("kind", "task"),
            record=row.get("record", "t1"),
            changes=changes,
            seen=seen,
        )

    def _verdict(self, place: int, name: str, word: str, replaces: list[int] | None = None) -> Edit:
        return edit.make(
            day=DAY,
            set_name="floor",
            incarnation="server0000",
            counter=place + 1,
            salt=f"word{place:04d}",
            rules=1,
            at_ms=1000 + place,
            by="",
            how="server",
            kind="verdict",
            record=self.edits[name].id,
            changes={"says": [word, "golden", "as the case says"]},
            seen={"says": [self.verdicts[i].id for i in replaces or []]},
        )

    def named(self, cells: dict[str, list[Any]]) -> dict[str, Any]:
        """Return cells as the case writes them: with names in place of ids."""
        names = {one.id: name for name, one in self.edits.items()}
        return {
            key: {
                "mark": cell[merge.MARK],
                "live": [names[entry[0]] for entry in cell[merge.LIVE]],
                "gone": sorted(names[i] for i in cell[merge.GONE]),
                "absent": sorted(names[i] for i in cell[merge.ABSENT]),
                "off": sorted(names[i] for i in cell[merge.OFF]),
            }
            for key, cell in cells.items()
        }

    def orders(self, most: int = 24) -> list[list[Edit]]:
        """Return some orders in which the edits may arrive, the first one among them."""
        return [list(order) for order in itertools.islice(itertools.permutations(self.arrived), most)]


def golden_cases() -> list[Golden]:
    """Return every golden case."""
    found = []
    for path in sorted(FOLDER.glob("*.json")):
        found += [Golden(path.stem, case) for case in json.loads(path.read_text(encoding="utf-8"))]
    return found
