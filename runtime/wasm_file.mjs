// The few parts of a wasm file that the build reads and writes: exports, table elements, function bodies.
// A function's index here counts the file's own functions from 0, without the imported ones.

const GLOBALS = 6;
const EXPORTS = 7;
const ELEMENTS = 9;
const CODE = 10;
const FUNCTION = 0;
const GLOBAL = 3;
const CALL = 0x10;
const I32_CONST = 0x41;
const END = 0x0b;

/** Name of each exported function to its index. */
export function readExports(wasm) {
  const before = imported(wasm, "function");
  const found = new Map();
  for (const {name, kind, index} of exportEntries(wasm)) if (kind === FUNCTION) found.set(name, index - before);
  return found;
}

/** The names of all that the file imports. */
export function importNames(wasm) {
  return new Set(WebAssembly.Module.imports(new WebAssembly.Module(wasm)).map(({name}) => name));
}

/** The file with only the exports whose names are wanted. */
export function withExports(wasm, wanted) {
  const kept = exportEntries(wasm).filter(({name}) => wanted(name));
  return withSection(wasm, EXPORTS, [number(kept.length), ...kept.map(({bytes}) => bytes)]);
}

/** The address of exported data: the constant in the exported global of that name. */
export function readAddress(wasm, wanted) {
  const {index} = exportEntries(wasm).find(({name, kind}) => kind === GLOBAL && name === wanted);
  let [, at] = readNumber(wasm, section(wasm, GLOBALS).start);
  for (let global = imported(wasm, "global"); ; global++) {
    // One form is in use: type, mutability, `i32.const n end`.
    if (wasm[at + 2] !== I32_CONST) throw new Error("the engine has another form of globals");
    const [value, end] = readNumber(wasm, at + 3);
    if (global === index) return value;
    at = end + 1;
  }
}

/** A function's body that calls one of the file's functions with constants and returns what that returns. */
export function callingBody(wasm, index, ...constants) {
  const code = constants.map((constant) => Buffer.concat([Buffer.of(I32_CONST), number(constant, 64)]));
  const call = Buffer.concat([Buffer.of(CALL), number(index + imported(wasm, "function"))]);
  return Buffer.concat([Buffer.of(0), ...code, call, Buffer.of(END)]);
}

/** Indices of the functions in the table, as often as they stand there. */
export function readElements(wasm) {
  const before = imported(wasm, "function");
  return elements(wasm).map(({index}) => index - before);
}

/** The places in the table that hold exported functions. */
export function exportedSlots(wasm) {
  const exported = new Set(exportEntries(wasm).filter(({kind}) => kind === FUNCTION).map(({index}) => index));
  return elements(wasm).filter(({index}) => exported.has(index)).map(({slot}) => slot);
}

/** What stands in the table: each place and the function's index in the whole file, the imported ones counted. */
function elements(wasm) {
  const found = [];
  let [count, at] = readNumber(wasm, section(wasm, ELEMENTS).start);
  for (; count > 0; count--) {
    // One form is in use: flags 0, `i32.const n end`, functions.
    if (wasm[at] !== 0 || wasm[at + 1] !== I32_CONST) throw new Error("the engine has another form of table");
    let slot;
    [slot, at] = readNumber(wasm, at + 2);
    if (wasm[at] !== END) throw new Error("the engine has another form of table");
    let functions;
    [functions, at] = readNumber(wasm, at + 1);
    for (; functions > 0; functions--, slot++) {
      let index;
      [index, at] = readNumber(wasm, at);
      found.push({slot, index});
    }
  }
  return found;
}

/** The file with each body replaced by what `change(index, body)` returns. */
export function withBodies(wasm, change) {
  const [count, first] = readNumber(wasm, section(wasm, CODE).start);
  const parts = [number(count)];
  let at = first;
  for (let index = 0; index < count; index++) {
    const [length, start] = readNumber(wasm, at);
    at = start + length;
    const body = change(index, wasm.subarray(start, at));
    parts.push(number(body.length), body);
  }
  return withSection(wasm, CODE, parts);
}

function exportEntries(wasm) {
  const entries = [];
  let [count, at] = readNumber(wasm, section(wasm, EXPORTS).start);
  for (; count > 0; count--) {
    const [length, name] = readNumber(wasm, at);
    const kind = name + length;
    const [index, end] = readNumber(wasm, kind + 1);
    entries.push({name: wasm.toString("utf8", name, kind), kind: wasm[kind], index, bytes: wasm.subarray(at, end)});
    at = end;
  }
  return entries;
}

function imported(wasm, wanted) {
  return WebAssembly.Module.imports(new WebAssembly.Module(wasm)).filter(({kind}) => kind === wanted).length;
}

/** Where a section's content starts and ends, and where its header does. */
function section(wasm, wanted) {
  let at = 8;
  while (at < wasm.length) {
    const [size, start] = readNumber(wasm, at + 1);
    const end = start + size;
    if (wasm[at] === wanted) return {header: at, start, end};
    at = end;
  }
  throw new Error(`the engine has no section ${wanted}`);
}

function withSection(wasm, id, parts) {
  const {header, end} = section(wasm, id);
  const body = Buffer.concat(parts);
  return Buffer.concat([wasm.subarray(0, header), Buffer.of(id), number(body.length), body, wasm.subarray(end)]);
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

/** LEB128: unsigned, or with `limit` 64 the signed form of a positive number. */
function number(value, limit = 128) {
  const bytes = [];
  for (; value >= limit; value = Math.floor(value / 128)) bytes.push((value % 128) + 128);
  bytes.push(value);
  return Buffer.from(bytes);
}
