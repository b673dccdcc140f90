// wasm-opt of Binaryen over a buffer.

import {execFileSync} from "node:child_process";
import {mkdtempSync, readFileSync, rmSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {fileURLToPath} from "node:url";

const WASM_OPT = fileURLToPath(new URL("../node_modules/binaryen/bin/wasm-opt", import.meta.url));

// What the engine as shipped already uses; wasm-opt must be told, and must write nothing newer.
const FEATURES = [
  "--enable-bulk-memory",
  "--enable-bulk-memory-opt",
  "--enable-call-indirect-overlong",
  "--enable-exception-handling",
  "--enable-multivalue",
  "--enable-mutable-globals",
  "--enable-nontrapping-float-to-int",
  "--enable-reference-types",
  "--enable-sign-ext",
];

/** The file after the passes, or what they print. */
export function runWasmOpt(wasm, passes, {text = false} = {}) {
  const folder = mkdtempSync(join(tmpdir(), "engine-"));
  try {
    const before = join(folder, "before.wasm");
    const after = join(folder, "after.wasm");
    writeFileSync(before, wasm);
    const options = [WASM_OPT, before, "-o", after, ...FEATURES, ...passes];
    const printed = execFileSync(process.execPath, options, {maxBuffer: 1e9, encoding: "utf8"});
    return text ? printed : readFileSync(after);
  } finally {
    rmSync(folder, {recursive: true});
  }
}
