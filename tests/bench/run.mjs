// Measures the engine beside Yjs and beside bare IndexedDB, in one run on one machine: rows A to I and K.
// node run.mjs (npm install first, here and in pwa/, and build the app: python pwa/hatch_build.py). Options by environment:
// ROUNDS=5 TICKS=300 STAGES=rounds,growth,slow,sizes,sheet,board,floor ROWS=BCDA SEED=7 CHROMIUM=/path. Absolute times mean little; the ratios count.
//  A  a stored day opened in a new browser process until every cell is read, no network
//  B  one act until its transaction is complete: 'strict' on both sides
//  C  50 own edits waiting, 500 of others come: merged and saved
//  D  the logs of eight devices, 10,000 edits, merged and saved
//  G  a whole sheet of 8 sources with 3 layers each, worked out again after an edit
//  H  the board after a tick on a day of 2,000 records: the shot of the tick worked out, then the board
//  K  a tick on a floor phone until a producer's browser shows it, both on one `tailslate demo` (TAILSLATE=/path to it)
//  E  bytes, gzipped   F  the app's download   I  A to C with ten times the records

import { execSync } from "node:child_process";
import fs from "node:fs";
import http from "node:http";
import os from "node:os";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";
import { buildPages, checkTexts } from "./build.mjs";
import { tickToBoard } from "./floor_to_board.mjs";
import { makeFixtures } from "./fixtures.mjs";
import { gzipped, median, quantile } from "./statistics.mjs";

const HERE = path.dirname(fileURLToPath(import.meta.url));
const ROUNDS = Number(process.env.ROUNDS ?? 5);
const TICKS = Number(process.env.TICKS ?? 300);
const ROWS = process.env.ROWS ?? "BCDA";
const SEED = Number(process.env.SEED ?? 7);
const STAGES = (process.env.STAGES ?? "rounds,growth,slow,sizes,sheet,board,floor").split(",");
const STATIC = path.join(HERE, "..", "..", "backend", "tailslate", "static");
const TYPES = {
  ".js": "text/javascript",
  ".json": "application/json",
  ".packed": "application/octet-stream",
  ".bin": "application/octet-stream",
};
const PEERS = {
  ours: ["ours", ""],
  "ours on the page": ["ours", "ON_PAGE = true"],
  yjs: ["yjs", ""],
  floor: ["floor", 'DURABILITY = "relaxed"'],
  "floor strict": ["floor", 'DURABILITY = "strict"'],
};

function serve(folders) {
  const server = http.createServer((request, response) => {
    const url = new URL(request.url, "http://here");
    if (url.pathname.startsWith("/made/")) {
      const file = [folders.now, path.join(HERE, "made")]
        .map((folder) => path.join(folder, url.pathname.slice(6)))
        .find(fs.existsSync);
      if (!file) return response.writeHead(404).end();
      response.writeHead(200, {
        "Content-Type": TYPES[path.extname(file)] ?? "text/plain",
      });
      return fs.createReadStream(file).pipe(response);
    }
    const [script, settings] = PEERS[decodeURIComponent(url.pathname.slice(1))] ?? [];
    const load = script
      ? `<script>${settings}</script><script type="module">await import("/made/dist/${script}.js"); await measure.init(); globalThis.is_up = true;</script>`
      : "";
    response.writeHead(200, { "Content-Type": "text/html" });
    response.end(`<!doctype html><link rel="icon" href="data:,">${load}`);
  });
  return new Promise((resolve) =>
    server.listen(0, "127.0.0.1", () =>
      resolve({ server, url: `http://127.0.0.1:${server.address().port}` }),
    ),
  );
}

const browser = (profile) =>
  chromium.launchPersistentContext(profile, {
    executablePath:
      process.env.CHROMIUM ?? execSync("command -v chromium", { shell: "/bin/sh" }).toString().trim(),
    headless: true,
    args: ["--no-sandbox", "--js-flags=--expose-gc"],
  });

