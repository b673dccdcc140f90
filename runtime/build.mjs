// Builds the Python that runs on a page: node runtime/build.mjs [folder]
// Takes the pinned Pyodide from node_modules and crankpin's own sources; writes content-named files and
// manifest.json into src/crankpin/browser/runtime_files/. Does nothing when no input has changed.

import {createHash} from "node:crypto";
import {existsSync, mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync} from "node:fs";
import {join, resolve} from "node:path";
import {fileURLToPath} from "node:url";
import {brotliCompressSync, constants, gzipSync} from "node:zlib";
import {loadPyodide} from "pyodide";
import {pruneEngine} from "./engine.mjs";
import {changeLoader} from "./loader.mjs";
import {ownSources, sourcesHash} from "./sources.mjs";

const HERE = fileURLToPath(new URL(".", import.meta.url));
const PYODIDE = fileURLToPath(new URL("../node_modules/pyodide/", import.meta.url));
const PRODUCT = fileURLToPath(new URL("../src/crankpin/browser/runtime_files/", import.meta.url));

const vendor = (name) => readFileSync(join(PYODIDE, name));
const sha256 = (...parts) => parts.reduce((hash, part) => hash.update(part), createHash("sha256")).digest("hex");

/** One hash over everything the product is made from. */
function inputHash(sources) {
  const scripts = readdirSync(HERE).filter((name) => /\.(mjs|py|json)$/.test(name)).sort();
  const packages = ["pyodide", "binaryen"].map((name) => readFileSync(join(HERE, "../node_modules", name, "package.json")));
  return sha256(...scripts.map((name) => readFileSync(join(HERE, name))), ...packages, sourcesHash(sources));
}

function isCurrent(folder, inputs) {
  const manifest = readManifest(folder);
  if (manifest?.inputs !== inputs) return false;
  return Object.values(manifest.files).every((file) =>
    [file.name, file.packed?.name].every((name) => name === undefined || existsSync(join(folder, name))),
  );
}

function readManifest(folder) {
  try {
    return JSON.parse(readFileSync(join(folder, "manifest.json"), "utf8"));
  } catch {
    return null;
  }
}

/** The zip of bytecode, made by the very Python that will read it. */
async function libraryZip(groups, sources) {
  const python = await loadPyodide({indexURL: PYODIDE, env: {PYTHONHASHSEED: "0"}});
  python.FS.writeFile("compile_modules.py", readFileSync(join(HERE, "compile_modules.py"), "utf8"));
  const modules = groups.flatMap((group) => group.modules);
  const own = Object.fromEntries(sources.map(([path, bytes]) => [path, bytes.toString("utf8")]));
  own["course_imports.py"] = readFileSync(join(HERE, "course_imports.py"), "utf8");
  const {library_zip: make} = python.pyimport("compile_modules");
  const bytes = make(python.toPy(modules), python.toPy(own));
  return Buffer.from(bytes.toJs());
}

/** Writes a file under a name that carries its hash, with a gzipped copy where asked; returns its entry. */
function publish(folder, stem, suffix, bytes, {packed}) {
  const name = `${stem}${sha256(bytes).slice(0, 12)}${suffix}`;
  const gzip = gzipSync(bytes, {level: 9});
  const brotli = brotliCompressSync(bytes, {params: {[constants.BROTLI_PARAM_SIZE_HINT]: bytes.length}});
  writeFileSync(join(folder, name), bytes);
  const entry = {name, raw: bytes.length, gzip: gzip.length, brotli: brotli.length};
  if (packed) {
    entry.packed = {name: `${name}.gz`, raw: gzip.length};
    writeFileSync(join(folder, entry.packed.name), gzip);
  }
  return entry;
}

async function build(folder) {
  const sources = ownSources();
  const inputs = inputHash(sources);
  if (isCurrent(folder, inputs)) {
    console.log("The browser runtime is up to date.");
    return;
  }
  console.log("Building the browser runtime (some 20 s):");
  const groups = JSON.parse(readFileSync(join(HERE, "allowed_modules.json"), "utf8"));
  console.log("  compiling the library and crankpin's packages");
  const library = await libraryZip(groups, sources);
  console.log("  pruning the engine");
  const loader = changeLoader(vendor("pyodide.mjs").toString());
  const script = vendor("pyodide.asm.mjs").toString();
  const engine = pruneEngine({wasm: vendor("pyodide.asm.wasm"), script, loader});

  console.log("  measuring and writing");
  rmSync(folder, {recursive: true, force: true});
  mkdirSync(folder, {recursive: true});
  const files = {
    wasm: publish(folder, "pyodide.asm.", ".wasm", engine.wasm, {packed: true}),
    engine: publish(folder, "pyodide.asm.", ".mjs", Buffer.from(engine.script), {packed: false}),
    loader: publish(folder, "pyodide.", ".mjs", Buffer.from(loader), {packed: false}),
    python: publish(folder, "python-", ".zip", library, {packed: true}),
  };
  const lock = JSON.parse(vendor("pyodide-lock.json").toString());
  const manifest = {
    pyodide: JSON.parse(vendor("package.json").toString()).version,
    python: lock.info.python,
    files,
    modules: groups.filter((group) => group.for === "course").flatMap((group) => group.modules).sort(),
    sources: {packages: [...new Set(sources.map(([path]) => path))], hash: sourcesHash(sources)},
    lock_info: lock.info,
    inputs,
  };
  writeFileSync(join(folder, "manifest.json"), `${JSON.stringify(manifest, null, 2)}\n`);
  report(files);
}

function report(files) {
  const rows = Object.values(files);
  const kilobytes = (bytes) => `${Math.round(bytes / 1000)}`.padStart(7);
  const line = (name, row) => console.log(`  ${name.padEnd(32)}${[row.raw, row.gzip, row.brotli].map(kilobytes).join("")}`);
  console.log(`  ${"kB".padEnd(32)}    raw   gzip brotli`);
  for (const row of rows) line(row.name, row);
  const sum = (key) => rows.reduce((total, row) => total + row[key], 0);
  line("together", {raw: sum("raw"), gzip: sum("gzip"), brotli: sum("brotli")});
}

await build(resolve(process.argv[2] ?? PRODUCT));
