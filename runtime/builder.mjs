// A whole Pyodide under Node with compile_modules.py and ready_made.py: what makes the zips of Python code.

import {readFileSync} from "node:fs";
import {fileURLToPath} from "node:url";
import {loadPyodide} from "pyodide";

export const PYODIDE = fileURLToPath(new URL("../node_modules/pyodide/", import.meta.url));

/** Returns the Pyodide object and the functions of compile_modules.py. */
export async function startBuilder() {
  const python = await loadPyodide({indexURL: PYODIDE, env: {PYTHONHASHSEED: "0"}});
  for (const name of ["compile_modules.py", "ready_made.py"]) {
    python.FS.writeFile(name, readFileSync(new URL(name, import.meta.url), "utf8"));
  }
  return {python, compiler: python.pyimport("compile_modules")};
}
