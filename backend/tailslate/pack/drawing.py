"""The set from above, for paper: a shot's camera and frame lines, lamps through their frames, stands, dressing, marks.

x to the right, y away from the viewer and up the page, in metres, as the phones draw it. What nobody placed is listed
by its name, never guessed. Black on white: a number stands at each thing, its name in the list below the drawing.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape
from typing import Any

from tailslate.day import names
from tailslate.day.gathered import Gathered

POINT = 72 / 25.4  # points in a millimetre: words are set in points
WIDTH_PT, TALLEST_PT, MARGIN_PT = 182.0 * POINT, 92.0 * POINT, 9.0 * POINT
THROW_M = 12.0  # how far frame lines are drawn
WHAT = {
    "source": "lamp",
    "layer": "frame",
    "rig": "stand",
    "dressing": "dressing",
    "mark": "mark",
    "point": "place",
}
LABEL_PT, LETTERS_PT = 13.5, 11.4
SAME_SPOT_M = 0.2  # a lamp and the stand below it carry one number
AROUND = [(math.cos(turn * math.pi / 6), math.sin(turn * math.pi / 6)) for turn in range(12)]

Spot = tuple[float, float]


@dataclass(frozen=True)
class Thing:
    """What lies on the floor: its record key, its name, what it is, where [m]; None where nobody placed it."""

    record: str
    title: str
    what: str
    spot: Spot | None


def things_of(records: Gathered, *, shot: str) -> list[Thing]:
    """Return what of a scene's floor one shot uses, its lamps first: what is off in it is left out."""
    scene = records.target(shot, "scene")
    of_scene = [key for key in records.of_kind("source") if records.target(key, "scene") == scene]
    sources = [key for key in of_scene if _is_in(key, records, shot)]
    found: list[str] = [*sources]
    for kind in ("layer", "rig", "dressing", "mark", "point"):
        for key in records.of_kind(kind):
            of_source = records.target(key, "source") in sources
            if kind == "layer":
                is_here = of_source and not _is_in_the_lamp(key, records)
            elif kind == "rig":
                is_here = of_source or (
                    records.target(key, "scene") == scene and records.target(key, "source") not in of_scene
                )
            elif kind == "mark":
                is_here = records.target(key, "shot") == shot
            else:
                is_here = records.target(key, "scene") == scene
            found += [key] if is_here else []
    return [
        Thing(key, names.name_of(key, records), WHAT[key.split("/")[0]], _spot(key, records)) for key in found
    ]


def _level_of(source: str, records: Gathered, shot: str) -> str | None:
    """Return the record that says what a source does in a shot."""
    for key in records.of_kind("level"):
        if records.target(key, "source") == source and records.target(key, "shot") == shot:
            return key
    return None


def _is_in(source: str, records: Gathered, shot: str) -> bool:
    level = _level_of(source, records, shot)
    return level is not None and records.text(level, "on") != "no"


def _is_in_the_lamp(layer: str, records: Gathered) -> bool:
    return records.text(layer, "type") == "gel" and records.number(layer, "width_m") is None


def _spot(key: str, records: Gathered) -> Spot | None:
    x_m, y_m = records.number(key, "x_m"), records.number(key, "y_m")
    return None if x_m is None or y_m is None else (x_m, y_m)


def from_above(records: Gathered, *, shot: str, frame: dict[str, Any]) -> tuple[str, list[str]]:
    """Return the drawing as SVG ("" where hardly anything is placed), and the lines that name what is in it.

    Args:
        records: what the shot's sheet read.
        shot: record key of the shot.
        frame: sheet["frame"] of the shot: where the camera stands, what is in the picture that should not be.
    """
    things = things_of(records, shot=shot)
    placed = [(one, one.spot) for one in things if one.spot]
    cameras = frame["camera"]
    lines = []
    missing = [one.title for one in things if not one.spot]
    if missing:
        lines.append("Not placed: " + ", ".join(missing) + ".")
    if len(placed) < 2:
        return "", lines
    in_picture = {one["record"] for one in frame["things"] if one["state"] == "in" and not one["wanted"]}
    page = _Page([spot for _thing, spot in placed] + [(one["x_m"], one["y_m"]) for one in cameras])
    page.camera(cameras)
    for source in [one for one in things if one.what == "lamp" and one.spot]:
        page.throw(source, things, records, shot)
    groups: list[list[tuple[Thing, Spot]]] = []
    for thing, spot in placed:
        page.thing(thing, spot, things, records)
        near = next((one for one in groups if math.dist(one[0][1], spot) < SAME_SPOT_M), None)
        if near:
            near.append((thing, spot))
        else:
            groups.append([(thing, spot)])
    named = []
    for number, group in enumerate(groups, 1):
        said = [one.title + (" (IN FRAME)" if one.record in in_picture else "") for one, _spot in group]
        named.append(f"{number} {', '.join(said)}")
        page.label(str(number), group[0][1], is_in_picture=any(one.record in in_picture for one, _ in group))
    return page.svg(), ["; ".join(named) + ".", *lines]


