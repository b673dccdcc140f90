// A whole Pyodide under Node with compile_modules.py imported: what makes the zips of Python code.

import {readFileSync} from "node:fs";
import {fileURLToPath} from "node:url";
import {loadPyodide} from "pyodide";

export const PYODIDE = fileURLToPath(new URL("../node_modules/pyodide/", import.meta.url));

/** Returns the Pyodide object and the functions of compile_modules.py. */
export async function startBuilder() {
  const python = await loadPyodide({indexURL: PYODIDE, env: {PYTHONHASHSEED: "0"}});
  python.FS.writeFile("compile_modules.py", readFileSync(new URL("compile_modules.py", import.meta.url), "utf8"));
  return {python, compiler: python.pyimport("compile_modules")};
}
