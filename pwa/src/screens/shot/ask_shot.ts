// Questions to the rules about one shot: with the records that its sheet reads, and the kit that could be used.

import { type Asked, useAnswer } from "../../asked";
import { utcOffsetMin } from "../../clock";
import { gather, type ShotNow } from "../../day_reads";
import { recordNow, shown } from "../../day_signals";
import type { Fields, RecordKey } from "../../engine/contract";
import { units } from "../../preferences";

export function recordsFor(found: ShotNow): { [key: RecordKey]: Fields } {
  const read = found.sheet.reads.flatMap((key) => {
    const fields = recordNow(key);
    return fields ? [[key, fields] as const] : [];
  });
  return { ...gather(["kit"]), ...Object.fromEntries(read) };
}

/** What the rules answer about a shot: asked again when the shot was worked out anew, or `more` changed; null asks nothing. */
export function useOfShot<T>(found: ShotNow, question: { do: string } | null, more: unknown[]): Asked<T> {
  const asked = question && {
    ...question,
    shot: found.shot,
    records: recordsFor(found),
    units: units.value,
    utc_offset_min: utcOffsetMin(),
    now_ms: Date.now(),
  };
  return useAnswer<T>(asked, [
    found.shot,
    found.summary.computed_ms,
    units.value,
    question !== null,
    ...more,
  ]);
}

export const valueNow = (record: RecordKey, field: string) => shown(recordNow(record)?.[field]);