async function onPage(context, url, peer, work, slow = 1) {
  const page = await context.newPage();
  page.on("pageerror", (error) => console.error(peer, error.message));
  page.on("console", (said) => said.type() === "error" && console.error(peer, said.text()));
  try {
    if (slow > 1)
      await (await context.newCDPSession(page)).send("Emulation.setCPUThrottlingRate", { rate: slow });
    await page.goto(`${url}/${encodeURIComponent(peer)}`);
    await page.waitForFunction(() => globalThis.is_up === true, null, {
      timeout: 60_000,
      polling: 20,
    });
    return await work(page);
  } finally {
    await page.close();
  }
}

const shuffled = (list) =>
  [...list]
    .map((one) => [Math.random(), one])
    .sort((a, b) => a[0] - b[0])
    .map(([, one]) => one);

/** One round: each peer in turn, in another order for each row, on a profile of its own on the disk. */
async function round(url, peers, record, { rows = ROWS, slow = 1, ticks = TICKS } = {}) {
  const profile = fs.mkdtempSync(path.join(os.tmpdir(), "tailslate-bench-"));
  let context = await browser(profile);
  const seeded = (peer, what, work) =>
    onPage(context, url, peer, (page) => page.evaluate((what) => measure.seed("bench", what), what)).then(
      () => onPage(context, url, peer, work, slow),
    );
  const fresh = async (peer, what, work) => {
    const answer = await seeded(peer, what, work);
    return answer;
  };
  try {
    for (const row of rows) {
      if (row === "A") continue;
      for (const peer of shuffled(peers)) {
        await clear(context, url);
        if (row === "B") {
          const times = await fresh(peer, "final", (page) =>
            page.evaluate((count) => measure.B("bench", count), ticks),
          );
          record(peer, "B p50", quantile(times, 0.5));
          record(peer, "B p95", quantile(times, 0.95));
        } else if (row === "C") {
          const { ms, cells } = await fresh(peer, "pending", (page) =>
            page.evaluate(() => measure.C("bench")),
          );
          record(peer, "C", ms);
          record(peer, "C cells", cells);
        } else {
          const { ms, cells, several } = await fresh(peer, "base", (page) =>
            page.evaluate(() => measure.D("bench")),
          );
          record(peer, "D", ms);
          record(peer, "D cells", cells);
          if (several !== undefined) record(peer, "D several", several);
        }
      }
    }
    if (!rows.includes("A")) return;
    for (const peer of shuffled(peers)) {
      await clear(context, url);
      await onPage(context, url, peer, (page) => page.evaluate(() => measure.seed("bench", "final")));
      await context.close();
      context = await browser(profile);
      const blank = await context.newPage();
      await blank.goto(`${url}/blank`);
      await blank.close();
      const { ms, cells, starting_ms } = await onPage(
        context,
        url,
        peer,
        (page) => page.evaluate(() => measure.A("bench")),
        slow,
      );
      record(peer, "A", ms);
      record(peer, "A cells", cells);
      if (starting_ms) record(peer, "A worker started", starting_ms);
    }
  } finally {
    await context.close();
    fs.rmSync(profile, { recursive: true, force: true });
  }
}

/** No database of another row is left. */
async function clear(context, url) {
  const page = await context.newPage();
  await page.goto(`${url}/blank`);
  await page.evaluate(async () => {
    for (const { name } of await indexedDB.databases()) {
      await new Promise((resolve, reject) => {
        const asked = indexedDB.deleteDatabase(name);
        asked.onsuccess = resolve;
        asked.onerror = asked.onblocked = () => reject(new Error(`${name} is held`));
      });
    }
  });
  await page.close();
}

function collector() {
  const found = new Map();
  const record = (peer, key, value) => {
    const name = `${peer}|${key}`;
    found.set(name, [...(found.get(name) ?? []), value]);
  };
  const of = (peer, key) => found.get(`${peer}|${key}`) ?? [];
  return { record, of, middle: (peer, key) => median(of(peer, key)) };
}

const shown = (values) =>
  values.length
    ? `${median(values).toFixed(1)} (${Math.min(...values).toFixed(1)} to ${Math.max(...values).toFixed(1)})`
    : "-";

