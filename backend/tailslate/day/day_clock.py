"""Times of day that people typed, on the clock of a forecast: minutes of work from now, meals left out.

Knows no shot. Z1 a time of day is the next one at or after the call, so a shot after midnight belongs to its night, also when clocks are changed in it.
"""

from tailslate.craft.crew import after_breaks_min
from tailslate.craft.rounding import round_down, round_half_up, round_up
from tailslate.day import place_clock

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.place_clock import Offset

MINUTE_MS = 60000
DAY_MIN = 1440
BEFORE_CALL_MIN = 240  # so long before the call the new day begins: nobody plans yesterday any more (chosen)
SHOWN_STEP_MIN = 5.0  # nobody is ready to the minute


class DayClock:
    """The clock of one day, from now on.

    Attributes: now_ms; utc_offset_min; meal (start and end [ms since 1970 UTC], or None).
    """

    def __init__(self, day: "dict[str, Any]", *, now_ms: int, utc_offset_min: "Offset" = 0) -> None:
        """Take the day's facts as work.of_day gives them."""
        self.now_ms = now_ms
        self.utc_offset_min = utc_offset_min
        self._call_ms: int | None = None
        call = self._from_midnight(day["call"])
        if call is not None:
            ahead = (call - self._now_min() + DAY_MIN - BEFORE_CALL_MIN) % DAY_MIN
            apart = ahead - (DAY_MIN - BEFORE_CALL_MIN)
            self._call_ms = place_clock.later_ms(self._minute_ms(), apart, utc_offset_min)
        self.meal = None
        start_ms = self.at_ms(day["meal"])
        if start_ms is not None and day["meal_min"]:
            self.meal = (start_ms, start_ms + day["meal_min"] * MINUTE_MS)

    def _minute_ms(self) -> int:
        return self.now_ms // MINUTE_MS * MINUTE_MS

    def _now_min(self) -> int:
        return (self.now_ms // MINUTE_MS + place_clock.ahead_min(self.now_ms, self.utc_offset_min)) % DAY_MIN

    def _from_midnight(self, text: str) -> "int | None":
        return int(text[:2]) * 60 + int(text[3:5]) if text else None

    def at_ms(self, text: str) -> "int | None":
        """Return when a time of day is on this day [ms since 1970 UTC], None when it is not set.

        Args:
            text: such as 07:12; without a call the nearest to now.
        """
        wanted = self._from_midnight(text)
        if wanted is None:
            return None
        if self._call_ms is None:
            ahead = (wanted - self._now_min() + DAY_MIN // 2) % DAY_MIN - DAY_MIN // 2
            return place_clock.later_ms(self._minute_ms(), ahead, self.utc_offset_min)
        ahead_min = place_clock.ahead_min(self._call_ms, self.utc_offset_min)
        call_min = (self._call_ms // MINUTE_MS + ahead_min) % DAY_MIN
        return place_clock.later_ms(self._call_ms, (wanted - call_min) % DAY_MIN, self.utc_offset_min)

    def after_work_ms(self, work_min: float, *, side: int = 0) -> int:
        """Return when so much work from now is done, the meal left out, to the minute.

        Args:
            work_min: minutes of work from now [min].
            side: -1 rounds down to five minutes (not before now), 1 up, 0 to the nearest minute.
        """
        clock_min = after_breaks_min(max(0.0, work_min), breaks=self._breaks())
        from_midnight = clock_min + self.now_ms % (DAY_MIN * MINUTE_MS) / MINUTE_MS
        if side < 0:
            rounded = round_down(from_midnight / SHOWN_STEP_MIN, 0) * SHOWN_STEP_MIN
        elif side > 0:
            rounded = round_up(from_midnight / SHOWN_STEP_MIN, 0) * SHOWN_STEP_MIN
        else:
            rounded = round_half_up(from_midnight, 0)
        midnight_ms = self.now_ms // (DAY_MIN * MINUTE_MS) * DAY_MIN * MINUTE_MS
        return max(self._minute_ms(), midnight_ms + int(rounded) * MINUTE_MS)

    def _breaks(self) -> "list[tuple[float, float]]":
        if not self.meal or self.meal[1] <= self.now_ms:
            return []
        start_ms = max(self.meal[0], self.now_ms)
        return [((start_ms - self.now_ms) / MINUTE_MS, (self.meal[1] - start_ms) / MINUTE_MS)]

    def work_until_min(self, at_ms: int) -> float:
        """Return the minutes of work from now until a time, the meal left out; negative for what is past."""
        if at_ms <= self.now_ms:
            return (at_ms - self.now_ms) / MINUTE_MS
        clock_min = (at_ms - self.now_ms) / MINUTE_MS
        for start_min, length_min in self._breaks():
            clock_min -= max(0.0, min(length_min, clock_min - start_min))
        return clock_min
