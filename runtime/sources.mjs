// crankpin's own sources that go into the runtime, and their hash. `sources_hash` in
// src/crankpin/browser/runtime.py computes the same from the installed package.

import {createHash} from "node:crypto";
import {existsSync, readFileSync, readdirSync} from "node:fs";
import {join} from "node:path";
import {fileURLToPath} from "node:url";

const SOURCE = fileURLToPath(new URL("../src/", import.meta.url));
const STAND_INS = fileURLToPath(new URL("stand_ins/", import.meta.url));
const PACKAGES = ["crankpin/mechanics", "crankpin/calculator", "crankpin/problems", "crankpin/service"];

/** What reads and tries problems when a course is built, and stays off phones. */
const AT_BUILD_TIME = ["__main__", "cases", "check", "notation", "parsing", "trial"].map(
  (name) => `crankpin/problems/${name}.py`,
);

/** Pairs of path and bytes, in the order of the paths. */
export function ownSources({whole = false} = {}) {
  const every = ["crankpin/__init__.py", ...PACKAGES.flatMap(modulesIn)].sort();
  const paths = every.filter((path) => whole || !AT_BUILD_TIME.includes(path));
  return paths.map((path) => [path, readFileSync(join(SOURCE, path))]);
}

function modulesIn(folder) {
  if (!existsSync(join(SOURCE, folder))) return [];
  return readdirSync(join(SOURCE, folder), {recursive: true})
    .map((path) => `${folder}/${path.replaceAll("\\", "/")}`)
    .filter((path) => path.endsWith(".py"));
}

/** Path and text of all that goes into the zip beside the standard library; `whole` for tests. */
export function zippedSources(which) {
  const own = Object.fromEntries(ownSources(which).map(([path, bytes]) => [path, bytes.toString("utf8")]));
  own["course_imports.py"] = readFileSync(new URL("course_imports.py", import.meta.url), "utf8");
  return own;
}

/** Path and text of the modules that stand in for heavy ones of which a page needs a few names. */
export function standIns() {
  const paths = readdirSync(STAND_INS, {recursive: true}).map((path) => path.replaceAll("\\", "/"));
  return Object.fromEntries(
    paths.filter((path) => path.endsWith(".py")).sort().map((path) => [path, readFileSync(join(STAND_INS, path), "utf8")]),
  );
}

/** SHA-256 over "path NUL length NUL bytes" of each source. Line ends count as written. */
export function sourcesHash(sources) {
  const hash = createHash("sha256");
  for (const [path, bytes] of sources) hash.update(`${path}\0${bytes.length}\0`).update(bytes);
  return hash.digest("hex");
}
