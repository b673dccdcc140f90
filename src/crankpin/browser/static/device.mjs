/* What of the course is kept on this device, for use without a network.

   An edition is one published state of the whole site; its list (made by the build) names every file with the hash of
   its content. A file is stored only when its content has that hash, and an edition counts as kept only from the moment
   when all of it is stored: then its list is put in the place of the one before. So no page of one edition ever meets a
   file of another, and a download that broke off is taken up where it was left. One tab at a time changes what is kept.

   The service worker (browser/offline/keeper.js) answers from the edition named in the list. */

const ROOT = new URL("../../../", import.meta.url);
const SHELF = `crankpin ${encodeURIComponent(ROOT.pathname)} `; // keeper.js has the same
const LIST = `${SHELF}list`;
const ENTRY = new URL("list", ROOT).href;
const WORKER = new URL("offline.js", ROOT).href;
const KEPT = "crankpin-kept"; // the header of a stored file: its hash
const PAST_THE_WORKER = {"crankpin-fresh": "yes"}; // a request that keeper.js leaves to the network
const LANES = 4;
const PATIENCE = 30_000; // milliseconds without a byte
const GZIP = [0x1f, 0x8b];

export class KeepError extends Error {}

/** Why nothing can be kept from this address in this browser, in words for the reader; null when something can. */
export async function forbidden() {
  if (!isSecureContext) return "For use without a network, the course must be opened at an address that begins with https.";
  try {
    await caches.keys();
    await navigator.serviceWorker.getRegistration(ROOT);
    return null;
  } catch {
    return "The course cannot be kept in this browser for use without a network: a private window or a setting forbids it.";
  }
}

/** The edition that the host has now: its name and sizes; null when that cannot be had. */
export async function published() {
  try {
    const signal = AbortSignal.timeout(PATIENCE);
    const options = {cache: "no-cache", priority: "low", headers: PAST_THE_WORKER, signal};
    const response = await fetch(new URL("offline.json", ROOT), options);
    const news = await response.json();
    return response.ok && /^[0-9a-f]{16}$/.test(news.edition) ? news : null;
  } catch {
    return null;
  }
}

/** The edition of `news` with the list of its files. Throws KeepError in words for the reader. */
export async function listed(news) {
  const url = new URL(`offline.${news.edition}.json`, ROOT).href;
  try {
    const content = await read(await get(url, {signal: AbortSignal.timeout(PATIENCE)}), () => {});
    if (!(await hashOf(content)).startsWith(news.edition)) throw altered(new URL(url).pathname);
    return {...news, files: JSON.parse(new TextDecoder().decode(content))};
  } catch (error) {
    throw told(error);
  }
}

/** The list of the edition that is kept here, with the time `since` when it was; null when none is. */
export async function kept() {
  const list = await caches.match(ENTRY, {cacheName: LIST});
  if (!list || !(await ownRegistration())?.active) return null;
  return {...(await list.json()), since: new Date(list.headers.get("date"))};
}

/** The bytes of a listed edition that are on this device already, from one kept before or from a download that broke off. */
export async function arrived(list) {
  const shelves = await shelvesOf();
  const there = await Promise.all(list.files.map((file) => found(file, shelves)));
  return list.files.reduce((sum, {bytes}, i) => sum + (there[i] ? bytes : 0), 0);
}

/** Whether a download has left something here that is not a kept edition. */
export async function begun() {
  return (await shelvesOf()).length > 0;
}

/** Stores a whole edition and makes it the one that is answered from. `onProgress` is told the bytes that have come so
    far. Throws KeepError in words for the reader; what was kept before stays as it was then. The edition before stays on
    its shelf for pages that are open, until `tidy`. */
export function keep(list, {onProgress = () => {}, signal} = {}) {
  return alone(async () => {
    const before = await kept();
    const shelves = await shelvesOf();
    const fresh = await caches.open(SHELF + list.edition);
    navigator.storage?.persist?.();
    await fetchInto(fresh, list, {shelves, onProgress, signal});
    try {
      await register();
    } catch (error) {
      throw told(error);
    }
    if ((await missing(list)).length > 0) {
      throw new KeepError("The browser discarded part of the download: this device may be short of space. Try again.");
    }
    const date = new Date().toUTCString();
    const headers = {"content-type": "application/json", "crankpin-edition": list.edition, date};
    await (await caches.open(LIST)).put(ENTRY, new Response(JSON.stringify(list), {headers}));
    await forgetAllBut([LIST, SHELF + list.edition, ...(before ? [SHELF + before.edition] : [])]);
  });
}

