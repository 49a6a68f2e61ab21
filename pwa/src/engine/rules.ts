// What the engine may ask of the rules, and how they refuse. rules_in_micropython.ts starts them.
// Calls are stateless and small: at most 500 edits or 64 KB, so that a collection of garbage stays short.

export const EDITS_PER_CALL = 500;
export const BYTES_PER_CALL = 64 << 10;

/** The rules refused: a code, a sentence for people, the facts. */
export class RulesRefused extends Error {
  constructor(
    readonly code: string,
    readonly sentence: string,
    readonly facts: unknown,
  ) {
    super(`${code}: ${sentence}`);
  }
}

/** What an answer of the rules holds; each caller names the shape it asked for. */
export type Rules = { ask: <Answer>(request: { do: string; [name: string]: unknown }) => Answer };
