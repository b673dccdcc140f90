// Makes the engine smaller without changing what it does: exports that its own script never names go, and
// with them the code only they kept; then the code of modules that nobody may import (cold.mjs); then what of
// the script serves nothing that is left (script.mjs).
// Lost by this: loading compiled packages, which the course has none of.

import {emptyColdFunctions} from "./cold.mjs";
import {slimScript} from "./script.mjs";
import {exportedSlots, importNames, withExports} from "./wasm_file.mjs";
import {runWasmOpt} from "./wasm_opt.mjs";

const ASSIGN = "function assignWasmExports(wasmExports){";
const IMPORTS = "var wasmImports={";
const WHOLE_TABLE = "updateTableMap(0,wasmTable.length)";

/** From the shipped {wasm: Buffer, script: string}, the smaller pair; `loader` is the other script that uses it. */
export function pruneEngine({wasm, script, loader, coldUnits}) {
  const {before, names, assigned, after} = splitScript(script);
  const uses = usesOf(before + after + loader);
  const bindings = assigned.map(binding);
  const kept = bindings.filter(uses.binding);
  const keptExports = new Set(kept.map(({exported}) => exported));
  const dropped = new Set(bindings.filter((each) => !uses.binding(each)).map(({name}) => name));
  const pruned = withExports(wasm, (name) => keptExports.has(name) || uses.text(name));
  const small = runWasmOpt(emptyColdFunctions(pruned, wasm, coldUnits), ["--remove-unused-module-elements"]);
  const matching = [
    knowingExported(before, small),
    `var ${names.filter((name) => !dropped.has(name)).join(",")};`,
    `${ASSIGN}${kept.map(({statement}) => statement).join(";")}}`,
    after,
  ].join("");
  return {wasm: small, script: slimScript(matching, {wanted: importNames(small), loader})};
}

/** The script with a map of the table that knows the exported functions. It is asked for no other, and each function that
    is taken out of the table for it costs time and memory at every start. */
function knowingExported(script, wasm) {
  const at = onlyIndex(script, WHOLE_TABLE);
  const marked = `for(var slot of${JSON.stringify(exportedSlots(wasm))})updateTableMap(slot,1)`;
  return script.slice(0, at) + marked + script.slice(at + WHOLE_TABLE.length);
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
