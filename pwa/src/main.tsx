// Start reading the app here: the engine opens the stored day, the screens paint it, then the rules come up.
import { render } from "preact";
import { App } from "./app";
import * as day from "./day_signals";
import * as engine from "./engine/client";
import * as pictures from "./pictures_now";
import { untilQuiet } from "./touch";
import * as updates from "./updates";

const root = document.getElementById("app");
if (!root) throw new Error("index.html has no element with the id app");

// For the console and for tests: the same door that the screens use.
Object.assign(globalThis, { tailslate: { ...engine, ...day, ...pictures, ...updates, untilQuiet } });

const opening = engine.startEngine();
render(<App opening={opening} />, root);
root.dataset.opened = (await opening).state;
await updates.followUpdates();
