// Tabs within a screen: the only targets at the top. A sideways swipe over the screen does the same.
import type { RefObject } from "preact";
import { useEffect, useRef } from "preact/hooks";

export type Tab = { key: string; word: string; href: string };

export const Tabs = ({ tabs, current, name }: { tabs: Tab[]; current: string; name: string }) => (
  <nav class="tabs" aria-label={name}>
    {tabs.map(({ key, word, href }) => (
      <a key={key} href={href} aria-current={key === current ? "true" : undefined}>
        {word}
      </a>
    ))}
  </nav>
);

const EDGE_PX = 24; // the phone's own back gesture starts there
const FAR_PX = 70;

/** Call `move` with -1 or 1 when a finger goes sideways over the element. */
export function useSwipe<E extends HTMLElement>(move: (step: number) => void): RefObject<E | null> {
  const over = useRef<E>(null);
  const newest = useRef(move);
  newest.current = move;
  useEffect(() => {
    const element = over.current;
    if (!element) return;
    let from: Touch | undefined;
    const start = (event: TouchEvent) => {
      const touch = event.touches[0];
      const is_edge = !touch || touch.clientX < EDGE_PX || touch.clientX > innerWidth - EDGE_PX;
      const scrolls = (event.target as Element).closest(".pic, input, textarea, select");
      from = is_edge || scrolls || event.touches.length > 1 ? undefined : touch;
    };
    const end = (event: TouchEvent) => {
      const to = event.changedTouches[0];
      if (!from || !to) return;
      const [dx, dy] = [to.clientX - from.clientX, to.clientY - from.clientY];
      if (Math.abs(dx) > FAR_PX && Math.abs(dy) < 40) newest.current(dx < 0 ? 1 : -1);
    };
    element.addEventListener("touchstart", start, { passive: true });
    element.addEventListener("touchend", end, { passive: true });
    return () => {
      element.removeEventListener("touchstart", start);
      element.removeEventListener("touchend", end);
    };
  }, []);
  return over;
}
