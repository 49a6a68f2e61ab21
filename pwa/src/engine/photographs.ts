// Pictures of the day: kept here first, sent after the words, fetched when looked at. The edit holds only the digest.
// P1 a picture is named by the SHA-256 of its bytes, looked at before it is sent, kept or shown: never half of one.
// P2 an upload goes on where the server says. P3 words go first: a part waits while edits do.
import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex } from "@noble/hashes/utils.js";
import type { KeepAnswer, NewPicture, News, Picture, PicturesNow } from "./contract";
import type { DayEngine } from "./day_engine";
import { chanceNow } from "./exchange";
import { isFull, type Kept, PhotographsStore } from "./photographs_store";
import { smallOf } from "./picture";

const PART_BYTES = 65_536;
const SIZE_LIMIT_BYTES = 2 * 1024 * 1024;
const ANSWER_MS = 20_000;

type Reply = { status: number; headers: Headers; octets: Uint8Array };
type Told = { offset?: number; is_whole?: boolean; error?: { sentence?: string; offset?: number } };

export class Photographs {
  readonly store: PhotographsStore;
  private is_closed = false;
  /** Looked at and not here: asked for again whenever the server was heard. */
  private readonly wanted = new Map<string, Picture["state"]>();
  private running: Promise<void> | null = null;
  private timer: ReturnType<typeof setTimeout> | undefined;
  private unsent = 0;
  /** Tries in vain since the last that went well. */
  private failures = 0;

  constructor(
    private readonly day: DayEngine,
    private readonly tell: (news: News) => void,
  ) {
    this.store = new PhotographsStore(day.day);
  }

  close(): void {
    clearTimeout(this.timer);
    this.is_closed = true;
    this.store.close();
  }

  private get epoch(): string {
    return this.day.exchange?.state.epoch ?? "";
  }

  // ---- what screens ask

  /** Keep a picture that was just taken. Nothing is dropped for it that the server lacks. */
  async keep({ octets, small }: NewPicture): Promise<KeepAnswer> {
    const digest = bytesToHex(sha256(octets));
    try {
      const known = await this.store.one(digest);
      if (!known?.has_full) await this.put(digest, octets, small, known?.sent ?? "");
    } catch (error) {
      this.day.notices.fail("picture", error);
      return { kept: false, code: isFull(error) ? "phone_full" : "not_kept" };
    }
    await this.tellNow();
    this.sendSoon(0);
    return { kept: true, digest };
  }

  private async put(
    digest: string,
    octets: Uint8Array,
    small: Uint8Array | null,
    sent: string,
  ): Promise<void> {
    const before = await this.store.one(digest);
    const kept: Kept = {
      ...{ digest, bytes: octets.length, has_full: true, small: small ?? before?.small ?? null },
      ...{ at_ms: Date.now(), is_pinned: before?.is_pinned ?? false, sent, refused: "" },
    };
    const budget_bytes = await this.store.budget();
    try {
      await this.store.put(kept, octets, budget_bytes, this.epoch);
    } catch (error) {
      if (!isFull(error)) throw error;
      await this.store.put(kept, octets, 0, this.epoch); // all that the server has too makes room
    }
  }

  /** What is here of a picture; with `wants_full` the whole of it, fetched when it is not here. */
  async picture(digest: string, wants_full: boolean, is_again: boolean): Promise<Picture> {
    const kept = await this.store.one(digest);
    const full = kept?.has_full && wants_full ? await this.store.full(digest) : undefined;
    const is_here = !!kept?.has_full;
    if (!is_here && (wants_full || !kept) && (is_again || !this.wanted.has(digest))) {
      this.wanted.set(digest, "fetching");
      this.sendSoon(0);
    }
    return {
      state: is_here ? "whole" : (this.wanted.get(digest) ?? "small"),
      octets: full ?? kept?.small ?? null,
      is_full: !!full,
      is_sent: !!kept?.sent && kept.sent === this.epoch,
      is_pinned: !!kept?.is_pinned,
      refused: kept?.refused ?? "",
    };
  }

  async pin(digest: string, is_pinned: boolean): Promise<void> {
    await this.store.change(digest, { is_pinned });
    this.tell({ news: "picture", digest });
  }

  async setBudget(bytes: number): Promise<void> {
    await this.store.setBudget(bytes);
    await this.tellNow();
  }

  /** How many were never sent, and what they all take: told whenever that changes. */
  async tellNow(): Promise<PicturesNow> {
    const all = await this.store.all();
    const sum = (bytes: number, one: Kept): number => bytes + (one.has_full ? one.bytes : 0);
    const now = {
      unsent: all.filter((one) => one.has_full && (!one.sent || one.sent !== this.epoch)).length,
      held_bytes: all.reduce(sum, 0),
      budget_bytes: await this.store.budget(),
    };
    this.unsent = now.unsent;
    this.tell({ news: "pictures", now });
    return now;
  }

  // ---- to and from the server

