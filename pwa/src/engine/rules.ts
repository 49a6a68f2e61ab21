// The rules: craft and day in MicroPython. JSON text in, JSON text out, through day/phone_door.py alone.
// Calls are stateless and small: at most 500 edits or 64 KB, so that a collection of garbage stays short.
import { loadMicroPython } from "@micropython/micropython-webassembly-pyscript/micropython.mjs";
import wasm_url from "@micropython/micropython-webassembly-pyscript/micropython.wasm?url";
import files from "../../generated/rules.json";

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

/** Start MicroPython with the rules inside. */
export async function startRules(): Promise<Rules> {
  const printed: string[] = [];
  const python = await loadMicroPython({
    url: wasm_url,
    heapsize: 8 << 20,
    pystack: 16 << 10,
    stdout: (line) => printed.push(line),
    stderr: (line) => printed.push(line),
  });
  for (const [path, source] of Object.entries(files)) {
    const parts = ["lib", ...path.split("/")];
    for (let depth = 1; depth < parts.length; depth++) {
      const folder = `/${parts.slice(0, depth).join("/")}`;
      if (!python.FS.analyzePath(folder).exists) python.FS.mkdir(folder);
    }
    python.FS.writeFile(`/${parts.join("/")}`, source);
  }
  const { call } = python.pyimport("tailslate.day.phone_door");
  return {
    ask<Answer>(request: { do: string; [name: string]: unknown }): Answer {
      const answer = JSON.parse(call(JSON.stringify(request)));
      if (!answer.ok) throw new RulesRefused(answer.code, answer.sentence, answer.facts);
      return answer;
    },
  };
}
