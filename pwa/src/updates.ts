// The app's own renewal: a new build is offered, and taken when the person says so. Never while someone types.
import { type ReadonlySignal, signal } from "@preact/signals";

const LEAST_PAUSE_MS = 60_000;

const waiting = signal<ServiceWorker | null>(null);
const offered = signal(false);
/** A new build is on the phone and waits to be taken. */
export const update_offered: ReadonlySignal<boolean> = offered;

let looked_ms = 0;

/** Take the new build: the page is loaded again from it. */
export function takeUpdate(): void {
  if (!waiting.value) return;
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
  waiting.value.postMessage("take the new build");
}

function offer(worker: ServiceWorker | null): void {
  // Without a controller this is the first install, which replaces nothing.
  if (!worker || !navigator.serviceWorker.controller) return;
  waiting.value = worker;
  offered.value = true;
}

function look(registration: ServiceWorkerRegistration): void {
  if (document.visibilityState !== "visible" || Date.now() - looked_ms < LEAST_PAUSE_MS) return;
  looked_ms = Date.now();
  registration.update().catch(() => {
    looked_ms = 0; // no signal: look again when the app next comes into sight
  });
}

/** Null where the browser refuses: the app works, but does not open without a network. */
async function register(): Promise<ServiceWorkerRegistration | null> {
  try {
    return (await navigator.serviceWorker.register("/sw.js", { updateViaCache: "none" })) ?? null;
  } catch (error) {
    console.warn("The app is not kept on this phone", error);
    return null;
  }
}

/** Register the service worker, and look for a new build at the start and whenever the app comes into sight. */
export async function followUpdates(): Promise<void> {
  if (!("serviceWorker" in navigator) || import.meta.env.DEV) return;
  const registration = await register();
  if (!registration) return;
  offer(registration.waiting);
  registration.addEventListener("updatefound", () => {
    const coming = registration.installing;
    coming?.addEventListener("statechange", () => {
      if (coming.state === "installed") offer(coming);
    });
  });
  look(registration);
  document.addEventListener("visibilitychange", () => look(registration));
  addEventListener("pageshow", () => look(registration));
}