class _Page:
    """Metres to points of paper, and what has been drawn so far."""

    def __init__(self, spots: Sequence[Spot]) -> None:
        xs, ys = [x for x, _y in spots], [y for _x, y in spots]
        wide_m, deep_m = max(max(xs) - min(xs), 1.0), max(max(ys) - min(ys), 1.0)
        self.scale = min((WIDTH_PT - 2 * MARGIN_PT) / wide_m, (TALLEST_PT - 2 * MARGIN_PT) / deep_m)
        self.height_pt = deep_m * self.scale + 2 * MARGIN_PT
        self.left_pt = (WIDTH_PT - (max(xs) - min(xs)) * self.scale) / 2
        self.origin = (min(xs), max(ys))
        self.drawn: list[str] = []
        self.above: list[str] = []
        self.labels: list[Spot] = []

    def at(self, spot: Spot) -> Spot:
        return (
            self.left_pt + (spot[0] - self.origin[0]) * self.scale,
            MARGIN_PT + (self.origin[1] - spot[1]) * self.scale,
        )

    def line(self, spots: Iterable[Spot], style: str) -> None:
        path = " ".join(f"{x:.2f},{y:.2f}" for x, y in spots)
        self.drawn.append(f'<polyline points="{path}" fill="none" stroke="black" {style}/>')

    def camera(self, cameras: list[dict[str, Any]]) -> None:
        """Draw where the camera stands, the edges of its picture, and its path where it moves."""
        if not cameras:
            return
        path = [self.at((one["x_m"], one["y_m"])) for one in cameras]
        if len(set(path)) > 1:
            self.line(path, 'stroke-width="1.4" stroke-dasharray="4.5 3"')
        first = cameras[0]
        spot, pan = (first["x_m"], first["y_m"]), math.radians(first["pan_deg"])
        half = math.atan(first["half_angle_ratio"]) if first.get("half_angle_ratio") else None
        if half is not None:
            for edge in (pan - half, pan + half):
                far = (spot[0] + THROW_M * math.sin(edge), spot[1] + THROW_M * math.cos(edge))
                self.line([self.at(spot), self.at(far)], 'stroke-width="0.7" stroke-dasharray="11 3"')
        x, y = self.at(spot)
        turn = math.degrees(pan)
        self.drawn.append(
            f'<g transform="translate({x:.2f} {y:.2f}) rotate({turn:.1f}) scale({POINT:.3f})">'
            '<path d="M-2.2,0 H2.2 V4.4 H-2.2 Z M0,0 L-2,-2.6 H2 Z" fill="black"/></g>'
        )
        self.labels.append((x, y))

    def throw(self, source: Thing, things: list[Thing], records: Gathered, shot: str) -> None:
        """Draw a lamp's way through its placed frames to what it is aimed at."""
        level = _level_of(source.record, records, shot)
        aim = (
            _spot(records.target(level, "point"), records)
            if level and records.target(level, "point")
            else None
        )
        frames = [
            one
            for one in things
            if one.what == "frame" and records.target(one.record, "source") == source.record
        ]
        frames.sort(key=lambda one: records.number(one.record, "order") or 0.0)
        way = [one for one in [source.spot, *(frame.spot for frame in frames), aim] if one]
        if len(way) > 1:
            self.line([self.at(one) for one in way], 'stroke-width="0.85"')

    def thing(self, thing: Thing, spot: Spot, things: list[Thing], records: Gathered) -> None:
        """Draw one thing by the form of its kind."""
        x, y = self.at(spot)
        if thing.what == "lamp":
            form = '<circle r="5.4" fill="white" stroke="black" stroke-width="1.7"/>'
        elif thing.what == "frame":
            width_pt = max((records.number(thing.record, "width_m") or 1.0) * self.scale, 11.0)
            lamp = next((one for one in things if one.record == records.target(thing.record, "source")), None)
            turn = 0.0
            if lamp and lamp.spot and lamp.spot != spot:
                turn = math.degrees(math.atan2(spot[0] - lamp.spot[0], spot[1] - lamp.spot[1]))
            form = (
                f'<line x1="{-width_pt / 2:.2f}" x2="{width_pt / 2:.2f}" y1="0" y2="0" stroke="black" '
                f'stroke-width="3.1" transform="rotate({turn:.1f})"/>'
            )
        elif thing.what == "stand":
            form = '<path d="M0,0 V-5.7 M0,0 L5,2.8 M0,0 L-5,2.8" stroke="black" stroke-width="1.7"/>'
        elif thing.what == "mark":
            form = '<path d="M-4.5,0 H4.5 M0,0 V5" stroke="black" stroke-width="2.2"/>'
        elif thing.what == "dressing":
            wide = max((records.number(thing.record, "width_m") or 0.0) * self.scale, 7.4)
            deep = max((records.number(thing.record, "depth_m") or 0.0) * self.scale, 7.4)
            form = (
                f'<rect x="{-wide / 2:.2f}" y="{-deep / 2:.2f}" width="{wide:.2f}" height="{deep:.2f}" '
                'fill="none" stroke="black" stroke-width="1.1"/>'
            )
        else:
            form = '<circle r="2.5" fill="black"/>'
        self.drawn.append(f'<g transform="translate({x:.2f} {y:.2f})">{form}</g>')

    def label(self, words: str, spot: Spot, *, is_in_picture: bool) -> None:
        """Set a number beside a thing, where the others leave most room; black where it is in the picture."""
        x, y = self.at(spot)
        ways = [(x + LABEL_PT * dx, y + LABEL_PT * dy) for dx, dy in AROUND]
        inside = [one for one in ways if 8 <= one[0] <= WIDTH_PT - 8 and 8 <= one[1] <= self.height_pt - 8]
        place = max(
            inside or ways,
            key=lambda one: min((math.dist(one, other) for other in self.labels), default=25.0),
        )
        self.labels += [place, (x, y)]
        fill, ink = ("black", "white") if is_in_picture else ("white", "black")
        self.above.append(
            f'<line x1="{x:.2f}" y1="{y:.2f}" x2="{place[0]:.2f}" y2="{place[1]:.2f}" stroke="black" stroke-width="0.4"/>'
            f'<circle cx="{place[0]:.2f}" cy="{place[1]:.2f}" r="7.4" fill="{fill}" stroke="black" stroke-width="0.6"/>'
            f'<text x="{place[0]:.2f}" y="{place[1] + 4:.2f}" font-size="{LETTERS_PT}" text-anchor="middle" '
            f'font-family="Libertinus Serif" font-weight="bold" fill="{ink}">{escape(words)}</text>'
        )

    def svg(self) -> str:
        """Return the drawing, with a bar of one metre."""
        bar_y = self.height_pt - 6
        bar = (
            f'<path d="M11,{bar_y - 3:.2f} V{bar_y:.2f} H{11 + self.scale:.2f} V{bar_y - 3:.2f}" fill="none" '
            f'stroke="black" stroke-width="1.1"/><text x="{15 + self.scale:.2f}" y="{bar_y:.2f}" '
            f'font-size="{LETTERS_PT}" font-family="Libertinus Serif">1 m</text>'
        )
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH_PT:.2f} {self.height_pt:.2f}" '
            f'width="{WIDTH_PT:.2f}pt" height="{self.height_pt:.2f}pt">'
            f"{''.join(self.drawn)}{''.join(self.above)}{bar}</svg>"
        )
