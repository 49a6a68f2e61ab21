"""One source of a shot on a scratch copy: what acts would make of its level, before anybody does them.

Knows no costs. TR1 every figure comes from the same working out as the sheet's, so that what is promised is what
the sheet says once it is done. TR2 a trial reads only what decides this source's level.
"""

from tailslate.craft.rounding import decimal_text
from tailslate.day import carried, chain, gathered, light, setting, softness, target, what_if

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.craft.ranges import Range
    from tailslate.day.gathered import Gathered

    Act = dict[str, Any]

FULL = ["1", "1"]
FULL_PERCENT = ["100", "100 %"]
NEAREST_M = 0.3  # nearer than this nobody puts a lamp to a face (chosen)
TAPE_M = 0.001  # a search that ends this near under a whole centimetre means that centimetre
FARTHEST_M = 60.0  # farther than this no search looks (chosen)
HALVINGS = 16  # of the distance in a search: finer than a tape


class Tried:
    """What a trial comes to: records, worked (as light.worked_out), misses (range [stop] over what is wanted, or None)."""

    def __init__(self, shot: str, key: str, records: "Gathered") -> None:
        """Work out the light of one source on these records."""
        self.records = records
        self.worked = light.worked_out(shot, target.of_shot(shot, records), records)
        self.misses = None
        if key in self.worked["models"]:
            self.misses = setting.misses_stops(shot, key, self.worked, records)