/** Removes what is on no edition's shelf of these names, unless another tab is at work. */
export async function tidy(...editions) {
  await alone(() => forgetAllBut([LIST, ...editions.map((edition) => SHELF + edition)])).catch(() => {});
}

/** Asks the service worker for every file, as a page without a network would; returns the paths that failed.
    Null: this view of the page goes past the worker (a forced reload does that), so that nothing can be said. */
export async function check(list) {
  if (!(await controlled())) return null;
  const failed = await missing(list);
  const waiting = list.files.filter(({path}) => !failed.includes(path));
  const lane = async () => {
    for (let file = waiting.shift(); file; file = waiting.shift()) {
      try {
        const response = await fetch(new URL(file.path, ROOT));
        const good = response.headers.get(KEPT) === file.hash && (await digest(await response.arrayBuffer())) === file.hash;
        if (!good) failed.push(file.path);
      } catch {
        failed.push(file.path);
      }
    }
  };
  await Promise.all(Array.from({length: LANES}, lane));
  return failed;
}

/** Removes all that is kept of this site from this device, and the service worker. Throws KeepError. */
export function forget() {
  return alone(async () => {
    await (await ownRegistration())?.unregister();
    await forgetAllBut([]);
  });
}

/** Does what changes the shelves, while no other tab does. */
function alone(work) {
  return navigator.locks.request(LIST, {ifAvailable: true}, (lock) => {
    if (lock) return work();
    throw new KeepError("Another tab is saving or removing the course just now. Wait until it has finished.");
  });
}

async function shelvesOf() {
  const names = (await caches.keys()).filter((name) => name.startsWith(SHELF) && name !== LIST);
  return Promise.all(names.map((name) => caches.open(name)));
}

async function forgetAllBut(names) {
  const ours = (await caches.keys()).filter((name) => name.startsWith(SHELF) && !names.includes(name));
  await Promise.all(ours.map((name) => caches.delete(name)));
}

async function ownRegistration() {
  const found = await navigator.serviceWorker.getRegistration(ROOT);
  return found?.scope === ROOT.href ? found : undefined;
}

async function register() {
  const made = await navigator.serviceWorker.register(WORKER, {scope: ROOT.pathname, updateViaCache: "none"});
  const worker = made.active ?? made.waiting ?? made.installing;
  if (worker.state === "activated") return;
  await new Promise((go, refuse) => {
    worker.addEventListener("statechange", () => {
      if (worker.state === "activated") go();
      if (worker.state === "redundant") refuse(new KeepError("The browser did not start the helper that keeps the course."));
    });
  });
}

/** The paths of an edition that are not on its shelf. */
async function missing(list) {
  const name = SHELF + list.edition;
  const on = (await caches.has(name)) ? await (await caches.open(name)).keys() : [];
  const there = new Set(on.map(({url}) => url));
  return list.files.map(({path}) => path).filter((path) => !there.has(addressOf(path)));
}

async function controlled() {
  const ours = () => navigator.serviceWorker.controller?.scriptURL === WORKER;
  if (ours()) return true;
  await new Promise((go) => {
    navigator.serviceWorker.addEventListener("controllerchange", go, {once: true});
    setTimeout(go, 1000);
  });
  return ours();
}

/* Fetching. */

