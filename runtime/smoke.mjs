// Uses the trimmed runtime as a page would; throws an Error that lists what failed.

import {readFileSync, readdirSync} from "node:fs";
import {join} from "node:path";
import {fileURLToPath} from "node:url";

const ROOT = fileURLToPath(new URL("..", import.meta.url));

export function smoke(python, manifest) {
  const own = manifest.sources.paths.map((path) => path.replace(/(\/__init__)?\.py$/, "").replaceAll("/", "."));
  python.FS.writeFile("smoke.py", readFileSync(join(ROOT, "runtime/smoke.py"), "utf8"));
  const {faults} = python.pyimport("smoke");
  const calculators = courseCalculators();
  const found = faults(python.toPy([...manifest.modules, ...own]), python.toPy(calculators));
  if (found.length > 0) throw new Error(found.join("\n"));
  sendNumbers(python);
  refuseOthers(python);
  return {modules: manifest.modules.length + own.length, calculators: Object.keys(calculators).length};
}

function courseCalculators() {
  const folder = join(ROOT, "calculators");
  const names = readdirSync(folder).filter((name) => /^[a-z]\w*\.py$/.test(name));
  return Object.fromEntries(names.map((name) => [name, readFileSync(join(folder, name), "utf8")]));
}

/** The way a page takes numbers: one array, one buffer. */
function sendNumbers(python) {
  const numbers = python.runPython("from array import array; array('d', [1.5, 2.5])");
  const buffer = numbers.getBuffer("f64");
  const sum = buffer.data[0] + buffer.data[1];
  buffer.release();
  numbers.destroy();
  if (sum !== 4) throw new Error("numbers do not come across");
}

function refuseOthers(python) {
  try {
    python.runPython("import csv");
  } catch (error) {
    if (error.message.includes("'csv' is not in the Python that runs on the page")) return;
    throw new Error(`a missing module is not explained: ${error.message}`);
  }
  throw new Error("csv is there, though it is not on the list of allowed modules");
}
