"""One shot's checklist as it stands on paper: numbered, with a code that tells whether the list has changed since.

Knows no printer and no screen: both take numbers and code from here. P1 the order is that of the departments, then of
the sheet. P2 what is no longer asked has no number. P3 equal lists have equal codes. P4 a caution stands in full where
a department's list has it first, later by its name.
"""

import binascii
import hashlib

from tailslate.day import kinds, rows, ticks

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

CODE_LETTERS = 4


def of_sheet(made: "dict[str, list[dict[str, Any]]]") -> "dict[str, Any]":
    """Return the numbered list of a shot.

    Args:
        made: the rows of a sheet, by what they belong to.
    Returns: dict, keys code (letters and figures), rows (list of dict, keys number, department, label, row,
        caution (as the row has it, None where it stands above), above (its name then, else "")).
    """
    listed = [row for row in rows.all_rows(made) if row["state"] != ticks.OFF]
    names = {name: label for name, label, _short in kinds.DEPARTMENTS}
    order = list(kinds.DEPARTMENT_NAMES) + sorted({row["department"] for row in listed} - set(names))
    found = [row for department in order for row in listed if row["department"] == department]
    keys = "\n".join([row["record"] + "/" + row["field"] for row in found])
    numbered = []
    said: set[str] = set()
    for place, row in enumerate(found):
        caution, above = row["caution"], ""
        if caution:
            key = row["department"] + " " + caution["code"]
            if key in said:
                caution, above = None, row["caution"]["code"].replace("_", " ")
            said.add(key)
        one = {"number": place + 1, "department": row["department"], "row": row}
        one.update(
            {"label": names.get(row["department"], row["department"]), "caution": caution, "above": above}
        )
        numbered.append(one)
    return {"code": _code(keys), "rows": numbered}


def _code(text: str) -> str:
    digest = binascii.hexlify(hashlib.sha256(text.encode("utf-8")).digest()).decode()
    return digest[:CODE_LETTERS].upper()
