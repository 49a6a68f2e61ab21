// Bundles the pages, our engine from pwa/src among them, and checks that every fixture is an edit to the rules.
import fs from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build } from "esbuild";

const HERE = path.dirname(fileURLToPath(import.meta.url));
const PWA = path.join(HERE, "..", "..", "pwa");

const addresses = {
  name: "addresses",
  setup({ onResolve }) {
    onResolve({ filter: /\?url$/ }, async ({ path: asked, resolveDir }) => ({
      path: path.join(resolveDir, asked.slice(0, -4)),
    }));
  },
};

/** MicroPython's loader without its assertions, as the app's build leaves them out (pwa/vite.config.ts). */
const without_assertions = {
  name: "without_assertions",
  setup({ onLoad }) {
    onLoad({ filter: /micropython\.mjs$/ }, ({ path: file }) => ({
      contents: fs
        .readFileSync(file, "utf8")
        .replace(/,assert\(wasmTable\.get\(funcPtr\)==func,"[^"]*"\)/, ""),
    }));
  },
};

export async function buildPages() {
  await build({
    entryPoints: ["yjs.js", "floor.js", "ours.ts", "engine_worker.ts"].map((name) =>
      path.join(HERE, "pages", name),
    ),
    bundle: true,
    minify: true,
    splitting: true,
    format: "esm",
    platform: "browser",
    outdir: path.join(HERE, "made", "dist"),
    publicPath: "/made/dist",
    loader: { ".packed": "file" },
    plugins: [addresses, without_assertions],
    external: ["module", "fs", "path", "url", "crypto", "node:*"],
    define: { "process.env.NODE_ENV": '"production"', __BUILD__: '"bench"' },
    nodePaths: [path.join(HERE, "node_modules"), path.join(PWA, "node_modules")],
    logLevel: "error",
  });
}

/** Every text of the fixtures must be an edit: none refused by the rules, in the Python of the phone. */
export async function checkTexts(folder) {
  const module = path.join(PWA, "node_modules/@micropython/micropython-webassembly-pyscript/micropython.mjs");
  const { loadMicroPython } = await import(pathToFileURL(module).href);
  const python = await loadMicroPython({ heapsize: 8 << 20, pystack: 16 << 10 });
  const { XzReadableStream } = createRequire(path.join(PWA, "package.json"))("xz-decompress");
  const packed = new Blob([fs.readFileSync(path.join(PWA, "generated", "rules.packed"))]).stream();
  const files = await new Response(new XzReadableStream(packed)).text();
  for (const [, name, source] of files.matchAll(/([^\0]+)\0([^\0]*)/g)) {
    const parts = ["lib", ...name.split("/")];
    for (let depth = 1; depth < parts.length; depth++) {
      const folder_name = `/${parts.slice(0, depth).join("/")}`;
      if (!python.FS.analyzePath(folder_name).exists) python.FS.mkdir(folder_name);
    }
    python.FS.writeFile(`/${parts.join("/")}`, source);
  }
  const { call } = python.pyimport("tailslate.day.phone_door");
  const { base, hub } = JSON.parse(fs.readFileSync(path.join(folder, "edits.json"), "utf8"));
  const texts = [...base, ...hub];
  for (let start = 0; start < texts.length; start += 200) {
    const items = texts.slice(start, start + 200);
    const answer = JSON.parse(call(JSON.stringify({ do: "merge", day: "d7k2", items, cells: {} })));
    if (!answer.ok || answer.refused.length)
      throw new Error(`a fixture is no edit: ${JSON.stringify(answer.refused?.[0] ?? answer)}`);
  }
  return texts.length;
}
