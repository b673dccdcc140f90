/* Starts the course's Python in a module worker.

   import {boot, BootError} from "./boot.mjs";
   const python = await boot({base, manifest, onProgress});

   base        URL (or path, resolved against this module) of the folder that holds the runtime's files.
   manifest    the object in that folder's manifest.json (given, it saves a round trip), or left out:
               then boot fetches `manifest.json` from the folder first.
   onProgress  called with one plain object, fit for postMessage:
                 {stage: "fetching", loaded, total}   bytes after decompression, counted as they arrive,
                                                      against the sizes in the manifest
                 {stage: "starting", loaded, total}   all is here; the engine compiles and Python starts
                 {stage: "ready", loaded, total, urls, notes}
               `urls` are the addresses really used (what a service worker should keep for offline use);
               `notes` are sentences about the host for whoever looks after the site.
   stallSeconds  give up when nothing has moved for so long (30).
   io          {fetch, load}: how to fetch and how to import a module; for tests only.

   Returns Pyodide's object, with the course's packages importable. It never hangs: it throws a BootError,
   whose `code` is one of
     manifest     the manifest is missing or is not one
     missing      a file is not on the host (404 and the like)
     wrong-file   something else came in its place, mostly a host's HTML page
     incomplete   the file ended early
     unreachable  the network or the host did not answer
     stalled      nothing arrived for `stallSeconds`
     script       the browser refused a .mjs file (absent, or sent with the wrong MIME type)
     engine       the browser cannot compile or start the engine
     python       Python itself did not start
   and whose `message` says what was wrong, with the file's name, and what to do. `file` is that name.

   Each file is asked for plain. A host that compresses says so in Content-Encoding; from one that does
   not, the gzipped copy beside it is taken and unpacked here. The type a host gives a .wasm does not
   matter. Nothing needs eval or blob: `script-src 'self' 'wasm-unsafe-eval'` is enough. */

export class BootError extends Error {
  constructor(code, message, {file = null, cause} = {}) {
    super(message, {cause});
    this.name = "BootError";
    this.code = code;
    this.file = file;
  }
}

const BROWSER = {
  fetch: (url, options) => fetch(url, options),
  load: (url) => import(url),
};

const WASM_TYPE = "application/wasm";
const GZIP = [0x1f, 0x8b];
const TELL_EVERY = 100; // milliseconds between two words on bytes
const MAGIC = {wasm: [0x00, 0x61, 0x73, 0x6d], zip: [0x50, 0x4b, 0x03, 0x04]};

export async function boot({base, manifest = null, onProgress = () => {}, stallSeconds = 30, io = BROWSER}) {
  const watch = watchdog(stallSeconds);
  const cancel = new AbortController();
  const folder = new URL(base.endsWith("/") ? base : `${base}/`, import.meta.url);
  const started = start({folder, manifest, onProgress, io, watch, signal: cancel.signal});
  try {
    return await Promise.race([started, watch.stalled]);
  } catch (error) {
    started.catch(() => {});
    cancel.abort();
    throw error;
  } finally {
    watch.stop();
  }
}

async function start({folder, manifest, onProgress, io, watch, signal}) {
  const host = {folder, io, watch, signal, urls: [], notes: []};
  const {files, modules, emptied, lock_info} = manifest ?? (await readManifest(host));
  const tally = counter(Object.values(files), onProgress, host);

  // Everything is asked for before anything is awaited.
  const engine = takeEngine(files.wasm, host, tally);
  const library = takeLibrary(files.python, host, tally);
  const scripts = Promise.all([script(files.loader, host, tally), script(files.engine, host, tally)]);
  const arrived = Promise.all([scripts, engine, library]);
  arrived.then(() => tally.report("starting"), () => {});

  let refuse;
  const refused = new Promise((_, reject) => (refuse = reject));
  refused.catch(() => {});
  arrived.catch(refuse);
  const [loader, factory] = await scripts;
  const loading = loader.loadPyodide({
    indexURL: folder.href,
    createPyodideModule: factory.default,
    instantiate: instantiator(engine, refuse),
    stdLibURL: library,
    lockFileContents: {info: lock_info, packages: {}},
    packageBaseUrl: folder.href,
  });
  loading.catch(() => {});
  try {
    const python = await Promise.race([loading, refused]);
    python.pyimport("course_imports").install(modules, emptied);
    tally.report("ready", {urls: host.urls, notes: host.notes});
    return python;
  } catch (error) {
    if (error instanceof BootError) throw error;
    throw new BootError("python", `Python did not start: ${error.message}`, {cause: error});
  }
}

