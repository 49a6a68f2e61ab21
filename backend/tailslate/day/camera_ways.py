"""Ways out of too little light at the camera: open the lens, raise the index, both.

Knows no lamps. CW1 a stop and an index are those that are engraved and set, in thirds. CW2 what the camera gains every
light in the picture gains: it says so.
"""

from tailslate.craft import focus, ways_out
from tailslate.craft.exposure import stops_between
from tailslate.craft.rounding import compare, decimal_text, plain_text, round_half_up
from tailslate.day import shown, trial, way, what_if
from tailslate.day.trial import Trial

TYPE_CHECKING = False
if TYPE_CHECKING:
    from tailslate.day.way import Way


# Stops and indices in thirds as they are engraved and set (ISO 5800 and ISO 2720 series, from memory).
STOPS = (
    0.7, 0.8, 0.9, 1.0, 1.1, 1.3, 1.4, 1.6, 1.8, 2.0, 2.2, 2.5, 2.8, 3.2, 3.6, 4.0, 4.5, 5.0, 5.6, 6.3, 7.1, 8.0,
    9.0, 10.0, 11.0, 13.0, 14.0, 16.0, 18.0, 20.0, 22.0,
)  # fmt: skip
INDICES = (
    50, 64, 80, 100, 125, 160, 200, 250, 320, 400, 500, 640, 800, 1000, 1250, 1600, 2000, 2500, 3200, 4000, 5000,
    6400, 8000, 10000, 12800, 16000, 20000, 25600,
)  # fmt: skip
ALL_RISES = "everything else rises with it by {}: dim fill, background and practicals to keep the picture"


def open_up(found: Trial, short_stops: float) -> "Way | None":
    """Return the way of opening the lens by what is missing, to an engraved third; None when it is open.

    Args:
        found: the source to try it on.
        short_stops: how much light is missing [stop], above 0.
    """
    records = found.now.records
    stop = records.number(found.shot, "t_stop")
    setup = records.target(found.shot, "setup")
    widest = records.number(setup, "widest_t_stop") if setup else None
    if not stop:
        return None
    least = widest if widest else STOPS[0]
    made = ways_out.opening_up(short_stops, stop=stop, widest_stop=least)
    wanted_stop = made["cost"]["new_stop"]
    marks = [mark for mark in STOPS if least <= mark <= wanted_stop + 0.005]
    new = marks[-1] if marks else least
    if compare(new, stop) >= 0:
        return None
    text = plain_text(new)
    acts = [what_if.act(found.shot, {"t_stop": [text, "T" + text]}, records)]
    steps = 2.0 * stops_between(stop, reference=new)
    made_way = way.new(
        "open_up",
        "Open up to T" + text,
        acts,
        [_depth(found, stop, new), ALL_RISES.format(way.gain_words(steps))],
    )
    if widest is None:
        sentence = "the widest stop of the lens is not known"
        made_way["missing"] = [
            {"record": setup or found.shot, "field": "widest_t_stop", "sentence": sentence}
        ]
    return made_way


def _depth(found: Trial, stop: float, new: float) -> str:
    """Return what opening costs in depth of field: in metres where the lens is known, else as a share."""
    records = found.now.records
    setup = records.target(found.shot, "setup")
    lens_mm = records.number(setup, "lens_mm") if setup else None
    away_m, blur_mm = records.number(setup, "camera_distance_m"), records.number(setup, "blur_mm")
    if lens_mm and away_m and blur_mm and away_m > lens_mm / 1000.0:
        totals = []
        for number in (stop, new):
            depth = focus.depth_of_field(
                lens_mm / 1000.0, f_number=number, blur_m=blur_mm / 1000.0, distance_m=away_m
            )
            totals.append(depth["total_m"])
        if totals[0] is not None and totals[1] is not None:
            first, last = [
                shown.figure(round_half_up(total_m, 2), "m", records.units)
                for total_m in totals
                if total_m is not None
            ]
            return "sharp over " + last + ", was " + first + " (the T-stop taken as f, a little optimistic)"
    return "depth of field about " + decimal_text(new / stop, 1) + " of what it was"


def raise_index(found: Trial, short_stops: float) -> "Way | None":
    """Return the way of raising the exposure index by what is missing, to a third that is set; None without an index.

    Args:
        found: the source to try it on.
        short_stops: how much light is missing [stop], above 0.
    """
    records = found.now.records
    index = records.whole(found.shot, "exposure_index")
    if not index or found.now.worked["target_lx"] is None:
        return None
    highest = records.whole(found.shot, "highest_exposure_index")
    most = highest if highest else INDICES[-1]
    made = ways_out.raising_index(short_stops, exposure_index=index, highest_index=most)
    wanted_index = made["cost"]["new_index"]
    marks = [mark for mark in INDICES if wanted_index - 0.5 <= mark <= most]
    new = marks[0] if marks else int(most)
    if new <= index:
        return None
    steps = way.gain_words(stops_between(new, reference=index))
    acts = [what_if.act(found.shot, {"exposure_index": new}, records)]
    costs = ["noise: shadows come " + steps + " nearer to it", ALL_RISES.format(steps)]
    made_way = way.new("raise_index", "Raise the index to EI " + str(new), acts, costs)
    if highest is None:
        sentence = "nobody has said the highest index that is accepted"
        made_way["missing"] = [
            {"record": found.shot, "field": "highest_exposure_index", "sentence": sentence}
        ]
    return made_way


def both(found: Trial, short_stops: float) -> "Way | None":
    """Return opening up as far as the lens goes, and the index for the rest; only where neither alone does it."""
    wide = open_up(found, short_stops)
    if wide is None or wide["missing"]:
        return None
    opened = Trial(found.shot, found.key, found.after(wide["acts"]).records)
    full = opened.after(opened.at_full())
    if full.misses is None or trial.is_met(full):
        return None
    index = raise_index(opened, -full.misses["typical"])
    if index is None or index["missing"] or _reaches(found, raise_index(found, short_stops)):
        return None
    acts = what_if.merged(wide["acts"] + index["acts"])
    title = wide["title"] + " and raise the index to EI " + str(index["acts"][0]["set"]["exposure_index"])
    return way.new("open_up_and_raise_index", title, acts, wide["costs"] + index["costs"][:1])


def _reaches(found: Trial, alone: "Way | None") -> bool:
    done = found.dimmed_to_meet(alone["acts"]) if alone else None
    return done is not None and trial.is_met(done[1])
