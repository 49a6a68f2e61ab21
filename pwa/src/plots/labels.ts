// Words in a drawing: each beside its figure, none over another, all inside. Knows boxes in pixels, nothing of what they name.

export type Box = { x: number; y: number; width: number; height: number };
export type Label = { key: string; text: string; x: number; y: number; width: number; height: number };
export type Laid = Label & { left: number; top: number; is_away: boolean };

const overlap = (a: Box, b: Box): number =>
  Math.max(0, Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x)) *
  Math.max(0, Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y));

const GAP = 9;

/** Places to try around a figure, the best first: right, left, below, above, then farther out. */
function tries({ x, y, width, height }: Label): { left: number; top: number }[] {
  const found: { left: number; top: number }[] = [];
  for (const away of [0, 14, 28, 44, 62]) {
    for (const lift of away ? [-away, 0, away] : [0]) {
      found.push({ left: x + GAP + away / 2, top: y - height / 2 + lift });
      found.push({ left: x - GAP - width - away / 2, top: y - height / 2 + lift });
    }
    found.push({ left: x - width / 2, top: y + GAP + away });
    found.push({ left: x - width / 2, top: y - GAP - height - away });
  }
  return found;
}

/** Lay labels in the order given: who comes first has the better place. `taken` is kept clear where that is possible. */
export function layLabels(labels: Label[], inside: Box, taken: Box[]): Laid[] {
  const kept: Box[] = [...taken];
  return labels.map((label) => {
    let best = { left: label.x + GAP, top: label.y - label.height / 2 };
    let least = Number.POSITIVE_INFINITY;
    for (const one of tries(label)) {
      const left = Math.min(Math.max(one.left, inside.x + 2), inside.x + inside.width - label.width - 2);
      const top = Math.min(Math.max(one.top, inside.y + 2), inside.y + inside.height - label.height - 2);
      const box = { x: left, y: top, width: label.width, height: label.height };
      const cost = kept.reduce((sum, other) => sum + overlap(box, other), 0);
      if (cost < least) [best, least] = [{ left, top }, cost];
      if (least === 0) break;
    }
    kept.push({ x: best.left, y: best.top, width: label.width, height: label.height });
    const middle = { x: best.left + label.width / 2, y: best.top + label.height / 2 };
    const is_away =
      Math.abs(middle.x - label.x) > label.width / 2 + GAP + 8 ||
      Math.abs(middle.y - label.y) > label.height / 2 + GAP + 8;
    return { ...label, ...best, is_away };
  });
}
