/* The course's service worker: answers from the edition of the course that the reader has kept, and only from it.

   The page's script device.mjs does the rest: it fetches, checks and stores a whole edition, and then names it in the
   list; from that moment on this worker answers from it. It runs no Python, fetches nothing by itself, and leaves alone
   whatever is not in the list. The names of the stores begin with the site's path, as in device.mjs, because all sites
   of one host share one storage. */

const SCOPE = new URL(self.registration.scope);
const SHELF = `crankpin ${encodeURIComponent(SCOPE.pathname)} `;

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("fetch", (event) => {
  const {request} = event;
  const url = new URL(request.url);
  const ours = url.origin === SCOPE.origin && url.pathname.startsWith(SCOPE.pathname);
  if (!ours || request.method !== "GET" || request.headers.has("crankpin-fresh")) return;
  event.respondWith(answer(request, url));
});

async function answer(request, url) {
  const page = request.mode === "navigate";
  const kept = (await fromEdition(url)) ?? (page ? null : await fromEarlier(url));
  if (kept) return kept;
  try {
    return await fetch(request);
  } catch (error) {
    if (!page) throw error;
    return new Response(NOT_HERE, {status: 503, headers: {"content-type": "text/html; charset=utf-8"}});
  }
}

async function fromEdition(url) {
  const list = await caches.match(new URL("list", SCOPE), {cacheName: `${SHELF}list`});
  if (!list) return null;
  const cacheName = SHELF + list.headers.get("crankpin-edition");
  const plain = url.origin + url.pathname.replace(/(?<=\/)index\.html$/, "");
  const file = await caches.match(plain, {cacheName, ignoreVary: true});
  if (file || plain.endsWith("/")) return file;
  const folder = await caches.match(`${plain}/`, {cacheName, ignoreVary: true});
  return folder && Response.redirect(`${plain}/${url.search}`, 301);
}

/** What a page of an earlier edition, open while the reader changed to a newer one, may still ask for: files whose names
    the newer edition does not have. */
async function fromEarlier(url) {
  for (const cacheName of await caches.keys()) {
    if (!cacheName.startsWith(SHELF)) continue;
    const file = await caches.match(url.origin + url.pathname, {cacheName, ignoreVary: true});
    if (file?.headers.has("crankpin-kept")) return file;
  }
  return null;
}

const NOT_HERE = `<!doctype html>
<html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Not on this device</title>
<meta name="color-scheme" content="light dark">
<style>body { max-width: 34rem; margin: 0 auto; padding: 1.5rem; font: 1.1rem/1.5 Georgia, serif; }</style>
<h1>Not on this device</h1>
<p>There is no network, and this address is not among what is kept of the course on this device. Sheets for printing (PDF)
are not kept; a page may also have been renamed.</p>
<p><a href="${SCOPE.pathname}">The first page of the course</a></p>
</html>`;
