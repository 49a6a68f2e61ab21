// Nothing changes place under a thumb: what came in waits until the screen was left alone for a moment.
import { signal } from "@preact/signals";
import { useEffect, useRef, useState } from "preact/hooks";

export const QUIET_MS = 600;
let last_touch_ms = Number.NEGATIVE_INFINITY;
let is_down = false;

/** The last row, link or button that was touched on a list: what Raise offers beside the screen's own record. */
export const last_row = signal<{ record: string; title: string } | null>(null);

function touched(down: boolean) {
  return () => {
    is_down = down;
    last_touch_ms = performance.now();
  };
}

for (const name of ["pointerdown", "touchstart"])
  addEventListener(name, touched(true), { passive: true, capture: true });
for (const name of ["pointerup", "pointercancel", "touchend", "touchcancel"]) {
  addEventListener(name, touched(false), { passive: true, capture: true });
}
addEventListener("scroll", touched(false), { passive: true, capture: true });

/** Milliseconds until the screen counts as left alone; 0 when it is. */
export const untilQuiet = (): number =>
  is_down ? QUIET_MS : Math.max(0, last_touch_ms + QUIET_MS - performance.now());

export const touchedSince = (ms: number): boolean => is_down || last_touch_ms > ms;

/** The value as last shown while the screen is touched; the newest one as soon as it is left alone. */
export function useQuiet<T>(value: T, is_still = false, at_first = value): T {
  const [held, setHeld] = useState(at_first);
  const newest = useRef(value);
  newest.current = value;
  useEffect(() => {
    if (is_still || Object.is(held, value)) return;
    let timer = 0;
    const look = () => {
      const wait = untilQuiet();
      if (wait > 0) timer = window.setTimeout(look, wait);
      else setHeld(() => newest.current);
    };
    look();
    return () => clearTimeout(timer);
  }, [value, held, is_still]);
  return held;
}
