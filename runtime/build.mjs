// Builds the Python that runs on a page: node runtime/build.mjs [folder]
// Takes the pinned Pyodide from node_modules and crankpin's own sources; writes content-named files and
// manifest.json into src/crankpin/browser/runtime_files/. What has not changed is not made again: the engine
// takes a minute, the zip of Python code a few seconds.

import {createHash} from "node:crypto";
import {copyFileSync, existsSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync} from "node:fs";
import {join, resolve} from "node:path";
import {fileURLToPath} from "node:url";
import {brotliCompressSync} from "node:zlib";
import {PYODIDE, startBuilder} from "./builder.mjs";
import {pruneEngine} from "./engine.mjs";
import {changeLoader} from "./loader.mjs";
import {PRODUCT} from "./node_boot.mjs";
import {ownSources, sourcesHash, standIns, zippedSources} from "./sources.mjs";

const HERE = fileURLToPath(new URL(".", import.meta.url));
const PACKING = ["build.mjs", "builder.mjs", "compile_modules.py", "ready_made.py"];
const ENGINE = ["engine.mjs", "cold.mjs", "cold_units.json", "loader.mjs", "script.mjs", "wasm_file.mjs", "wasm_opt.mjs", ...PACKING];
const LIBRARY = ["allowed_modules.json", "course_imports.py", "sources.mjs", ...PACKING];

const vendor = (name) => readFileSync(join(PYODIDE, name));
const json = (bytes) => JSON.parse(bytes.toString("utf8"));
const sha256 = (...parts) => parts.reduce((hash, part) => hash.update(part), createHash("sha256")).digest("hex");

/** A hash over everything a part of the product is made from. */
function inputs(scripts, ...more) {
  const versions = ["pyodide", "binaryen", "acorn"].map((name) => json(readFileSync(join(HERE, "../node_modules", name, "package.json"))).version);
  return sha256(...scripts.map((name) => readFileSync(join(HERE, name))), ...versions, ...more);
}

function readManifest(folder) {
  try {
    return json(readFileSync(join(folder, "manifest.json")));
  } catch {
    return null;
  }
}

const namesOf = (files) => Object.values(files).flatMap((file) => [file.name, file.packed?.name].filter(Boolean));

/** The entries of a part that was built from the same inputs and is still there, or null. */
function keptPart(folder, manifest, part, hash) {
  if (manifest?.inputs?.[part] !== hash) return null;
  const roles = part === "engine" ? ["wasm", "engine", "loader"] : ["python"];
  const files = Object.fromEntries(roles.map((role) => [role, manifest.files[role]]));
  return namesOf(files).every((name) => existsSync(join(folder, name))) ? files : null;
}

async function build(folder) {
  const sources = ownSources();
  const hashes = {engine: inputs(ENGINE), library: inputs(LIBRARY, JSON.stringify(standIns()), sourcesHash(sources))};
  const before = readManifest(folder);
  const kept = {
    engine: keptPart(folder, before, "engine", hashes.engine),
    library: keptPart(folder, before, "library", hashes.library),
  };
  if (kept.engine && kept.library) {
    console.log("The page's Python is up to date.");
    return;
  }
  // Made beside and moved into place whole, so that a reader or a second build finds nothing half done.
  const fresh = `${folder}.${process.pid}`;
  mkdirSync(fresh, {recursive: true});
  for (const files of Object.values(kept)) {
    for (const name of namesOf(files ?? {})) copyFileSync(join(folder, name), join(fresh, name));
  }
  const {python, compiler} = await startBuilder();
  const publish = publisher(fresh, python, compiler);
  const files = {
    ...(kept.engine ?? buildEngine(publish)),
    ...(kept.library ?? buildLibrary(publish, python, compiler)),
  };
  const manifest = {...description(sources), files, inputs: hashes};
  writeFileSync(join(fresh, "manifest.json"), `${JSON.stringify(manifest, null, 2)}\n`);
  rmSync(folder, {recursive: true, force: true});
  renameSync(fresh, folder);
  report(files);
}

function buildEngine(publish) {
  console.log("Making the engine of the page's Python; this takes a minute, and is kept");
  const loader = changeLoader(vendor("pyodide.mjs").toString());
  const engine = pruneEngine({
    wasm: vendor("pyodide.asm.wasm"),
    script: vendor("pyodide.asm.mjs").toString(),
    loader,
    coldUnits: json(readFileSync(join(HERE, "cold_units.json"))),
  });
  return {
    wasm: publish("pyodide.asm.", ".wasm", engine.wasm, {packed: true}),
    engine: publish("pyodide.asm.", ".mjs", Buffer.from(engine.script), {packed: false}),
    loader: publish("pyodide.", ".mjs", Buffer.from(loader), {packed: false}),
  };
}

function buildLibrary(publish, python, compiler) {
  console.log("Compiling the standard library and crankpin for the page's Python");
  const modules = groupsOfModules().flatMap((group) => group.modules);
  const zip = compiler.library_zip(...[modules, standIns(), zippedSources()].map((one) => python.toPy(one)));
  return {python: publish("python-", ".zip", Buffer.from(zip.toJs()), {packed: true})};
}

/** Writes a file under a name that carries its hash, with a gzipped copy where asked; returns its entry. */
function publisher(folder, python, compiler) {
  return (stem, suffix, bytes, {packed}) => {
    const name = `${stem}${sha256(bytes).slice(0, 12)}${suffix}`;
    // Node's zlib differs between machines; the one in Pyodide is the same everywhere.
    const gzip = Buffer.from(compiler.gzipped(python.toPy(new Uint8Array(bytes))).toJs());
    writeFileSync(join(folder, name), bytes);
    const entry = {name, raw: bytes.length, gzip: gzip.length, brotli: brotliCompressSync(bytes).length};
    if (packed) {
      entry.packed = {name: `${name}.gz`};
      writeFileSync(join(folder, entry.packed.name), gzip);
    }
    return entry;
  };
}

const groupsOfModules = () => json(readFileSync(join(HERE, "allowed_modules.json")));

function description(sources) {
  const lock = json(vendor("pyodide-lock.json"));
  const course = groupsOfModules().filter((group) => group.for === "course");
  const cold = json(readFileSync(join(HERE, "cold_units.json")));
  return {
    pyodide: json(vendor("package.json")).version,
    python: lock.info.python,
    modules: course.flatMap((group) => group.modules).sort(),
    emptied: cold.flatMap((group) => group.modules ?? []).sort(),
    sources: {hash: sourcesHash(sources), paths: sources.map(([path]) => path)},
    lock_info: lock.info,
  };
}

function report(files) {
  const kilobytes = (bytes) => `${Math.round(bytes / 1000)}`.padStart(8);
  const line = (name, row) => console.log(`  ${name.padEnd(32)}${[row.raw, row.gzip, row.brotli].map(kilobytes).join("")}`);
  console.log(`  ${"kB".padEnd(32)}     raw    gzip  brotli`);
  for (const file of Object.values(files)) line(file.name, file);
  const sum = (key) => Object.values(files).reduce((total, file) => total + file[key], 0);
  line("together", {raw: sum("raw"), gzip: sum("gzip"), brotli: sum("brotli")});
}

await build(resolve(process.argv[2] ?? PRODUCT));
