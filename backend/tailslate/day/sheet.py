"""One shot on one sheet: set-up, light, rows, holds, requests, two answers. Computed, never edited.

Knows no clock and no store: it is handed the records that `reads` names. S1 a sheet holds words that are
ready to show; screens choose where they stand, never what they say. S2 what is not known says what to
fill in.
"""

from tailslate.day import (
    checklist,
    drinks,
    figures,
    folds,
    frame,
    gathered,
    holds,
    kit,
    light,
    power,
    reads,
    rigging,
    rows,
    tape,
    target,
    two_answers,
)
from tailslate.day.gathered import Gathered
from tailslate.day.templates import AFTER

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Records
    from tailslate.day.place_clock import Offset

SHOT_FACTS = ("t_stop", "exposure_index", "frame_rate_per_s", "shutter_angle_deg", "calibration_constant")
SETTLED = ("rolling", "done")  # phases in which nothing re-opens
SETUP_FACTS = ("lens_mm", "camera_height_m", "camera_distance_m", "path")


def gather(
    shot_id: str, records: "Records", *, units: str = "metric", utc_offset_min: "Offset" = 0
) -> Gathered:
    """Return the records of a shot's sheet, indexed.

    Args:
        shot_id: id of the shot.
        records: record key to field to cell: what `reads` names (more does no harm).
        units: "metric" or "imperial".
        utc_offset_min: minutes that the place's clock is ahead of UTC, for times in sentences.
    """
    found = Gathered(records, units=units, utc_offset_min=utc_offset_min)
    found.asks_again = found.text("shot/" + shot_id, "phase") not in SETTLED
    return found


def of_shot(
    shot_id: str,
    found: Gathered,
    *,
    incomplete: "tuple[str, ...] | list[str]" = (),
    now_ms: "int | None" = None,
) -> "dict[str, Any]":
    """Return the sheet of one shot.

    Args:
        shot_id: id of the shot.
        found: as `gather` gives it.
        incomplete: sentences, why this copy is incomplete; empty when it is not.
        now_ms: now [ms since 1970 UTC], for the clock of a batch; None when it is not known.
    Returns: dict, keys shot, setup, light, rigging, power, drinks, tape, kit, frame, over, rows, holds,
        requests, two_answers, reads, as_of_ms, incomplete.
    """
    key = "shot/" + shot_id
    reached = reads.follow([key], reads.OWN, found)
    own = [one for one in reached if found.is_there(one)]
    made: dict[str, Any] = {
        "tasks": rows.tasks(key, found),
        "glasses": rows.glasses(key, found),
        "dressing": rows.dressing(key, found),
        "marks": rows.marks(key, found),
        "rigs": rows.rigs(key, found),
        "circuits": rows.circuits(key, found),
    }
    wanted = target.of_shot(key, found)
    things = {
        "rigging": rigging.of_shot(key, found),
        "power": power.of_shot(key, found),
        "drinks": drinks.of_shot(key, found, now_ms),
        "tape": tape.of_shot(key, found),
        "kit": kit.of_shot(key, found),
        "frame": frame.of_shot(key, found),
    }
    checklist.add(key, made, things, reached, found)
    made["folds"] = folds.fold(rows.all_rows(made))
    return {
        "shot": {
            "record": key,
            "number": found.text(key, "number") or shot_id,
            "title": found.text(key, "title"),
            "phase": found.text(key, "phase"),
            "target": wanted,
        },
        "setup": _setup(key, found),
        "light": light.of_shot(key, wanted, found),
        "rigging": things["rigging"],
        "power": things["power"],
        "drinks": things["drinks"],
        "tape": things["tape"],
        "kit": things["kit"],
        "frame": things["frame"],
        "over": _over(things),
        "rows": made,
        "holds": holds.of_shot(key, own, found),
        "requests": holds.requests(key, found),
        "two_answers": two_answers.in_records(own, rows.all_rows(made), found),
        "reads": sorted(found.records),
        "as_of_ms": newest_ms(own, found),
        "incomplete": list(incomplete),
    }


def _over(things: "dict[str, Any]") -> "list[dict[str, Any]]":
    """Return what speaks against the shot among the figures of its things."""
    power_of = things["power"]["circuits"] + things["power"]["batteries"]
    return figures.over(
        things["rigging"] + power_of + things["drinks"] + things["tape"]["jobs"] + things["kit"]
    )


