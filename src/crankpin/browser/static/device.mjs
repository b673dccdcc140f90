/* What of the course is kept on this device, for use without a network.

   An edition is one published state of the whole site; its list (offline.json, made by the build) names every file with
   the hash of its content. A file is stored only when its content has that hash, and an edition counts as kept only from
   the moment when all of it is stored: then its list is put in the place of the one before. So no page of one edition
   ever meets a file of another, and a download that broke off is taken up where it was left.

   The service worker (browser/offline/keeper.js) answers from the edition named in the list. */

const ROOT = new URL("../../../", import.meta.url);
const SHELF = `crankpin ${encodeURIComponent(ROOT.pathname)} `; // keeper.js has the same
const LIST = `${SHELF}list`;
const ENTRY = new URL("list", ROOT).href;
const KEPT = "crankpin-kept"; // the header of a stored file: its hash
const PAST_THE_WORKER = {"crankpin-fresh": "yes"}; // a request that keeper.js leaves to the network
const LANES = 4;
const GZIP = [0x1f, 0x8b];

export class KeepError extends Error {}

/** Whether this browser can keep anything from this address: it must be https, or this machine itself. */
export function canKeep() {
  return isSecureContext && "serviceWorker" in navigator && "caches" in globalThis;
}

/** The list of the edition that the host has now; null when it cannot be had. */
export async function published() {
  try {
    const response = await fetch(new URL("offline.json", ROOT), {cache: "no-cache"});
    return response.ok ? await response.json() : null;
  } catch {
    return null;
  }
}

/** The list of the edition that is kept here, with the time `since` when it was; null when none is. */
export async function kept() {
  const list = await caches.match(ENTRY, {cacheName: LIST});
  if (!list || !(await ownRegistration())?.active) return null;
  return {...(await list.json()), since: new Date(list.headers.get("date"))};
}

/** The bytes that `list` would store anew beside what is kept already. */
export function changed(list, before) {
  const have = new Set((before?.files ?? []).map(({hash}) => hash));
  return list.files.reduce((sum, {hash, bytes}) => sum + (have.has(hash) ? 0 : bytes), 0);
}

/** Stores a whole edition and makes it the one that is answered from. `onProgress` is told the bytes stored so far.
    Throws KeepError in words for the reader; what was kept before stays as it was then. */
export async function keep(list, {onProgress = () => {}, signal} = {}) {
  const before = await kept();
  const old = before && (await caches.open(SHELF + before.edition));
  const fresh = await caches.open(SHELF + list.edition);
  navigator.storage?.persist?.();
  const waiting = [...list.files].sort((one, other) => other.bytes - one.bytes);
  const stop = new AbortController();
  signal?.addEventListener("abort", () => stop.abort(), {once: true});
  let stored = 0;
  const lane = async () => {
    for (let file = waiting.shift(); file; file = waiting.shift()) {
      let ahead = 0;
      const count = (bytes) => {
        ahead += bytes;
        stored += bytes;
        onProgress(stored);
      };
      await store(file, {old, fresh, count, signal: stop.signal});
      count(file.bytes - ahead);
    }
  };
  try {
    await Promise.all(Array.from({length: LANES}, lane));
    await register();
  } catch (error) {
    stop.abort();
    throw signal?.aborted ? new KeepError("Stopped. What has come so far is used when you go on.") : told(error);
  }
  const headers = {"content-type": "application/json", "crankpin-edition": list.edition, date: new Date().toUTCString()};
  await (await caches.open(LIST)).put(ENTRY, new Response(JSON.stringify(list), {headers}));
  await forgetAllBut(new Set([LIST, SHELF + list.edition]));
}

/** Asks the service worker for every file, as a page without a network would; returns the paths that failed.
    Null: this view of the page goes past the worker (a forced reload does that), so that nothing can be said. */
export async function check(list) {
  if (!(await controlled())) return null;
  const waiting = [...list.files];
  const failed = [];
  const lane = async () => {
    for (let file = waiting.shift(); file; file = waiting.shift()) {
      try {
        const response = await fetch(new URL(file.path, ROOT));
        const good = response.headers.get(KEPT) === file.hash && (await hashOf(await response.arrayBuffer())) === file.hash;
        if (!good) failed.push(file.path);
      } catch {
        failed.push(file.path);
      }
    }
  };
  await Promise.all(Array.from({length: LANES}, lane));
  return failed;
}

