// MicroPython with the phone's rules inside, for the tests: one JSON object a line in, one a line out.
// argv: micropython.mjs, micropython.wasm. First line: {files: {path: source}}; then {run: source} or {call: json text}.
import { createInterface } from "node:readline";
import { pathToFileURL } from "node:url";

const { loadMicroPython } = await import(pathToFileURL(process.argv[2]).href);
let printed = [];
const collect = (bytes) => printed.push(Buffer.from(bytes));
const python = await loadMicroPython({
  url: process.argv[3],
  heapsize: 8 << 20,
  pystack: 16 << 10,
  linebuffer: false,
  stdout: collect,
  stderr: collect,
});

function install(files) {
  const made = new Set();
  for (const [path, source] of Object.entries(files)) {
    const parts = ["lib", ...path.split("/")];
    for (let depth = 1; depth < parts.length; depth++) {
      const folder = `/${parts.slice(0, depth).join("/")}`;
      if (!made.has(folder) && !python.FS.analyzePath(folder).exists) python.FS.mkdir(folder);
      made.add(folder);
    }
    python.FS.writeFile(`/${parts.join("/")}`, source);
  }
  return { installed: Object.keys(files).length };
}

function run(source) {
  python.globals.set("_source", source);
  python.runPython('exec(_source, {"__name__": "__main__"})');
  return { stdout: Buffer.concat(printed).toString() };
}

let door;
function call(text) {
  door ??= python.pyimport("tailslate.day.phone_door").call;
  return { reply: door(text) };
}

for await (const line of createInterface({ input: process.stdin })) {
  const asked = JSON.parse(line);
  printed = [];
  let answer;
  try {
    if (asked.files) answer = install(asked.files);
    else if (asked.run !== undefined) answer = run(asked.run);
    else answer = call(asked.call);
  } catch (error) {
    answer = { error: { type: error.type ?? error.name, message: error.message, stdout: Buffer.concat(printed).toString() } };
  }
  process.stdout.write(`${JSON.stringify(answer)}\n`);
}
