// An edit's text as it travels: its parts by place, and its id. Makes none and judges none: day/edit.py does.
import { sha256 } from "@noble/hashes/sha2.js";
import type { RecordKey, Value } from "./contract";

export type Change = [field: string, value: Value, seen: string[]];
export type Parts = [
  format: number,
  day: string,
  set: string,
  incarnation: string,
  counter: number,
  salt: string,
  rules: number,
  at_ms: number,
  by: string,
  for_whom: string,
  how: string,
  kind: string,
  record: string,
  changes: Change[],
];

/** An edit that has been read. */
export type ReadEdit = { id: string; text: string; parts: Parts; record: RecordKey; set: string };

const encoder = new TextEncoder();
/** As large as any edit may be, and more; a longer text goes the slow way. */
const octets = new Uint8Array(65_536);
const hash = new Uint8Array(32);
// Thousands of edits are hashed when a phone comes back: one hasher is set back instead of making one for each.
const fresh = sha256.create();
const hasher = sha256.create();
const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

function sha256Of(text: string): Uint8Array {
  if (text.length * 3 > octets.length) return sha256(encoder.encode(text));
  const { written } = encoder.encodeInto(text, octets);
  fresh._cloneInto(hasher);
  hasher.update(octets.subarray(0, written)).digestInto(hash);
  return hash;
}

/** "incarnation.counter.digest"; the digest is the first 12 bytes of SHA-256 over the text as received, base64url. */
export function idOf(text: string, parts: Parts): string {
  const found = sha256Of(text);
  let digest = "";
  for (let place = 0; place < 12; place += 3) {
    const three = ((found[place] ?? 0) << 16) | ((found[place + 1] ?? 0) << 8) | (found[place + 2] ?? 0);
    for (let shift = 18; shift >= 0; shift -= 6) digest += LETTERS[(three >> shift) & 63];
  }
  return `${parts[3]}.${parts[4]}.${digest}`;
}

/**
 * Read a text that this phone made or that a server answered with, which has judged it. Null when it is not of
 * this day or of a format known here: those go to the rules, which alone say what is wrong with one.
 */
export function readText(text: string, day: string): ReadEdit | null {
  let parts: Parts;
  try {
    parts = JSON.parse(text);
  } catch {
    return null;
  }
  if (!Array.isArray(parts) || parts.length !== 14 || parts[0] !== 1 || parts[1] !== day) return null;
  if (!Array.isArray(parts[13])) return null;
  return { id: idOf(text, parts), text, parts, record: `${parts[11]}/${parts[12]}`, set: parts[2] };
}
