// What is changed in Pyodide's loader (pyodide.mjs), and why. Each text must stand in it exactly once,
// so that another version of Pyodide fails here, at the build, and not on a phone.

const CHANGES = [
  {
    why: "boot.mjs compiles the engine itself: the loader would wait for ever when that fails",
    from: "instantiateWasm:Ie(e.indexURL)}",
    to: "instantiateWasm:e.instantiate(K)}",
  },
  {
    why: "boot.mjs pool over the library's bytes, already fetched and checked",
    from: "function he(e){let t=j(e);",
    to: "function he(e){let t=e;",
  },
  {
    why: "the library's bytes are held once, not copied into the file system",
    from: ".zip`,r)}catch",
    to: ".zip`,r,{canOwn:true})}catch",
  },
  {why: "the map is not published", from: "\n//# sourceMappingURL=pyodide.mjs.map", to: ""},
];

/** The loader's text with the changes made. */
export function changeLoader(text) {
  for (const {why, from, to} of CHANGES) {
    const pieces = text.split(from);
    if (pieces.length !== 2) {
      throw new Error(`pyodide.mjs has changed: cannot do "${why}". Look at runtime/loader.mjs.`);
    }
    text = pieces.join(to);
  }
  return text;
}
