// What the person must know until it is over, and what went wrong, for the report.
import type { Notice } from "./contract";

const SENTENCES: { [code in Notice["code"]]?: string } = {
  nothing_kept:
    "Nothing is kept here: this browser stores nothing. All is gone when it is closed, unless it was sent.",
  not_saved:
    "NOT saved on this phone: it could not store the last edits. Keep this open until they are sent, and make room on the phone.",
  older_tab: "Another tab of this app holds the stored day. Close it, then reload this one.",
  storage_lost:
    "This phone dropped what it had kept. What the server has is read again; what was never sent may be gone.",
  app_older:
    "Some of the day is made with a newer version of this app. It is kept and passed on; update to see all of it.",
  rules_failed:
    "The rules did not start on this phone. Reading works; editing does not. Reload, or use another phone.",
};
const ERRORS_KEPT = 50;

export class Notices {
  readonly errors: string[] = [];
  private readonly standing = new Map<Notice["code"], Notice>();

  constructor(private readonly changed: () => void) {}

  raise(code: Notice["code"], sentence = SENTENCES[code] ?? code): void {
    if (this.standing.get(code)?.sentence === sentence) return;
    this.standing.set(code, { code, sentence });
    this.changed();
  }

  over(...codes: Notice["code"][]): void {
    for (const code of codes) this.standing.delete(code);
  }

  has(code: Notice["code"]): boolean {
    return this.standing.has(code);
  }

  list(): Notice[] {
    return [...this.standing.values()];
  }

  /** Note an error for the report; it holds no word that a person wrote. */
  fail(what: string, error: unknown): void {
    const words = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
    this.errors.push(`${new Date().toISOString()} ${what}: ${words.slice(0, 400)}`);
    if (this.errors.length > ERRORS_KEPT) this.errors.shift();
    console.error(what, error);
  }
}

export const sentenceOf = (code: Notice["code"]): string => SENTENCES[code] ?? code;