async function fetchInto(fresh, list, {shelves, onProgress, signal}) {
  const stop = new AbortController();
  signal?.addEventListener("abort", () => stop.abort(), {once: true});
  const overdue = new KeepError(
    `Nothing has arrived for ${PATIENCE / 1000} seconds. What has been downloaded so far will be used when you continue.`,
  );
  let timer = 0;
  let come = 0;
  const count = (bytes) => {
    clearTimeout(timer);
    timer = setTimeout(() => stop.abort(overdue), PATIENCE);
    come += bytes;
    onProgress(come);
  };
  const waiting = [...list.files].sort((one, other) => other.bytes - one.bytes);
  const lane = async () => {
    for (let file = waiting.shift(); file; file = waiting.shift()) {
      let ahead = 0;
      const arriving = (bytes) => {
        const more = Math.min(bytes, file.bytes - ahead);
        ahead += more;
        count(more);
      };
      await store(file, {shelves, fresh, arriving, signal: stop.signal});
      arriving(file.bytes);
    }
  };
  count(0);
  try {
    await Promise.all(Array.from({length: LANES}, lane));
  } catch (error) {
    const given = signal?.aborted
      ? new KeepError("Stopped. What has been downloaded so far will be used when you continue.")
      : stop.signal.reason instanceof KeepError ? stop.signal.reason : told(error);
    stop.abort();
    throw given;
  } finally {
    clearTimeout(timer);
  }
}

async function store(file, {shelves, fresh, arriving, signal}) {
  if (await found(file, [fresh])) return;
  const url = addressOf(file.path);
  const same = await found(file, shelves);
  if (same) {
    await fresh.put(url, same);
    return;
  }
  let got = await download(url, file, {arriving, signal, cache: "default"});
  if ((await digest(got.content)) !== file.hash) got = await download(url, file, {arriving, signal, cache: "reload"});
  if ((await digest(got.content)) !== file.hash) throw altered(file.path || "The first page");
  await fresh.put(url, new Response(got.content, {headers: {"content-type": got.type, [KEPT]: file.hash}}));
}

/** A file as it lies on one of these shelves already. */
async function found(file, shelves) {
  for (const shelf of shelves) {
    const same = await shelf.match(addressOf(file.path));
    if (same?.headers.get(KEPT) === file.hash) return same;
  }
  return null;
}

/** A file's own bytes and its type; from a host that does not compress, by way of its gzipped copy where there is one. */
async function download(url, file, {arriving, signal, cache}) {
  const plain = new AbortController();
  signal.addEventListener("abort", () => plain.abort(signal.reason), {once: true});
  const response = await get(url, {signal: plain.signal, cache});
  const type = response.headers.get("content-type") ?? "application/octet-stream";
  const packed = file.packed > 0 && !response.headers.has("content-encoding");
  const copy = packed ? await get(`${url}.gz`, {signal, cache}).catch(() => null) : null;
  signal.throwIfAborted();
  if (!copy) return {type, content: await read(response, arriving)};
  plain.abort();
  const share = file.bytes / file.packed;
  return {type, content: await unpacked(await read(copy, (bytes) => arriving(bytes * share)))};
}

async function get(url, options) {
  const response = await fetch(url, {...options, headers: PAST_THE_WORKER});
  if (response.status !== 200) {
    throw new KeepError(`${new URL(url).pathname} could not be fetched whole (the host answered ${response.status}).`);
  }
  return response;
}

async function read(response, arriving) {
  const parts = [];
  const reader = response.body.getReader();
  for (let next = await reader.read(); !next.done; next = await reader.read()) {
    parts.push(next.value);
    arriving(next.value.byteLength);
  }
  return new Blob(parts).arrayBuffer();
}

/** The content of a gzipped copy, which the browser may have unpacked already; what cannot be unpacked comes to nothing. */
async function unpacked(content) {
  const head = new Uint8Array(content.slice(0, 2));
  if (!GZIP.every((byte, i) => head[i] === byte)) return content;
  const stream = new Blob([content]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Response(stream).arrayBuffer().catch(() => new ArrayBuffer(0));
}

function addressOf(path) {
  return new URL(path, ROOT).href;
}

async function hashOf(content) {
  const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", content));
  return Array.from(hash, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

async function digest(content) {
  return (await hashOf(content)).slice(0, 32);
}

function altered(name) {
  return new KeepError(
    `${name} is not as it was published: the course has just changed, or the host alters it on the way. Try again; if it ` +
      "stays so, tell whoever looks after the course.",
  );
}

const IN_WORDS = {
  QuotaExceededError: "There is not enough space on this device. Free some, and try again.",
  SecurityError: "The course cannot be kept in this browser: a private window or a setting forbids it.",
};

function told(error) {
  if (error instanceof KeepError) return error;
  const words = IN_WORDS[error.name] ?? "The network or the host did not answer. What has been downloaded so far will be used when you continue.";
  return new KeepError(words);
}
