// Start reading the app here: the engine opens the stored day, the screens paint it, then the rules come up.
import { render } from "preact";
import * as day from "./day_signals";
import * as engine from "./engine/client";
import { followUpdates } from "./updates";

const root = document.getElementById("app");
if (!root) throw new Error("index.html has no element with the id app");

// For the console and for tests: the same door that the screens use.
Object.assign(globalThis, { tailslate: { ...engine, ...day } });

const opened = await engine.startEngine();
render(<h1>Tailslate</h1>, root);
root.dataset.opened = opened.state;
await followUpdates();
