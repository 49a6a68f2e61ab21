// Ours: the engine in its worker (or, with ON_PAGE, on the page itself), the signals that screens read, the rules in Python.
import { applyNews, applyOpened, recordNow, recordsOf, shown } from "../../../pwa/src/day_signals";
import type { News, Opened, Value } from "../../../pwa/src/engine/contract";
import { textsOf } from "../../../pwa/src/engine/edit_lines";
import { Here } from "./engine_here";
import { measureWith, text } from "./measure.js";

declare const ON_PAGE: boolean;

type Call = (call: string, ...asked: unknown[]) => Promise<unknown>;
let call: Call;

function inWorker(): Call {
  const worker = new Worker("/made/dist/engine_worker.js", { type: "module" });
  const waiting = new Map<number, [(answer: unknown) => void, (error: Error) => void]>();
  let calls = 0;
  worker.onmessage = ({
    data,
  }: MessageEvent<{
    news?: News;
    number: number;
    answer: unknown;
    failed?: string;
  }>) => {
    if (data.news) return applyNews(data.news);
    const [resolve, reject] = waiting.get(data.number) ?? [];
    if (data.failed) reject?.(new Error(data.failed));
    else resolve?.(data.answer);
  };
  return (name, ...asked) =>
    new Promise((resolve, reject) => {
      waiting.set(++calls, [resolve, reject]);
      worker.postMessage({ number: calls, call: name, asked });
    });
}

function onPage(): Call {
  const here = new Here(applyNews);
  return async (name, ...asked) => (here[name as keyof Here] as (...asked: unknown[]) => unknown)(...asked);
}

const adapter = {
  starting_ms: 0,
  async init() {
    const start = performance.now();
    call = typeof ON_PAGE !== "undefined" && ON_PAGE ? onPage() : inWorker();
    await call("echo");
    adapter.starting_ms = performance.now() - start;
  },
  async seed(_name: string, what: "final" | "pending" | "base") {
    const { base, hub, before } = JSON.parse(await text("edits.json"));
    const own = what === "pending" ? JSON.parse(await text("pending.json")) : [];
    const texts = {
      final: [...base, ...hub],
      pending: [...base, ...hub.slice(0, before)],
      base,
    }[what];
    await call("seed", texts, own);
  },
  async open() {
    applyOpened((await call("open")) as Opened);
    return {};
  },
  ready: () => call("ready"),
  keys: () => recordsOf("task").value,
  get: (_state: object, key: string, field: string) => shown(recordNow(key)?.[field]),
  async act(_state: object, key: string, field: string, value: Value) {
    const [kind, record] = key.split("/");
    const painted = {
      [field]: (recordNow(key)?.[field]?.[1] ?? []).map(([id]) => id),
    };
    const [answer] = (await call("act", [{ kind, record, set: { [field]: value }, painted }])) as {
      saved: boolean;
    }[];
    if (!answer?.saved) throw new Error(JSON.stringify(answer));
  },
  loadDelta: async () => JSON.parse(await text("delta.json")),
  merge: (_state: object, lines: string[]) => call("take", textsOf(lines, "d7k2", "floor"), false),
  loadLogs: async () => JSON.parse(await text("logs.json")),
  mergeDay: (_state: object, logs: string[][]) => call("take", logs.flat(), false),
  several: () => call("several"),
  close: () => call("close"),
  more: { G: (count: number) => call("sheets", count), H: (count: number) => call("board", count) },
};
measureWith(adapter);
