// Empties functions of the engine that cannot run: those of compiled modules that the page's Python refuses
// to import (cold_units.json), and of the libraries they wrap. A function stays whole if a live one can call it.
//
// The linker keeps the functions of one source file together, and the compiler writes the file's own (static)
// functions after the one that first names them; so a module's functions lie between its PyInit_ and the
// next. For a library, cold_units.json has the name it starts with and the one it ends before. Within these,
// whatever is called directly from outside is kept, with all that it calls. What remains is reached only through tables that the module would hand out
// when imported. A call to an emptied function stops the engine (WebAssembly's `unreachable`); it cannot
// give a wrong number.

import {runWasmOpt} from "./wasm_opt.mjs";
import {readElements, readExports, withBodies} from "./wasm_file.mjs";

// Optimisers merge functions of equal bodies, so that a short one in a cold file may serve a live one too.
const SHORTEST = 64;

/** The wasm file with its cold functions empty. `whole` has the exports that name them. */
export function emptyColdFunctions(wasm, whole, groups) {
  const cold = coldFunctions(whole, groups);
  const calls = directCalls(wasm);
  const roots = [...readExports(wasm).values(), ...readElements(wasm).filter((index) => !cold.has(index))];
  const live = reached(roots, calls);
  return withBodies(wasm, (index, body) => (cold.has(index) && !live.has(index) && body.length >= SHORTEST ? EMPTY : body));
}

const EMPTY = Buffer.of(0x00, 0x00, 0x0b); // no locals; unreachable; end

function coldFunctions(whole, groups) {
  const names = readExports(whole);
  const exported = [...names].sort(([, a], [, b]) => a - b);
  const cold = new Set();
  const add = (from, before) => {
    for (let index = from; index < before; index++) cold.add(index);
  };
  const at = (name) => {
    const index = names.get(name);
    if (index === undefined) throw new Error(`the engine has no ${name}; look at runtime/cold_units.json`);
    return index;
  };
  const starts = exported.filter(([name]) => name.startsWith("PyInit_"));
  for (const module of groups.flatMap((group) => group.modules ?? [])) {
    const next = starts.findIndex(([name]) => name === `PyInit_${module}`) + 1;
    add(at(`PyInit_${module}`), starts[next][1]);
  }
  for (const {from, before} of groups.flatMap((group) => group.libraries ?? [])) add(at(from), at(before));
  return cold;
}

/** Index of each function to the indices it calls directly. */
function directCalls(wasm) {
  const calls = new Map();
  for (const [, from, to] of runWasmOpt(wasm, ["--print-call-graph"], {text: true}).matchAll(/^ {2}"(\d+)" -> "(\d+)"/gm)) {
    if (!calls.has(Number(from))) calls.set(Number(from), []);
    calls.get(Number(from)).push(Number(to));
  }
  return calls;
}

function reached(roots, calls) {
  const seen = new Set(roots);
  for (const index of seen) for (const called of calls.get(index) ?? []) seen.add(called);
  return seen;
}