def _setup(key: str, found: Gathered) -> "list[dict[str, str]]":
    facts = [rows.fact(key, field, found) for field in SHOT_FACTS]
    setup = found.target(key, "setup")
    if setup:
        facts.extend([rows.fact(setup, field, found) for field in SETUP_FACTS])
    return facts


def newest_ms(keys: "list[str]", found: Gathered) -> int:
    """Return the time of the newest live edit of these records, 0 when there is none.

    Args:
        keys: record keys.
        found: the records.
    """
    newest = 0
    for key in keys:
        for cell in found.records[key].values():
            for entry in cell[gathered.LIVE]:
                if entry[gathered.AT_MS] > newest:
                    newest = entry[gathered.AT_MS]
    return newest


def of_day(records: "Records", *, units: str = "metric", utc_offset_min: "Offset" = 0) -> "dict[str, Any]":
    """Return the page of the whole day: where, when, who, what holds it, what is asked.

    Args:
        records: all records of the kinds day, scene, shot, person, hold and request.
        units: "metric" or "imperial".
        utc_offset_min: minutes that the place's clock is ahead of UTC.
    Returns: dict, keys day, people, holds, requests.
    """
    found = Gathered(records, units=units, utc_offset_min=utc_offset_min)
    days = found.of_kind("day")
    key = days[0] if days else "day/"
    day: dict[str, Any] = {
        "record": key,
        "title": found.text(key, "title"),
        "place": found.text(key, "place"),
    }
    day.update({"date": found.text(key, "date_label"), "time_zone": found.text(key, "time_zone")})
    day.update({"call": found.text(key, "call_time"), "wrap": found.text(key, "wrap_time")})
    day["scenes"] = _scenes(found)
    people = {}
    for person in found.of_kind("person"):
        departments = found.value(person, "departments")
        people[gathered.id_of(person)] = {
            "name": found.text(person, "name"),
            "role": found.text(person, "role"),
            "departments": departments if isinstance(departments, list) else [],
        }
    asked = [holds.request(one, found) for one in found.of_kind("request")]
    return {
        "day": day,
        "people": people,
        "holds": [one for one in holds.of_day(found) if not one["cleared"]],
        "requests": sorted(
            [one for one in asked if one["answer"] != "done"], key=lambda one: (one["at_ms"], one["record"])
        ),
    }


def _scenes(found: Gathered) -> "list[dict[str, Any]]":
    scenes = []
    for key in found.of_kind("scene"):
        shots = []
        for shot in found.pointing("shot", "scene", key):
            one: dict[str, Any] = {
                "shot": gathered.id_of(shot),
                "number": found.text(shot, "number"),
                "record": shot,
            }
            one.update({"title": found.text(shot, "title"), "phase": found.text(shot, "phase")})
            one["order"] = _order(shot, found)
            shots.append(one)
        scene: dict[str, Any] = {
            "record": key,
            "number": found.text(key, "number"),
            "title": found.text(key, "title"),
        }
        scene.update({"order": _order(key, found), "shots": rows.in_order(shots)})
        scenes.append(scene)
    return rows.in_order(scenes)


def _order(key: str, found: Gathered) -> int:
    order = found.whole(key, "order")
    return rows.LAST if order is None else order


def of_department(department: str, shots: "list[dict[str, Any]]") -> "list[dict[str, Any]]":
    """Return one department's rows over the shots, in the order that the shots have.

    A row that several shots ask for, such as a stand's, stands once: under the first of them, or under the last
    when it is for afterwards.

    Args:
        department: name of the department.
        shots: list of dict, keys shot (id), sheet.
    Returns: list of dict, keys shot, number, title, rows, folds (list of dict as in `folds.fold`); shots without a
        row of it are left out.
    """
    own = []
    for one in shots:
        listed = rows.all_rows(one["sheet"]["rows"])
        own.append([row for row in listed if row["department"] == department])
    stands_in: dict[tuple[str, str], int] = {}
    for place, found in enumerate(own):
        for row in found:
            key = (row["record"], row["field"])
            if key not in stands_in or _is_for_after(row):
                stands_in[key] = place
    groups = []
    for place, one in enumerate(shots):
        here = [row for row in own[place] if stands_in[(row["record"], row["field"])] == place]
        if here:
            shot = one["sheet"]["shot"]
            group = {"shot": one["shot"], "number": shot["number"], "title": shot["title"], "rows": here}
            group["folds"] = folds.fold(here).get(department, [])
            groups.append(group)
    return groups


def _is_for_after(row: "dict[str, Any]") -> bool:
    return row["derived"] is not None and row["derived"]["when"] == AFTER
