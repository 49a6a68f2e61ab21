"""The same inputs on the server's and the phone's Python: figures to 1e-9, everything that is decided to the letter."""

from __future__ import annotations

import json
import math
from typing import Any

import numpy as np

from craft.test_cases import differences
from micropython.interpreter import MicroPython

# One program for both: `rows` is a list of [what, inputs]; it leaves the answers in `answers`.
PROGRAM = """
import json
from tailslate.craft.bounce import tabletop_ratio
from tailslate.craft.colour import colour_temperature, mixture
from tailslate.craft.correction import nearest_correction
from tailslate.craft.crew import crew_schedule
from tailslate.craft.drinks import mixed_stocks
from tailslate.craft.errors import RuleError
from tailslate.craft.forecast import ready_time_min
from tailslate.craft.frame import is_in_frame
from tailslate.craft.level import level_through_layers
from tailslate.craft.network import critical_path
from tailslate.craft.power import balanced_legs
from tailslate.craft.softness import wrap_ratio
from tailslate.craft.stand import bag_count, bag_kg

def bags(each_kg, load_kg, facts):
    weight_kg = bag_kg(load_kg, **facts)
    return [weight_kg, bag_count(weight_kg, each_kg=each_kg)]

CALLS = {
    "level": lambda lamp, layers, subject: level_through_layers(lamp, layers=layers, subject=subject),
    "colour": lambda x, y: colour_temperature(x, y=y),
    "mixture": mixture,
    "correction": lambda from_k, to_k: nearest_correction(from_k, to_k=to_k),
    "table": lambda facts: tabletop_ratio(**facts),
    "wrap": lambda facts: wrap_ratio(**facts),
    "bags": bags,
    "legs": balanced_legs,
    "stocks": lambda target, stocks: mixed_stocks(target, stocks=stocks),
    "network": critical_path,
    "crew": lambda tasks, capacity: crew_schedule(tasks, capacity=capacity),
    "forecast": ready_time_min,
    "frame": lambda point, facts: is_in_frame(tuple(point), **facts),
}

def answer(what, inputs):
    try:
        return CALLS[what](*inputs)
    except RuleError as error:
        return [error.code, error.sentence]

answers = [answer(what, inputs) for what, inputs in rows]
"""


def spread(draw: Any, low: float, high: float) -> dict[str, float]:
    values = sorted(round(float(draw.uniform(low, high)), 4) for _ in range(3))
    return dict(zip(("low", "typical", "high"), values, strict=True))


def a_chain(draw: Any) -> list[Any]:
    layers = []
    for _ in range(int(draw.integers(0, 4))):
        kind = draw.choice(["sheet", "sheet", "sheet", "gel"])
        layers.append(
            {
                "kind": "sheet",
                "transmittance_ratio": spread(draw, 0.2, 0.8),
                "reflectance_ratio": spread(draw, 0.05, 0.4),
                "direct_ratio": {"low": 1.0, "typical": 1.0, "high": 1.0}
                if kind == "gel"
                else spread(draw, 0.0, 0.6),
                "width_m": round(float(draw.uniform(0.5, 2.5)), 3),
                "height_m": round(float(draw.uniform(0.5, 2.5)), 3),
                "gap_to_next_m": round(float(draw.uniform(0.02, 1.0)), 3),
                "shift_mired": spread(draw, -20.0, 40.0),
            }
        )
    if layers and draw.random() < 0.4:
        layers.append(
            {
                "kind": "louvre",
                "cell_depth_ratio": round(float(draw.uniform(0.3, 2.0)), 2),
                "gap_to_next_m": 0.0,
            }
        )
    lamp = {
        "intensity_cd": spread(draw, 2000, 90000),
        "beam_deg": float(draw.choice([20.0, 60.0, 360.0])),
        "gap_to_next_m": round(float(draw.uniform(0.5, 3.0)), 2),
    }
    subject = {
        "distance_m": round(float(draw.uniform(0.6, 5)), 2),
        "right_m": round(float(draw.uniform(-1.5, 1.5)), 2),
        "tilt_deg": round(float(draw.uniform(-30, 90)), 1),
    }
    return [lamp, layers, subject]


