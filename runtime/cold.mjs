// Empties functions of the engine that cannot run: those of compiled modules that the page's Python refuses
// to import (cold_units.json), and of the libraries they wrap. A function stays whole if a live one can call it.
//
// The linker keeps the functions of one source file together, and the compiler writes the file's own (static)
// functions after the one that first names them; so a module's functions lie between its PyInit_ and the
// next. For a library, cold_units.json has the name it starts with and the one it ends before. Within these
// stay whole
//  - functions that a live one calls, with all that they call;
//  - functions that a live file may have put into the table. The engine's makers have merged functions of
//    equal bodies, so one that lies in a cold file can serve a live one. The table, too, was filled file by
//    file: a slot belongs to a cold file when the slots around it hold cold functions.
// What remains is reached only through objects that the module would hand out when imported; its PyInit_ now
// raises ImportError instead. A call to an emptied function would stop the engine (WebAssembly's
// `unreachable`); it cannot give a wrong number.

import {callingBody, readAddress, readElements, readExports, withBodies} from "./wasm_file.mjs";
import {runWasmOpt} from "./wasm_opt.mjs";

const EMPTY = Buffer.of(0x00, 0x00, 0x0b); // no locals; unreachable; end
const SHORTEST = 16; // bytes; below, emptying gains nothing

/** The wasm file with its cold functions empty. `whole` has the exports that name them. */
export function emptyColdFunctions(wasm, whole, groups) {
  const names = readExports(whole);
  const cold = coldFunctions(names, groups);
  const starts = new Set(modulesOf(groups).map((module) => names.get(`PyInit_${module}`)));
  const refuse = callingBody(wasm, names.get("PyErr_SetImportError"), readAddress(whole, "_Py_NoneStruct"), 0, 0);
  const roots = [...readExports(wasm).values(), ...liveSlots(readElements(wasm), cold)];
  const live = reached(roots.filter((index) => !starts.has(index)), directCalls(wasm));
  return withBodies(wasm, (index, body) => {
    if (starts.has(index)) return refuse;
    return cold.has(index) && !live.has(index) && body.length >= SHORTEST ? EMPTY : body;
  });
}

const modulesOf = (groups) => groups.flatMap((group) => group.modules ?? []);

/** The functions in slots that a live file may have filled: of the eight nearest, not more than half are cold. */
function liveSlots(slots, cold) {
  const nearest = [-4, -3, -2, -1, 1, 2, 3, 4];
  return slots.filter((_, at) => nearest.filter((step) => cold.has(slots[at + step])).length <= nearest.length / 2);
}

function coldFunctions(names, groups) {
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
  for (const module of modulesOf(groups)) {
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
