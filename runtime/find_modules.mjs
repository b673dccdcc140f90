// Finds what can be left out: node runtime/find_modules.mjs
// Starts from the modules that a whole Pyodide has loaded once it runs, and allowed_modules.json; takes away
// one at a time what runtime/smoke.mjs does not miss; prints what then differs from allowed_modules.json,
// which is kept by hand because each entry there has its reason. Takes some minutes.

import {readFileSync} from "node:fs";
import {startBuilder} from "./builder.mjs";
import {bootInNode} from "./node_boot.mjs";
import {smoke} from "./smoke.mjs";
import {standIns, zippedSources} from "./sources.mjs";

const read = (name) => readFileSync(new URL(name, import.meta.url), "utf8");
const groups = JSON.parse(read("allowed_modules.json"));
const manifest = JSON.parse(read("../src/crankpin/browser/runtime_files/manifest.json"));
const course = new Set(groups.filter((group) => group.for === "course").flatMap((group) => group.modules));
const listed = new Set(groups.flatMap((group) => group.modules));

const {python: builder, compiler} = await startBuilder();
const {loaded_modules: loaded, library_files: compiled, stored_zip: zipped} = compiler;
const start = [...new Set([...loaded().toJs(), ...listed])];
const files = compiled(...[start, standIns(), zippedSources()].map((one) => builder.toPy(one)));

const pathOf = (module) =>
  ["", "/__init__"].map((end) => `${module.replaceAll(".", "/")}${end}.pyc`).find((path) => files.has(path));

async function works() {
  const bytes = zipped(files).toJs();
  const quiet = console.error;
  console.error = console.log = () => {};
  try {
    smoke(await bootInNode({replace: {python: bytes}}), manifest);
    return true;
  } catch {
    return false;
  } finally {
    console.error = quiet;
    console.log = console.info;
  }
}

if (!(await works())) throw new Error("the smoke test fails with every module there");
const candidates = start.filter((module) => !course.has(module) && pathOf(module)).sort().reverse();
const needed = [];
for (const module of candidates) {
  const path = pathOf(module);
  const bytes = files.get(path);
  files.delete(path);
  if (await works()) continue;
  files.set(path, bytes);
  needed.push(module);
}
const inZip = needed.reverse();
console.info(`${inZip.length} modules are needed beside those of the course.`);
console.info("Not listed, but needed:", inZip.filter((module) => !listed.has(module)).join(" ") || "none");
const extra = [...listed].filter((module) => !course.has(module) && !inZip.includes(module));
console.info("Listed, but not needed:", extra.join(" ") || "none");
console.info(inZip.join(" "));