def network_rows(draw: Any) -> list[Any]:
    tasks = [
        {
            "id": f"t{number}",
            "duration_min": round(float(draw.uniform(0, 30)), 1),
            "after": [f"t{before}" for before in range(number) if draw.random() < 0.3],
            "hands": {"grip": int(draw.integers(0, 3)), "electric": int(draw.integers(0, 2))},
        }
        for number in range(9)
    ]
    guesses = [
        {
            "id": task["id"],
            "after": task["after"],
            "earliest_min": 5.0,
            "likely_min": 5.0 + float(draw.integers(0, 9)),
            "latest_min": 15.0 + float(draw.integers(0, 20)),
        }
        for task in tasks
    ]
    return [
        ["network", [tasks]],
        ["crew", [tasks, {"grip": 2, "electric": 1}]],
        ["forecast", [guesses]],
    ]


def the_rows() -> list[Any]:
    draw = np.random.default_rng(11)
    rows: list[Any] = []
    for _ in range(60):
        rows.append(["level", a_chain(draw)])
        rows.append(
            ["colour", [round(float(draw.uniform(0.25, 0.55)), 4), round(float(draw.uniform(0.25, 0.45)), 4)]]
        )
        rows.append(["correction", [float(draw.integers(1800, 9000)), float(draw.integers(2000, 7000))]])
        rows.append(
            [
                "wrap",
                [
                    {
                        "half_angle_deg": float(draw.integers(1, 89)),
                        "from_source_deg": float(draw.integers(0, 180)),
                    }
                ],
            ]
        )
    for _ in range(25):
        near = float(draw.uniform(-0.2, 0.5))
        rows.append(
            [
                "table",
                [
                    {
                        "near_edge_m": near,
                        "far_edge_m": near + 0.9,
                        "left_m": 0.7,
                        "right_m": 0.5,
                        "height_m": 0.4,
                    }
                ],
            ]
        )
        facts = {
            "offset_m": float(draw.integers(2, 16)) / 10,
            "stand_kg": float(draw.integers(3, 12)),
            "leg_radius_m": 0.55,
            "leg_count": int(draw.integers(2, 6)),
        }
        rows.append(["bags", [float(draw.choice([5.0, 7.0, 10.0])), float(draw.integers(1, 12)), facts]])
        rows.append(["legs", [[float(load) for load in draw.integers(50, 2500, 7)]]])
        stocks = draw.uniform(0, 1.5, (3, 3)).round(3).tolist()
        rows.append(["stocks", [draw.uniform(0, 0.8, 3).round(3).tolist(), stocks]])
        lamps = [
            {
                "x": round(float(draw.uniform(0.3, 0.5)), 4),
                "y": 0.38,
                "illuminance_lx": float(draw.integers(10, 900)),
            }
            for _ in range(3)
        ]
        rows.append(["mixture", [lamps]])
        camera = {
            "camera": [0.0, 1.5, 0.0],
            "pan_deg": float(draw.integers(-40, 40)),
            "tilt_deg": float(draw.integers(-20, 20)),
            "focal_length_m": 0.035,
            "sensor_width_m": 0.02489,
            "sensor_height_m": 0.01345,
        }
        rows.append(["frame", [draw.uniform(-3, 3, 3).round(2).tolist(), camera]])
        rows += network_rows(draw)
    return rows


def test_both_pythons_answer_alike(micropython: MicroPython) -> None:
    rows = json.loads(json.dumps(the_rows()))
    here: dict[str, Any] = {"rows": rows}
    exec(PROGRAM, here)
    ours = json.loads(json.dumps(here["answers"]))
    theirs: list[Any] = []
    for start in range(0, len(rows), 50):  # memory there is given back between calls only
        part = json.dumps(rows[start : start + 50])
        program = f"import json\nrows = json.loads({part!r})\n{PROGRAM}\nprint(json.dumps(answers))"
        theirs += json.loads(micropython.run(program))
    found = [
        f"{what}{each}"
        for (what, _), one, other in zip(rows, ours, theirs, strict=True)
        for each in differences(one, other)
    ]
    assert not found, "\n".join(found[:40])


def test_enough_of_these_answers_are_figures_and_some_are_refusals() -> None:
    here: dict[str, Any] = {"rows": json.loads(json.dumps(the_rows()))}
    exec(PROGRAM, here)
    refused = [
        each for each in here["answers"] if isinstance(each, list) and each and isinstance(each[0], str)
    ]
    assert 5 < len(refused) < len(here["answers"]) / 4
    levels = [
        each["level_lx"]
        for (what, _), each in zip(here["rows"], here["answers"], strict=True)
        if what == "level" and isinstance(each, dict) and each["level_lx"]
    ]
    assert len(levels) > 40
    assert all(math.isfinite(each["typical"]) for each in levels)
