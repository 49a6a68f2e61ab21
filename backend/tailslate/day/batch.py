"""How long a drink or a food may stand out of the cold: the clock of a batch. Records and the time -> a figure.

Local food rules decide. The clock never stops and never starts again. Nobody said that it keeps: it
counts as spoiling. Without the time of day, or with two answers, nothing comes out within.
"""

from tailslate.craft import food
from tailslate.day import figures, gathered, merge, place_clock, shown
from tailslate.day.figures import OVER, UNKNOWN, WITHIN, Facts

TYPE_CHECKING = False
if TYPE_CHECKING:
    from tailslate.day.figures import Figure
    from tailslate.day.gathered import Gathered

MINUTE_MS = 60000
LABEL = "Out of the cold"


def left_cold_ms(key: str, records: "Gathered") -> "int | None":
    """Return when a batch left cold or hot keeping, None when nobody said: the said time nearest to when it was said.

    So a batch of last night is not taken for one of today.

    Args:
        key: record key of a drink or a food.
        records: the record.
    Returns: time [ms since 1970 UTC].
    """
    entry, said = records.entry(key, "left_cold_time"), records.text(key, "left_cold_time")
    if not entry or len(said) != 5:
        return None
    wanted_min = int(said[:2]) * 60 + int(said[3:5])
    at_min = entry[gathered.AT_MS] // MINUTE_MS
    at_ms, offset = entry[gathered.AT_MS], records.utc_offset_min
    local_min = (at_min + place_clock.ahead_min(at_ms, offset)) % shown.DAY_MIN
    apart_min = (wanted_min - local_min) % shown.DAY_MIN
    if apart_min > shown.DAY_MIN // 2:
        apart_min -= shown.DAY_MIN
    return place_clock.later_ms(at_min * MINUTE_MS, apart_min, offset)


def clock(key: str, records: "Gathered", now_ms: "int | None") -> "Figure":
    """Return until when a batch may stand out.

    Args:
        key: record key of a drink or a food.
        records: the record.
        now_ms: now [ms since 1970 UTC], None when it is not known.
    Returns: dict as in `figures.plain`; its value is the last moment [ms since 1970 UTC].
    """
    if records.text(key, "perishable") == "no":
        return figures.plain(LABEL, "no clock", "said to keep; label it all the same", caution="batch")
    facts, out_ms = Facts(key, records), left_cold_ms(key, records)
    cell = records.cell(key, "left_cold_time")
    if out_ms is None:
        facts.miss("left_cold_time", "say when it left cold or hot keeping; until then no time is left")
        return figures.unknown(LABEL, facts.missing, caution="batch")
    start_degc, highest_degc = facts.known("start_degc"), facts.known("highest_degc")
    limit_min = food.minutes_left(0.0, start_degc=start_degc, highest_degc=highest_degc)
    until_ms = out_ms + int(limit_min) * MINUTE_MS
    words = "until " + shown.clock(until_ms, records.utc_offset_min)
    line = str(int(limit_min) // 60) + " hours from " + shown.clock(out_ms, records.utc_offset_min)
    line += ", then it is thrown away"
    if cell and cell[merge.MARK] == merge.TWO:
        facts.miss("left_cold_time", "two answers: pick one; until then no time is left")
        return figures.unknown(LABEL, facts.missing, caution="batch")
    if now_ms is None:
        made = figures.plain(LABEL, words, line, caution="batch", state=UNKNOWN, value=until_ms)
    elif now_ms >= until_ms:
        made = figures.plain(LABEL, "throw it away", line, caution="batch", state=OVER, value=until_ms)
    else:
        made = figures.plain(LABEL, words, line, caution="batch", state=WITHIN, value=until_ms)
    return made
