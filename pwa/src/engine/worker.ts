// The engine's worker. Its answers have the shape of contract.ts; nothing is stored yet.
import * as Comlink from "comlink";

Comlink.expose({});
