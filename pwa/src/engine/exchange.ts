// Carries the exchange: fetches what the rules decided to send, hands the reply to the rules. Decides nothing.
import { textsOf } from "./edit_lines";
import type { Parts } from "./edit_text";
import { type HeldEdits, setOf } from "./held_edits";
import { BYTES_PER_CALL, EDITS_PER_CALL, type Rules } from "./rules";

const FIRST_BYTE_MS = 8_000;
const TOTAL_MS = 20_000;

/** {incarnation: [count, gapless, xor, highest, beyond]}, as day/exchange.py keeps it. */
type Marks = { [incarnation: string]: unknown[] };
/** The rules' own state; only the parts that screens show are named here. */
type State = {
  epoch: string;
  failures: number;
  heard_ms: number;
  matched_ms: number;
  next_ms: number;
  sets: { [set: string]: { place: number; reach: number; details: unknown } };
};

/** What is stored: the state and the marks over all rows up to `upto`. */
export type ExchangeRecord = {
  state: State;
  marks: { [set: string]: Marks };
  upto: number;
  heard: { [id: string]: number };
  clock_ahead_ms: number | null;
};

export type Request = { wait_ms: number; body: object; sent: { [set: string]: string[] }; nonce: string };

export type Group = { carrier: string; received_ms: number; edits: string[] };
/** A group as it travels: this phone asks for lines; a server of an older build answers with texts. */
type Travelling = { carrier: string; received_ms: number; edits?: string[]; lines?: string[] };
type SetReply = { groups?: Travelling[]; missing?: Travelling[] };
export type Reply = { sets: { [set: string]: SetReply }; now_ms?: number; rules?: number };

/** What came back, or did not. */
export type Answer = { status: number; content_type: string; retry_after_s: number; reply: Reply | null };

export type Told = {
  state: State;
  outcome: "taken" | "no_signal" | "sign_in_page" | "not_allowed" | "busy" | "too_large" | "refused";
  sentence: string;
  confirmed: { [set: string]: string[] };
  refused: { [set: string]: [id: string, code: string, sentence: string][] };
  want: { [set: string]: string[] };
  void: { [set: string]: string[] };
  heard: { [id: string]: number };
  again: boolean;
};

export const newExchange = (rules: Rules, sets: string[]): ExchangeRecord => ({
  state: rules.ask<{ state: State }>({ do: "new_state", sets }).state,
  marks: Object.fromEntries(sets.map((set) => [set, {}])),
  upto: 0,
  heard: {},
  clock_ahead_ms: null,
});

/** The marks with ids added that were not counted before, and refused ones taken out. */
export function marked(rules: Rules, marks: Marks, ids: string[], drop: string[]): Marks {
  let after = marks;
  for (let start = 0; start < ids.length; start += EDITS_PER_CALL) {
    after = rules.ask<{ marks: Marks }>({
      do: "marks",
      marks: after,
      ids: ids.slice(start, start + EDITS_PER_CALL),
    }).marks;
  }
  return drop.length ? rules.ask<{ marks: Marks }>({ do: "marks", marks: after, drop }).marks : after;
}

/** The oldest unsent edits by set, as many as one call into the rules may carry. */
export function unsentPairs(
  unsent: Iterable<string>,
  held: HeldEdits,
): { [set: string]: [id: string, text: string][] } {
  const pairs: { [set: string]: [string, string][] } = {};
  let room_bytes = BYTES_PER_CALL;
  let room = EDITS_PER_CALL;
  for (const id of unsent) {
    const text = held.text(id);
    if (!text) continue;
    room_bytes -= text.length;
    if (--room < 0 || room_bytes < 0) break;
    const set = setOf(text);
    pairs[set] ??= [];
    pairs[set]?.push([id, text]);
  }
  return pairs;
}

/** Chance as the rules take it: a whole number from 0 to 999999. */
export const chanceNow = (): number => Math.floor(Math.random() * 1_000_000);

export function randomText(length: number): string {
  const letters = "abcdefghijklmnopqrstuvwxyz0123456789";
  let text = "";
  for (const octet of crypto.getRandomValues(new Uint8Array(length))) text += letters[octet % letters.length];
  return text;
}

/** Send a request and read the whole answer, within 8 s to the first byte and 20 s in all. Never throws. */
export async function carry(url: string, token: string, body: unknown, cancel: AbortSignal): Promise<Answer> {
  const stop = new AbortController();
  const first_byte = setTimeout(() => stop.abort(), FIRST_BYTE_MS);
  const total = setTimeout(() => stop.abort(), TOTAL_MS);
  const give_up = () => stop.abort();
  cancel.addEventListener("abort", give_up, { once: true });
  try {
    const response = await fetch(url, {
      method: "POST",
      headers: { "Content-Type": "application/json", ...(token ? { Authorization: `Bearer ${token}` } : {}) },
      body: JSON.stringify(body),
      signal: stop.signal,
      cache: "no-store",
      credentials: "omit",
    });
    clearTimeout(first_byte);
    const text = await response.text();
    return {
      status: response.status,
      content_type: response.headers.get("Content-Type") ?? "",
      retry_after_s: Math.max(0, Math.floor(Number(response.headers.get("Retry-After"))) || 0),
      reply: parsed(text),
    };
  } catch {
    // No signal, a broken connection, a deadline: all mean that nothing is known to have arrived.
    return { status: 0, content_type: "", retry_after_s: 0, reply: null };
  } finally {
    clearTimeout(first_byte);
    clearTimeout(total);
    cancel.removeEventListener("abort", give_up);
  }
}

function parsed(text: string): Reply | null {
  try {
    return JSON.parse(text);
  } catch {
    return null; // half an answer, or a sign-in page: the rules say what it means
  }
}

/** The groups of edits that a reply brought, those missing here included. */
export function groupsOf(reply: Reply | null, day: string, set: string): Group[] {
  const one = reply?.sets?.[set];
  return [...(one?.groups ?? []), ...(one?.missing ?? [])].map(({ carrier, received_ms, edits, lines }) => ({
    carrier,
    received_ms,
    edits: edits ?? textsOf(lines ?? [], day, set),
  }));
}

/** The reply without the texts that it brought: what the rules need to see of it. */
export function withoutTexts(reply: Reply | null): unknown {
  if (!reply?.sets) return reply;
  const sets: { [set: string]: unknown } = {};
  for (const set in reply.sets) {
    const { groups: _groups, missing: _missing, ...rest } = reply.sets[set] ?? {};
    sets[set] = rest;
  }
  return { ...reply, sets };
}

export type { Marks, Parts };
