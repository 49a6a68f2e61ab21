import { gzipSync } from "node:zlib";

/** At the level that the server compresses with; the same for everyone. */
export const gzipped = (octets) => gzipSync(octets, { level: 9 }).length;

export function quantile(values, share) {
  const sorted = [...values].sort((a, b) => a - b);
  const place = (sorted.length - 1) * share;
  const low = Math.floor(place);
  return sorted[low] + (sorted[Math.min(low + 1, sorted.length - 1)] - sorted[low]) * (place - low);
}

export const median = (values) => quantile(values, 0.5);
