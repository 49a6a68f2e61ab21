// The rules: craft and day in MicroPython. JSON text in, JSON text out, through day/phone_door.py alone.
// Loaded on its own, after the first paint: nothing else imports it.
import { loadMicroPython } from "@micropython/micropython-webassembly-pyscript/micropython.mjs";
import wasm_url from "@micropython/micropython-webassembly-pyscript/micropython.wasm?url";
import files from "../../generated/rules.json";
import { type Rules, RulesRefused } from "./rules";

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
