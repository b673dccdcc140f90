/* Stands in the service worker's place when a course is no longer to be kept on readers' devices: a browser that has
   the worker finds this at its next visit, forgets what was kept of this site, and takes the worker away. */

const SHELF = `crankpin ${encodeURIComponent(new URL(self.registration.scope).pathname)} `;

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(forget()));

async function forget() {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith(SHELF)).map((name) => caches.delete(name)));
  await self.registration.unregister();
}