function table(collected, peers, keys) {
  const lines = [`| | ${keys.join(" | ")} |`, `|---|${keys.map(() => "---").join("|")}|`];
  for (const peer of peers)
    lines.push(`| ${peer} | ${keys.map((key) => shown(collected.of(peer, key))).join(" | ")} |`);
  return lines.join("\n");
}

/** The app as a phone downloads it, gzipped: what the service worker keeps. */
function download() {
  const worker = fs.readFileSync(path.join(STATIC, "sw.js"), "utf8");
  const files = [...worker.matchAll(/"?url"?:\s*"([^"]+)"/g)].map(([, url]) => url);
  const sizes = files.map((file) => [file, gzipped(fs.readFileSync(path.join(STATIC, file)))]);
  return {
    sizes,
    all: sizes.reduce((sum, [, size]) => sum + size, gzipped(worker)),
  };
}

const verdicts = [];
function hold(row, said, value, limit) {
  verdicts.push(
    `${value <= limit ? "holds " : "FAILS "} ${row}: ${said} ${value.toFixed(2)}, at most ${limit}`,
  );
}

await buildPages();
const made = path.join(HERE, "made", `seed${SEED}`);
const grown = path.join(HERE, "made", `seed${SEED}x10`);
if (!fs.existsSync(path.join(made, "sizes.json"))) makeFixtures(made, { seed: SEED });
if (!fs.existsSync(path.join(grown, "sizes.json")))
  makeFixtures(grown, { seed: SEED, scale: 10, with_yjs: false });
console.log(`${await checkTexts(made)} texts, all of them edits to the rules`);
const folders = { now: made };
const { server, url } = await serve(folders);
const report = [
  `# ${new Date().toISOString()}, ${os.cpus().length} x ${os.cpus()[0].model}, load ${os.loadavg()[0].toFixed(1)}`,
];
const normal = collector();

