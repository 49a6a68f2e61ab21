/// <reference lib="webworker" />
// Which files stay on the phone, and when they are replaced. Knows nothing of the day: no data passes here.
// W1 a new build waits until the person takes it. W2 only the app's own addresses are answered from the phone;
// never /api, /reset, /healthz or a download. W3 /sw.js keeps its name for ever.
import { cleanupOutdatedCaches, createHandlerBoundToURL, precacheAndRoute } from "workbox-precaching";
import { isAppRoute } from "./app_routes";

declare const self: ServiceWorkerGlobalScope & { __WB_MANIFEST: { url: string; revision: string | null }[] };

cleanupOutdatedCaches();
// No index for folders and no ".html" guessed: which addresses are the app's own, isAppRoute alone says.
precacheAndRoute(self.__WB_MANIFEST, { directoryIndex: "", cleanURLs: false });
const shell = createHandlerBoundToURL("/index.html");

self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.mode !== "navigate") return;
  const url = new URL(request.url);
  if (url.origin !== self.location.origin || !isAppRoute(url.pathname)) return;
  event.respondWith(shell({ event, request, url }));
});

self.addEventListener("message", (event) => {
  if (event.data === "take the new build") void self.skipWaiting();
});