class Trial:
    """A source in a shot to try things on.

    Attributes: shot, key (of the source in the shot), source (record keys); now (Tried: as it is).
    """

    def __init__(self, shot: str, key: str, records: "Gathered") -> None:
        """Take what decides the source's level in the shot."""
        self.shot = shot
        self.key = key
        self.source = records.target(key, "source")
        self.now = Tried(shot, key, what_if.around(key, shot, records))

    def after(self, acts: "list[Act]") -> Tried:
        """Return what acts would come to."""
        records = self.now.records
        return Tried(self.shot, self.key, what_if.like(what_if.with_acts(records.records, acts), records))

    def at_full(self, tried: "Tried | None" = None) -> "list[Act]":
        """Return the act that undims the source, none when it is at full."""
        records = (tried or self.now).records
        output, percent = records.number(self.key, "output_ratio"), records.number(self.key, "dimmer_percent")
        if self.is_percent():
            return [] if percent == 100.0 else [self._act({"dimmer_percent": FULL_PERCENT})]
        if output is None or output >= 1.0:
            return []
        changes: dict[str, Any] = {"output_ratio": FULL}
        if percent is not None:
            changes["dimmer_percent"] = None  # nobody knows it any more
        return [self._act(changes)]

    def is_percent(self) -> bool:
        """Tell whether only the dimmer's percent is known, not the light that it lets through."""
        records = self.now.records
        return (
            records.number(self.key, "output_ratio") is None
            and records.number(self.key, "dimmer_percent") is not None
        )

    def _act(self, changes: "dict[str, Any]") -> "Act":
        return what_if.act(self.key, changes, self.now.records)

    def needs(self, tried: Tried) -> "float | None":
        """Return the factor by which the source's own light misses what is wanted of it, None when not known."""
        asked_for = setting.wanted(self.shot, self.key, tried.worked, tried.records)
        if asked_for is None:
            return None
        mine = setting.own(self.key, tried.worked, tried.records, asked_for["unit"])
        if mine["light"] is None or mine["light"]["typical"] <= 0.0:
            return None
        needed: float = asked_for["light"] - mine["others"]
        typical: float = mine["light"]["typical"]
        return max(0.0, needed) / typical

    def dimmed_to_meet(self, acts: "list[Act]") -> "tuple[list[Act], Tried, Tried] | None":
        """Return acts with the dimmer set so that the level is met, what that comes to, and what it is at full.

        Args:
            acts: what is tried; the dimmer is opened first.
        """
        opened = what_if.merged(acts + self.at_full())
        full = self.after(opened)
        factor = self.needs(full)
        if factor is None:
            return None
        if factor >= 1.0 or factor <= 0.0:
            return opened, full, full
        trimmed = what_if.merged(opened + [self._dim(factor, full)])
        return trimmed, self.after(trimmed), full

    def _dim(self, factor: float, full: Tried) -> "Act":
        if not self.is_percent():
            return self._act({"output_ratio": setting.figure(factor, "")})
        power = setting.power_of(self.key, self.source, full.worked, full.records)
        return self._act({"dimmer_percent": setting.figure(100.0 * setting.dimmed(factor, power), "%")})

    # distance

    def distance_to_meet_m(self, factor: float, *, nearest_m: float, farthest_m: float) -> "float | None":
        """Return the distance at which the source gives so many times its light, None when sizes are not known.

        Args:
            factor: light wanted over light now.
            nearest_m: no nearer than this [m].
            farthest_m: no farther than this [m].
        """
        here_m = self.now.records.number(self.key, "distance_m")
        now_lx = self._at_distance_lx(here_m) if here_m else None
        if not now_lx:
            return None
        low, high = nearest_m, farthest_m
        for _ in range(HALVINGS):
            middle = (low * high) ** 0.5
            there = self._at_distance_lx(middle)
            if there is None:
                return None
            if there > now_lx * factor:
                low = middle
            else:
                high = middle
        return low

    def _at_distance(self, away_m: float) -> "Gathered":
        """Return the source alone, at a distance."""
        records = self.now.records
        keys = [self.key, self.source] + records.pointing("layer", "source", self.source)
        few = {key: records.records[key] for key in keys if key in records.records}
        text = decimal_text(away_m, 4)
        act = {"kind": "level", "record": gathered.id_of(self.key), "set": {"distance_m": [text, text]}}
        return what_if.like(what_if.with_acts(few, [act]), records)

    def _at_distance_lx(self, away_m: float) -> "float | None":
        tried = self._at_distance(away_m)
        found = chain.level(self.key, tried, at_full=True)["level_lx"]
        if found is None:
            found = chain.level(self.key, carried.lit(tried, self.source), at_full=True)["level_lx"]
        return None if found is None else float(found["typical"])

    # softness

    def seen(self, tried: "Tried | None" = None) -> "dict[str, Any] | None":
        """Return how soft the source is, as softness.of_source tells it."""
        tried = tried or self.now
        return softness.of_source(self.key, tried.worked["models"][self.key], tried.records)

    def seen_at(self, away_m: float) -> "dict[str, Any] | None":
        """Return how soft the source would be at a distance [m]."""
        tried = self._at_distance(away_m)
        return softness.of_source(self.key, chain.level(self.key, tried, at_full=True), tried)


def gain_stops(before: Tried, after: Tried) -> "float | None":
    """Return how many stops nearer to the target a trial comes, None when either is not known."""
    if before.misses is None or after.misses is None:
        return None
    return after.misses["typical"] - before.misses["typical"]


def misses_words(misses: "Range | None") -> str:
    """Return how a level stands against what is wanted: "meets it", "0.6 stops short", "0.3 short to 0.2 over"."""
    if misses is None:
        return "not known"
    low, high = decimal_text(misses["low"], 1), decimal_text(misses["high"], 1)
    if low in ("0.0", "-0.0") and high in ("0.0", "-0.0"):
        return "meets it"
    if low[0] == "-" and high[0] != "-" and high != "0.0":
        return low[1:] + " short to " + high + " over"
    word = " short" if low[0] == "-" else " over"
    first, last = low.lstrip("-"), high.lstrip("-")
    if word == " short":
        first, last = last, first
    if first == last:
        return first + (" stop" if first == "1.0" else " stops") + word
    return first + " to " + last + word


def is_met(tried: Tried) -> bool:
    """Tell whether a level comes up to what is wanted, to a hair that no meter shows."""
    return tried.misses is not None and tried.misses["typical"] >= -setting.MEETS_STOPS
