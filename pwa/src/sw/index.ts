/** The worker: keeps the shell for starting without signal. It never keeps answers of the API. */

import { install, isShellFile, tidy } from "./precache";
import { shellFile, shellPage } from "./strategies";

declare const self: ServiceWorkerGlobalScope;

const SERVICE_PATHS = /^\/(api|health|metrics)(\/|$)/;

self.addEventListener("install", (event) => event.waitUntil(install()));

self.addEventListener("activate", (event) => event.waitUntil(tidyWhenAlone(0)));

self.addEventListener("message", (event) => {
  if (event.data === "take over") event.waitUntil(self.skipWaiting());
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== "GET" || address.origin !== self.location.origin) return;
  if (SERVICE_PATHS.test(address.pathname)) return;
  if (request.mode === "navigate") {
    event.respondWith(shellPage(request));
    // The page that navigates counts still: beside it no other page may rest on an old cache.
    event.waitUntil(tidyWhenAlone(1));
    return;
  }
  if (isShellFile(address.pathname)) event.respondWith(shellFile(request));
});

/** An old cache goes only when no page of its version can be alive. */
async function tidyWhenAlone(most: number): Promise<void> {
  // A newer version has laid up its files and only waits: they must stay.
  if (self.registration.installing || self.registration.waiting) return;
  const pages = await self.clients.matchAll({ type: "window", includeUncontrolled: true });
  if (pages.length <= most) await tidy();
}
