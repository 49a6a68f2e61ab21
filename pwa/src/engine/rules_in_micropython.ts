// The rules: craft and day in MicroPython. JSON text in, JSON text out, through day/phone_door.py alone.
// Loaded on its own, after the first paint: nothing else imports it.
import { loadMicroPython } from "@micropython/micropython-webassembly-pyscript/micropython.mjs";
import wasm_url from "../../generated/micropython.packed?url";
import rules_url from "../../generated/rules.packed?url";
import { fetchPacked } from "./packed";
import { type Rules, RulesRefused } from "./rules";

/** MicroPython takes an address only; `run` gets one that holds what was unpacked. */
async function withAddressOf<Result>(blob: Blob, run: (url: string) => Promise<Result>): Promise<Result> {
  const url = URL.createObjectURL(blob);
  try {
    return await run(url);
  } finally {
    URL.revokeObjectURL(url);
  }
}

/** Start MicroPython with the rules inside. */
export async function startRules(): Promise<Rules> {
  const printed: string[] = [];
  const [wasm, files] = await Promise.all([
    fetchPacked(wasm_url, "application/wasm").then((response) => response.blob()),
    fetchPacked(rules_url, "text/plain").then((response) => response.text()),
  ]);
  const python = await withAddressOf(wasm, (url) =>
    loadMicroPython({
      url,
      heapsize: 8 << 20,
      pystack: 16 << 10,
      stdout: (line) => printed.push(line),
      stderr: (line) => printed.push(line),
    }),
  );
  for (const [, path = "", source = ""] of files.matchAll(/([^\0]+)\0([^\0]*)/g)) {
    const parts = ["lib", ...path.split("/")];
    for (let depth = 1; depth < parts.length; depth++) {
      const folder = `/${parts.slice(0, depth).join("/")}`;
      if (!python.FS.analyzePath(folder).exists) python.FS.mkdir(folder);
    }
    python.FS.writeFile(`/${parts.join("/")}`, source);
  }
  // Garbage is collected after a call, of itself once 16 KB are: 3 ms of each act. The heap has room for that of several.
  python.pyimport("gc").threshold(3 << 20);
  const { call } = python.pyimport("tailslate.day.phone_door");
  Object.assign(globalThis, { python }); // for tests: craft is asked as it stands, without a day
  return {
    ask<Answer>(request: { do: string; [name: string]: unknown }): Answer {
      const answer = JSON.parse(call(JSON.stringify(request)));
      if (!answer.ok) throw new RulesRefused(answer.code, answer.sentence, answer.facts);
      return answer;
    },
  };
}