if (STAGES.includes("rounds")) {
  const peers = ["ours", "yjs", "floor", "floor strict"];
  for (let count = 0; count < ROUNDS; count++) {
    await round(url, peers, normal.record);
    console.log(`round ${count + 1} of ${ROUNDS}`);
  }
  report.push(
    "\n## A to D, ms: median (least to most)",
    table(normal, peers, ["A", "A worker started", "B p50", "B p95", "C", "D"]),
  );
  const cells = new Set(
    ["A cells", "C cells", "D cells"].flatMap((key) => normal.of("ours", key).map((one) => `${key} ${one}`)),
  );
  report.push(
    `cells read: ${[...cells].join(", ")}; fields with several answers after D: ${normal.of("ours", "D several")[0]}`,
  );
  hold("A", "ours / yjs", normal.middle("ours", "A") / normal.middle("yjs", "A"), 0.5);
  hold(
    "B",
    "p95, ours / floor, both strict",
    normal.middle("ours", "B p95") / normal.middle("floor strict", "B p95"),
    3,
  );
  hold("C", "ours / yjs", normal.middle("ours", "C") / normal.middle("yjs", "C"), 2);
  hold("D", "ours / yjs", normal.middle("ours", "D") / normal.middle("yjs", "D"), 1.5);
}
if (STAGES.includes("growth")) {
  const small = collector();
  const large = collector();
  for (let count = 0; count < Math.max(3, Math.ceil(ROUNDS / 2)); count++) {
    await round(url, ["ours"], small.record, { rows: "BCA" });
    folders.now = grown;
    await round(url, ["ours"], large.record, { rows: "BCA" });
    folders.now = made;
  }
  const keys = ["A", "B p95", "C"];
  report.push(
    "\n## I: 20,000 records against 2,000, ms",
    "2,000",
    table(small, ["ours"], keys),
    "20,000",
    table(large, ["ours"], keys),
  );
  for (const [key, limit] of [
    ["A", 8],
    ["B p95", 1.5],
    ["C", 1.5],
  ])
    hold("I", `${key}, 20,000 / 2,000`, large.middle("ours", key) / small.middle("ours", key), limit);
}
if (STAGES.includes("slow")) {
  const slow = collector();
  for (let count = 0; count < 3; count++)
    await round(url, ["ours", "ours on the page"], slow.record, {
      slow: 4,
      ticks: 100,
    });
  report.push(
    "\n## With the page four times slower, ms",
    table(slow, ["ours", "ours on the page"], ["A", "B p50", "B p95", "C", "D"]),
  );
  hold("B", "an act saved and told to the page, 4 times slower, p95 ms", slow.middle("ours", "B p95"), 50);
}
if (STAGES.includes("sheet")) {
  const found = [];
  for (const [peer, slow, limit] of [
    ["ours", 1, 50],
    ["ours on the page", 1, 50],
    ["ours on the page", 4, 200],
  ]) {
    const profile = fs.mkdtempSync(path.join(os.tmpdir(), "tailslate-bench-"));
    const context = await browser(profile);
    const times = await onPage(
      context,
      url,
      peer,
      (page) => page.evaluate((count) => measure.more.G(count), 25),
      slow,
    );
    await context.close();
    fs.rmSync(profile, { recursive: true, force: true });
    const name = slow > 1 ? `${peer}, ${slow} times slower` : peer;
    found.push(`- ${name}: ${shown(times)}`);
    hold("G", `a sheet after an edit, ${name}, ms`, median(times), limit);
  }
  report.push("\n## G: a whole sheet after an edit, ms: median (least to most)", ...found);
}
if (STAGES.includes("board")) {
  const found = [];
  for (const [peer, slow, limit] of [
    ["ours", 1, 30],
    ["ours on the page", 4, 120],
  ]) {
    const profile = fs.mkdtempSync(path.join(os.tmpdir(), "tailslate-bench-"));
    const context = await browser(profile);
    const times = await onPage(
      context,
      url,
      peer,
      (page) => page.evaluate((count) => measure.more.H(count), 24),
      slow,
    );
    await context.close();
    fs.rmSync(profile, { recursive: true, force: true });
    const name = slow > 1 ? `${peer}, ${slow} times slower` : peer;
    const each = ["shot", "board", "both", "forecast"].map((what) => `${what} ${shown(times[what])}`);
    found.push(`- ${name}: ${each.join(", ")}; ${times.records[0]} records, ${median(times.ranges)} ranges`);
    hold("H", `the shot of a tick and the board, ${name}, ms`, median(times.both), limit);
  }
  report.push("\n## H: the board after a tick, ms: median (least to most)", ...found);
}
if (STAGES.includes("floor")) {
  const times = await tickToBoard(browser, 5);
  report.push(
    "\n## K: from a tick on the floor to the producer's browser, ms: median (least to most)",
    `- ${shown(times)}`,
  );
  hold("K", "a tick on the floor shown on the board, s", median(times) / 1000, 2);
}
if (STAGES.includes("sizes")) {
  const sizes = JSON.parse(fs.readFileSync(path.join(made, "sizes.json"), "utf8"));
  report.push(
    "\n## E: bytes, gzipped",
    ...Object.entries(sizes).map(([name, size]) => `- ${name}: ${(size / 1024).toFixed(1)} KB`),
  );
  hold("E", "500 edits, KB", sizes["500 edits, as an exchange carries them"] / 1024, 20);
  hold("E", "the day, KB", sizes["the day with all its history"] / 1024, 450);
  if (fs.existsSync(path.join(STATIC, "sw.js"))) {
    const found = download();
    report.push(
      "\n## F: the app's download, gzipped",
      ...found.sizes
        .filter(([, size]) => size > 2048)
        .map(([file, size]) => `- ${file}: ${(size / 1024).toFixed(1)} KB`),
    );
    hold("F", "the whole app, KB", found.all / 1024, 450);
  }
}
report.push("\n## Against the budgets", ...verdicts.map((line) => `- ${line}`));
fs.writeFileSync(path.join(HERE, "made", "report.md"), `${report.join("\n")}\n`);
console.log(report.join("\n"));
server.close();
