// Makes the engine smaller without changing what it does: exports that its own script never names go,
// and with them the code only they kept. Lost by this: loading compiled packages, which the course has none of.

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

const EXPORT_SECTION = 7;
const ASSIGN = "function assignWasmExports(wasmExports){";
const IMPORTS = "var wasmImports={";

/** From the shipped {wasm: Buffer, script: string}, the smaller pair; `loader` is the other script that uses it. */
export function pruneEngine({wasm, script, loader}) {
  const {before, names, assigned, after} = splitScript(script);
  const uses = usesOf(before + after + loader);
  const bindings = assigned.map(binding);
  const kept = bindings.filter(uses.binding);
  const keptExports = new Set(kept.map(({exported}) => exported));
  const dropped = new Set(bindings.filter((each) => !uses.binding(each)).map(({name}) => name));
  return {
    wasm: optimise(withExports(wasm, (name) => keptExports.has(name) || uses.text(name))),
    script: [
      before,
      `var ${names.filter((name) => !dropped.has(name)).join(",")};`,
      `${ASSIGN}${kept.map(({statement}) => statement).join(";")}}`,
      after,
    ].join(""),
  };
}

/** The script around its list of the engine's exports: `var _a,_b;function assignWasmExports(...){...}`. */
function splitScript(script) {
  const assign = onlyIndex(script, ASSIGN);
  const imports = onlyIndex(script, IMPORTS);
  const names = script.lastIndexOf("var ", assign);
  const end = script.lastIndexOf("}", imports);
  return {
    before: script.slice(0, names),
    names: script.slice(names + "var ".length, assign - 1).split(","),
    assigned: script.slice(assign + ASSIGN.length, end).split(";"),
    after: script.slice(end + 1),
  };
}

function onlyIndex(text, part) {
  const at = text.indexOf(part);
  if (at < 0 || text.indexOf(part, at + 1) >= 0) {
    throw new Error(`pyodide.asm.mjs has changed: "${part}" must stand in it once. Look at runtime/engine.mjs.`);
  }
  return at;
}

/** One statement, such as `_main=Module["_main"]=wasmExports["__main_argc_argv"]`, taken apart. */
function binding(statement) {
  const [, name, exported] = /^(\w+)=.*wasmExports\["(\w+)"\]/.exec(statement) ?? [];
  if (!exported) throw new Error(`pyodide.asm.mjs has changed: what is "${statement}"? Look at runtime/engine.mjs.`);
  return {statement, name, exported};
}

/** How `code` can name an export: in a string, as a property of wasmExports, or by its variable. */
function usesOf(code) {
  const identifiers = new Set(code.match(/[A-Za-z_$][\w$]*/g));
  const texts = new Set(Array.from(code.matchAll(/"(\w+)"|wasmExports\.(\w+)/g), (match) => match[1] ?? match[2]));
  const text = (exported) => texts.has(exported);
  return {text, binding: ({name, exported}) => identifiers.has(name) || text(exported)};
}

/* The export section of a wasm file: a count, then name, kind and index of each. */

function withExports(wasm, wanted) {
  const parts = [wasm.subarray(0, 8)];
  let at = 8;
  while (at < wasm.length) {
    const id = wasm[at];
    const [size, body] = readNumber(wasm, at + 1);
    const end = body + size;
    parts.push(id === EXPORT_SECTION ? exportSection(wasm, body, wanted) : wasm.subarray(at, end));
    at = end;
  }
  return Buffer.concat(parts);
}

function exportSection(wasm, start, wanted) {
  const entries = [];
  let [count, at] = readNumber(wasm, start);
  for (; count > 0; count--) {
    const [length, name] = readNumber(wasm, at);
    const kind = name + length;
    const [, end] = readNumber(wasm, kind + 1);
    if (wanted(wasm.toString("utf8", name, kind))) entries.push(wasm.subarray(at, end));
    at = end;
  }
  const body = Buffer.concat([number(entries.length), ...entries]);
  return Buffer.concat([Buffer.of(EXPORT_SECTION), number(body.length), body]);
}

/** An unsigned LEB128 number at `at`: its value and where it ends. */
function readNumber(bytes, at) {
  let value = 0;
  let factor = 1;
  for (;;) {
    const byte = bytes[at++];
    value += (byte & 127) * factor;
    if (byte < 128) return [value, at];
    factor *= 128;
  }
}

function number(value) {
  const bytes = [];
  for (; value > 127; value = Math.floor(value / 128)) bytes.push((value % 128) + 128);
  bytes.push(value);
  return Buffer.from(bytes);
}

function optimise(wasm) {
  const folder = mkdtempSync(join(tmpdir(), "engine-"));
  try {
    const before = join(folder, "before.wasm");
    const after = join(folder, "after.wasm");
    writeFileSync(before, wasm);
    execFileSync(process.execPath, [WASM_OPT, before, "-o", after, ...FEATURES, "--remove-unused-module-elements"]);
    return readFileSync(after);
  } finally {
    rmSync(folder, {recursive: true});
  }
}
