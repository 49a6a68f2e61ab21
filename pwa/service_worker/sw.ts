/// <reference lib="webworker" />
// Which files stay on the phone, and when they are replaced. Knows nothing of the day: no data passes here.
// W1 a new build waits until the person takes it. W2 only the app's own addresses are answered from the phone;
// never /api, /reset, /healthz or a download. W3 /sw.js keeps its name for ever.
import { cleanupOutdatedCaches, PrecacheController } from "workbox-precaching";
import { isAppRoute } from "./app_routes";

declare const self: ServiceWorkerGlobalScope & { __WB_MANIFEST: { url: string; revision: string | null }[] };

cleanupOutdatedCaches();
// Without Workbox's router: an address is kept as it stands, or it is a way into the app, or it is let pass.
const kept = new PrecacheController();
kept.precache(self.__WB_MANIFEST);
const shell = kept.createHandlerBoundToURL("/index.html");

self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET") return;
  const url = new URL(request.url);
  const cacheKey = kept.getCacheKeyForURL(url.href);
  if (cacheKey) event.respondWith(kept.strategy.handle({ event, request, params: { cacheKey } }));
  else if (request.mode === "navigate" && url.origin === self.location.origin && isAppRoute(url.pathname))
    event.respondWith(shell({ event, request, url }));
});

self.addEventListener("message", (event) => {
  if (event.data === "take the new build") void self.skipWaiting();
});
