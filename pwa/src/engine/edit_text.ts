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

/** "incarnation.counter.digest"; the digest is the first 12 bytes of SHA-256 over the text as received, base64url. */
export function idOf(text: string, parts: Parts): string {
  let octets = "";
  for (const octet of sha256(encoder.encode(text)).subarray(0, 12)) octets += String.fromCharCode(octet);
  return `${parts[3]}.${parts[4]}.${btoa(octets).replaceAll("+", "-").replaceAll("/", "_")}`;
}

/**
 * Read a text that arrived whole: of this day, of a format known here, written in the one form. Null for
 * any other: those go to the rules, which alone say what is wrong with one.
 */
export function readText(text: string, day: string): ReadEdit | null {
  let parts: Parts;
  try {
    parts = JSON.parse(text);
  } catch {
    return null;
  }
  const is_plain =
    Array.isArray(parts) &&
    parts.length === 14 &&
    parts[0] === 1 &&
    parts[1] === day &&
    Array.isArray(parts[13]);
  if (!is_plain || JSON.stringify(parts) !== text) return null;
  return { id: idOf(text, parts), text, parts, record: `${parts[11]}/${parts[12]}`, set: parts[2] };
}