/** Removes all that is kept of this site from this device, and the service worker. */
export async function forget() {
  await (await ownRegistration())?.unregister();
  await forgetAllBut(new Set());
}

async function forgetAllBut(names) {
  const ours = (await caches.keys()).filter((name) => name.startsWith(SHELF) && !names.has(name));
  await Promise.all(ours.map((name) => caches.delete(name)));
}

async function ownRegistration() {
  const found = await navigator.serviceWorker.getRegistration(ROOT);
  return found?.scope === ROOT.href ? found : undefined;
}

async function register() {
  const url = new URL("offline.js", ROOT);
  const made = await navigator.serviceWorker.register(url, {scope: ROOT.pathname, updateViaCache: "none"});
  const worker = made.active ?? made.waiting ?? made.installing;
  if (worker.state === "activated") return;
  await new Promise((go, refuse) => {
    worker.addEventListener("statechange", () => {
      if (worker.state === "activated") go();
      if (worker.state === "redundant") refuse(new KeepError("The browser did not start the helper that keeps the course."));
    });
  });
}

async function controlled() {
  if (navigator.serviceWorker.controller) return true;
  await new Promise((go) => {
    navigator.serviceWorker.addEventListener("controllerchange", go, {once: true});
    setTimeout(go, 1000);
  });
  return navigator.serviceWorker.controller !== null;
}

/* One file. */

async function store(file, {old, fresh, count, signal}) {
  const url = new URL(file.path, ROOT).href;
  if ((await fresh.match(url))?.headers.get(KEPT) === file.hash) return;
  const same = await old?.match(url);
  if (same?.headers.get(KEPT) === file.hash) {
    await fresh.put(url, same);
    return;
  }
  let got = await download(url, file, {count, signal, cache: "default"});
  if ((await hashOf(got.content)) !== file.hash) got = await download(url, file, {count: () => {}, signal, cache: "reload"});
  if ((await hashOf(got.content)) !== file.hash) {
    throw new KeepError(`${file.path} is not as it was published. The course may have just changed: reload and try again.`);
  }
  await fresh.put(url, new Response(got.content, {headers: {"content-type": got.type, [KEPT]: file.hash}}));
}

/** A file's own bytes and its type; from a host that does not compress, by way of its gzipped copy where there is one. */
async function download(url, file, {count, signal, cache}) {
  const plain = new AbortController();
  const stop = () => plain.abort();
  signal.addEventListener("abort", stop, {once: true});
  let response = await get(url, {signal: plain.signal, cache});
  const type = response.headers.get("content-type") ?? "application/octet-stream";
  if (file.packed && !response.headers.has("content-encoding")) {
    plain.abort();
    response = await get(`${url}.gz`, {signal, cache});
    return {type, content: await unpacked(await read(response, () => {}))};
  }
  return {type, content: await read(response, count)};
}

async function get(url, options) {
  const response = await fetch(url, {...options, headers: PAST_THE_WORKER});
  if (response.status !== 200) {
    throw new KeepError(`${new URL(url).pathname} could not be fetched whole (the host answered ${response.status}).`);
  }
  return response;
}

async function read(response, count) {
  const parts = [];
  const reader = response.body.getReader();
  for (let next = await reader.read(); !next.done; next = await reader.read()) {
    parts.push(next.value);
    count(next.value.byteLength);
  }
  return new Blob(parts).arrayBuffer();
}

async function unpacked(content) {
  const head = new Uint8Array(content, 0, 2);
  if (!GZIP.every((byte, i) => head[i] === byte)) return content; // the browser has unpacked it already
  return new Response(new Blob([content]).stream().pipeThrough(new DecompressionStream("gzip"))).arrayBuffer();
}

async function hashOf(content) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", content));
  return Array.from(digest.subarray(0, 16), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

function told(error) {
  if (error instanceof KeepError) return error;
  if (error.name === "QuotaExceededError") {
    return new KeepError("There is not enough room on this device. Make some, and try again.");
  }
  return new KeepError("The network or the host did not answer. What has come so far is used when you try again.");
}
