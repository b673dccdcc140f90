// Runs tests inside Pyodide: node runtime/run_tests.mjs [pytest's arguments]
// Without arguments: the tests of the mechanics, the calculators and the problems. First every calculator of the course
// on the runtime that phones get (runtime/smoke.mjs), then pytest on its engine, but with the whole standard
// library, which pytest needs. The exit status is pytest's, or 1.

import {execFileSync} from "node:child_process";
import {createHash} from "node:crypto";
import {existsSync, mkdirSync, readFileSync, readdirSync} from "node:fs";
import {join} from "node:path";
import {fileURLToPath} from "node:url";
import {startBuilder} from "./builder.mjs";
import {PRODUCT, bootInNode} from "./node_boot.mjs";
import {smoke} from "./smoke.mjs";
import {ownSources, sourcesHash, zippedSources} from "./sources.mjs";

const ROOT = fileURLToPath(new URL("..", import.meta.url));
const LOCK = join(ROOT, "runtime/pyodide-tests.lock");
const BROWSER_PYTHON = ["--platform", "any", "--python-version", "3.14", "--implementation", "py", "--abi", "none"];
const DEFAULT = ["tests/mechanics", "tests/calculator", "tests/problems", "-q"];

/** The folder of wheels that the lock file names, fetched once. */
function wheels() {
  const version = createHash("sha256").update(readFileSync(LOCK)).digest("hex").slice(0, 12);
  const folder = join(ROOT, "build", `pyodide-tests-${version}`);
  const pinned = readFileSync(LOCK, "utf8").match(/^\w+==/gm).length;
  if (!existsSync(folder) || readdirSync(folder).length < pinned) {
    mkdirSync(folder, {recursive: true});
    console.log("Fetching pytest and hypothesis for Pyodide");
    const python = join(ROOT, process.platform === "win32" ? ".venv/Scripts/python.exe" : ".venv/bin/python");
    const pip = ["-m", "pip", "download", "--quiet", "--disable-pip-version-check", "--only-binary=:all:"];
    const what = [...BROWSER_PYTHON, "--no-deps", "--require-hashes", "-r", LOCK, "-d", folder];
    execFileSync(python, [...pip, ...what], {stdio: "inherit"});
  }
  return readdirSync(folder).map((name) => join(folder, name));
}

async function onTheTrimmedRuntime() {
  const manifest = JSON.parse(readFileSync(join(PRODUCT, "manifest.json"), "utf8"));
  if (manifest.sources.hash !== sourcesHash(ownSources())) {
    console.error("The runtime is older than crankpin's sources; run 'node runtime/build.mjs' first.");
    return 1;
  }
  try {
    const {modules, calculators} = smoke(await bootInNode(), manifest);
    console.log(`On the runtime of phones: ${modules} modules import, ${calculators} calculators give results.`);
    return 0;
  } catch (error) {
    console.error(`On the runtime of phones:\n${error.message}`);
    return 1;
  }
}

async function withWholeLibrary(options) {
  const {python: builder, compiler} = await startBuilder();
  const library = compiler.whole_library_zip(builder.toPy(zippedSources({whole: true}))).toJs();
  const python = await bootInNode({replace: {python: library}});
  for (const wheel of wheels()) {
    const bytes = new Uint8Array(readFileSync(wheel));
    python.unpackArchive(bytes, "wheel", {extractDir: "/lib/python3.14/site-packages"});
  }
  python.mountNodeFS("/course", ROOT);
  python.FS.writeFile("run_pytest.py", readFileSync(join(ROOT, "runtime/run_pytest.py"), "utf8"));
  return python.pyimport("run_pytest").run(python.toPy(options));
}

const given = process.argv.slice(2);
const trimmed = await onTheTrimmedRuntime();
process.exit((await withWholeLibrary(given.length > 0 ? given : DEFAULT)) || trimmed);