  /** The server was heard, or something is new here. */
  sendSoon(wait_ms: number): void {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => void this.run(), wait_ms);
  }

  private run(): Promise<void> {
    if (this.is_closed) return Promise.resolve();
    this.running ??= this.carry()
      .catch((error) => this.day.notices.fail("pictures", error))
      .finally(() => {
        this.running = null;
        if ([...this.wanted.values()].includes("fetching")) this.sendSoon(0);
      });
    return this.running;
  }

  /** Words go first, unless the server takes none of this phone: then what it was brought is kept there, parked. */
  private get is_free(): boolean {
    const { state, notices, is_exchanging } = this.day;
    const is_sent = state.unsent.size === 0 || notices.has("not_allowed");
    return this.epoch !== "" && is_sent && !is_exchanging && !this.is_closed;
  }

  private async carry(): Promise<void> {
    for (const digest of [...this.wanted.keys()]) await this.fetch(digest);
    const waiting = (await this.store.all()).filter(
      (one) => one.has_full && !one.refused && one.sent !== this.epoch,
    );
    for (const one of waiting.sort((a, b) => a.at_ms - b.at_ms)) {
      if (!this.is_free || !(await this.send(one))) break;
    }
    if (waiting.length || this.unsent) await this.tellNow();
  }

  private async fetch(digest: string): Promise<void> {
    const { status, headers, octets } = await this.ask("GET", digest);
    const is_picture = headers.get("Content-Type")?.startsWith("image/");
    let state: Picture["state"] = "no_signal";
    if (status === 404) state = "not_here";
    else if (status === 401 || status === 403) state = "not_allowed";
    else if (status === 200 && is_picture) {
      state = "damaged";
      if (octets.length <= SIZE_LIMIT_BYTES && bytesToHex(sha256(octets)) === digest) {
        try {
          await this.put(digest, octets, await smallOf(new Blob([octets as BlobPart])), this.epoch);
          this.wanted.delete(digest);
          await this.tellNow();
          this.tell({ news: "picture", digest });
          return;
        } catch (error) {
          this.day.notices.fail("picture", error);
          state = "phone_full";
        }
      }
    }
    if (this.wanted.get(digest) === state) return;
    this.wanted.set(digest, state);
    this.tell({ news: "picture", digest });
  }

  /** Send one picture. Says whether the next may follow. */
  private async send({ digest }: Kept): Promise<boolean> {
    const octets = await this.store.full(digest);
    if (!octets || bytesToHex(sha256(octets)) !== digest) {
      await this.settle(digest, { refused: "damaged" }); // the phone's storage gave back other bytes
      return true;
    }
    const head = await this.ask("HEAD", digest);
    const [offset, is_whole] = [head.headers.get("Upload-Offset"), head.headers.get("Upload-Complete")];
    if (offset === null) return this.later(head);
    if (is_whole === "?1") return this.settle(digest, { sent: this.epoch });
    let start = Number(offset);
    let is_corrected = false;
    while (this.is_free) {
      const end = Math.min(start + PART_BYTES, octets.length);
      const range = `bytes ${start}-${end - 1}/${octets.length}`;
      const reply = await this.ask("PUT", digest, octets.slice(start, end), range);
      const told = parsed(reply);
      if (reply.status === 200 && told?.is_whole) return this.settle(digest, { sent: this.epoch });
      if (reply.status === 200 && Number(told?.offset) > start) start = Number(told?.offset);
      else if (reply.status === 409 && !is_corrected) {
        is_corrected = true; // P2: another tab sent parts of it
        start = Number(told?.error?.offset ?? 0);
      } else if ([413, 415, 422].includes(reply.status) && told?.error)
        return this.settle(digest, { refused: told.error.sentence ?? "" });
      else return this.later(reply);
    }
    return false;
  }

  private async settle(digest: string, change: Partial<Kept>): Promise<true> {
    this.failures = 0;
    await this.store.change(digest, change);
    await this.tellNow();
    this.tell({ news: "picture", digest });
    return true;
  }

  /** Not now. Without signal the next exchange that is answered brings it on; a busy server names the time. */
  private later({ status, headers }: Reply): false {
    if (status) {
      this.failures += 1;
      const asked = {
        failures: this.failures,
        chance: chanceNow(),
        retry_after_s: Math.floor(Number(headers.get("Retry-After"))) || 0,
      };
      this.sendSoon(this.day.rules.ask<{ wait_ms: number }>({ do: "wait_after", ...asked }).wait_ms);
    }
    return false;
  }

  private async ask(method: string, digest: string, body?: Uint8Array, range?: string): Promise<Reply> {
    const { token } = this.day.credential as NonNullable<DayEngine["credential"]>;
    const url = `/api/days/${encodeURIComponent(this.day.day)}/photographs/${digest}`;
    const headers: { [name: string]: string } = { Authorization: `Bearer ${token}` };
    if (range) Object.assign(headers, { "Content-Range": range, "Content-Type": "application/octet-stream" });
    try {
      const response = await fetch(url, {
        method,
        headers,
        body: (body as BodyInit | undefined) ?? null,
        signal: AbortSignal.timeout(ANSWER_MS),
        cache: "no-store",
        credentials: "omit",
      });
      // Any page may answer in a network that wants one to sign in first.
      if (response.headers.get("X-Tailslate") !== "server") return NOTHING;
      const octets = new Uint8Array(await response.arrayBuffer());
      if (this.is_closed) return NOTHING;
      return { status: response.status, headers: response.headers, octets };
    } catch {
      return NOTHING; // no signal, a broken connection, a deadline: nothing is known to have arrived
    }
  }
}

const NOTHING: Reply = { status: 0, headers: new Headers(), octets: new Uint8Array() };

function parsed({ octets }: Reply): Told | null {
  try {
    return JSON.parse(new TextDecoder().decode(octets));
  } catch {
    return null; // half an answer
  }
}