async function readManifest(host) {
  const file = "manifest.json";
  const response = await get(file, host, {cache: "no-cache"});
  try {
    const manifest = await response.json();
    if (manifest.files.wasm && manifest.modules) return manifest;
  } catch (error) {
    if (host.signal.aborted) throw error;
  }
  throw new BootError("manifest", `${file} is not a runtime's manifest. Publish the runtime's folder again.`, {file});
}

/* Bytes. */

/** Counts what arrives and tells it, until the boot is given up. */
function counter(files, onProgress, {watch, signal}) {
  const total = files.reduce((sum, file) => sum + file.raw, 0);
  let loaded = 0;
  let told = -TELL_EVERY;
  const report = (stage, more = {}) => {
    if (!signal.aborted) onProgress({stage, loaded, total, ...more});
  };
  return {
    report,
    add(bytes) {
      loaded += bytes;
      watch.alive();
      if (performance.now() - told < TELL_EVERY) return;
      told = performance.now();
      report("fetching");
    },
  };
}

/** Asks for one name in the folder; resolves to a good Response or throws what was wrong with it. */
async function get(name, host, options = {}) {
  let response;
  try {
    response = await host.io.fetch(new URL(name, host.folder).href, {signal: host.signal, ...options});
  } catch (error) {
    const message = `${name} could not be fetched. Check the connection and try again.`;
    throw new BootError("unreachable", message, {file: name, cause: error});
  }
  host.watch.alive();
  if (!response.ok) {
    const message = `${name} is not on this host (it answered ${response.status}). Publish the whole runtime folder.`;
    throw new BootError("missing", message, {file: name});
  }
  return response;
}

/** A file that this browser still has, whole and as the host sent it; null where it has none. There is then nothing to
    wait for and to count. */
async function stillHere(file, host) {
  const known = {signal: host.signal, cache: "only-if-cached", mode: "same-origin"};
  const response = await host.io.fetch(new URL(file.name, host.folder).href, known).catch(() => null);
  return response?.ok ? response : null;
}

/** Notes that a file which was still here is used, whole. */
function useWhole(file, host, tally) {
  host.urls.push(new URL(file.name, host.folder).href);
  tally.add(file.raw);
}

/** The compiled engine. A browser keeps what it compiled only from a response as it came from the host: where that is
    fit to compile, a copy of it is checked and counted. */
async function takeEngine(file, host, tally) {
  const here = await stillHere(file, host);
  if (fitToCompile(here)) {
    const compiled = await WebAssembly.compileStreaming(here).catch(() => null);
    if (compiled) {
      useWhole(file, host, tally);
      return compiled;
    }
  }
  const chosen = await choose(file, host);
  const {response} = chosen;
  if (chosen.name !== file.name || !fitToCompile(response)) return use(chosen, file, MAGIC.wasm, host, tally, compile);
  const checked = use({...chosen, response: response.clone()}, file, MAGIC.wasm, host, tally, drained);
  const compiled = compileAsItComes(response);
  compiled.catch(() => {});
  await checked; // what is wrong with the file says more than what the compiler made of it
  return compiled;
}

function fitToCompile(response) {
  return response?.headers.get("content-type") === WASM_TYPE;
}

/** The library's bytes. */
async function takeLibrary(file, host, tally) {
  const here = await stillHere(file, host);
  const bytes = new Uint8Array(await (here ?? new Response()).arrayBuffer().catch(() => new ArrayBuffer()));
  if (bytes.length === file.raw && begins(bytes, MAGIC.zip)) {
    useWhole(file, host, tally);
    return bytes;
  }
  return use(await choose(file, host), file, MAGIC.zip, host, tally, bytesOf);
}

async function use({name, response}, file, magic, host, tally, make) {
  host.urls.push(new URL(name, host.folder).href);
  // A stream's reader may hand on an error of its own making: the first one here is the true one.
  let fault = null;
  const fail = (code, message, cause) => {
    fault ??= new BootError(code, `${name} ${message}`, {file: name, cause});
    throw fault;
  };
  try {
    let [first, body] = await peek(response.body, fail);
    if (begins(first, GZIP)) [first, body] = await peek(body.pipeThrough(new DecompressionStream("gzip")), fail);
    if (!begins(first, magic)) {
      const type = response.headers.get("content-type") ?? "unknown";
      fail("wrong-file", `is something else (the host sent type ${type}). Publish the runtime's folder again.`);
    }
    return await make(body.pipeThrough(counting(file, tally, fail)));
  } catch (error) {
    throw fault ?? error;
  }
}

/** The plain file from a host that compresses it or from what is kept on this device, else the gzipped copy, else the plain file after all. */
async function choose(file, host) {
  const peeking = new AbortController();
  const stop = () => peeking.abort();
  host.signal.addEventListener("abort", stop, {once: true});
  let fault = null;
  try {
    const response = await get(file.name, host, {signal: peeking.signal});
    const {headers} = response;
    if (headers.has("content-encoding") || headers.has("crankpin-kept")) return {name: file.name, response};
    peeking.abort();
    host.notes.push(`This host does not compress ${file.name}; its gzipped copy was fetched.`);
  } catch (error) {
    fault = error;
  }
  try {
    return {name: file.packed.name, response: await get(file.packed.name, host)};
  } catch {
    if (fault) throw fault;
    return {name: file.name, response: await get(file.name, host)};
  }
}

function begins(chunk, magic) {
  return chunk !== undefined && magic.every((byte, i) => chunk[i] === byte);
}

/** The first chunk (undefined when there is none) and a stream that still has it. */
async function peek(body, fail) {
  const reader = body.getReader();
  const read = () => reader.read().catch((error) => fail("incomplete", "broke off on the way. Try again.", error));
  const head = await read();
  let pending = head;
  const whole = new ReadableStream({
    async pull(controller) {
      const {done, value} = pending ?? (await read());
      pending = null;
      if (done) controller.close();
      else controller.enqueue(value);
    },
    cancel: (reason) => reader.cancel(reason),
  });
  return [head.value, whole];
}

function counting(file, tally, fail) {
  let seen = 0;
  return new TransformStream({
    transform(chunk, controller) {
      seen += chunk.byteLength;
      tally.add(chunk.byteLength);
      controller.enqueue(chunk);
    },
    flush() {
      if (seen !== file.raw) fail("incomplete", `has ${seen} bytes instead of ${file.raw}. Try again.`);
    },
  });
}

async function bytesOf(stream) {
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

async function drained(stream) {
  const reader = stream.getReader();
  while (!(await reader.read()).done);
}

/* The engine. */

function compile(stream) {
  return compileAsItComes(new Response(stream, {headers: {"content-type": WASM_TYPE}}));
}

async function compileAsItComes(response) {
  try {
    return await WebAssembly.compileStreaming(response);
  } catch (error) {
    throw new BootError("engine", `This browser could not compile the engine: ${error.message}`, {cause: error});
  }
}

function instantiator(engine, refuse) {
  return (errorImports) => (imports, done) => {
    Promise.all([engine, errorImports()])
      .then(async ([module, {Jsv_GetError_import, JsvError_Check}]) => {
        Object.assign(imports.env, {Jsv_GetError_import, JsvError_Check});
        done(await WebAssembly.instantiate(module, imports), module);
      })
      .catch((error) => {
        if (error instanceof BootError) refuse(error);
        else refuse(new BootError("engine", `The engine did not start: ${error.message}`, {cause: error}));
      });
    return {};
  };
}

async function script(file, host, tally) {
  const url = new URL(file.name, host.folder).href;
  host.urls.push(url);
  let module;
  try {
    module = await host.io.load(url);
  } catch (error) {
    const response = await get(file.name, host); // throws when the file is missing, and says so
    const type = response.headers.get("content-type") ?? "no type";
    const message = `The browser refused ${file.name}, sent as ${type}. The host must send .mjs files as text/javascript.`;
    throw new BootError("script", message, {file: file.name, cause: error});
  }
  tally.add(file.raw);
  return module;
}

/* Time. */

/** `stalled` rejects when `alive` has not been called for `seconds`, not counting time spent computing. */
function watchdog(seconds) {
  const limit = seconds * 1000;
  let timer;
  let due;
  let give;
  const stalled = new Promise((_, reject) => (give = reject));
  stalled.catch(() => {});
  const look = () => {
    // A timer that fires late was held up by work on this thread, not by the network.
    if (performance.now() - due > 1000) alive();
    else give(new BootError("stalled", `Nothing has arrived for ${seconds} s. Check the connection and try again.`));
  };
  const alive = () => {
    clearTimeout(timer);
    due = performance.now() + limit;
    timer = setTimeout(look, limit);
  };
  alive();
  return {stalled, alive, stop: () => clearTimeout(timer)};
}
