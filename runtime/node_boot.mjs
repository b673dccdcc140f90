// boot.mjs under Node: the built runtime read from its folder instead of a host.

import {readFile} from "node:fs/promises";
import {basename, join} from "node:path";
import {fileURLToPath, pathToFileURL} from "node:url";
import {boot} from "../src/crankpin/browser/static/boot.mjs";

export const PRODUCT = fileURLToPath(new URL("../src/crankpin/browser/runtime_files/", import.meta.url));

/** Starts the built runtime; `replace` maps a file's role ("python") to bytes that stand in for it. */
export async function bootInNode({folder = PRODUCT, replace = {}} = {}) {
  const manifest = JSON.parse(await readFile(join(folder, "manifest.json"), "utf8"));
  const stand_ins = {};
  for (const [role, bytes] of Object.entries(replace)) {
    manifest.files[role].raw = bytes.length;
    stand_ins[manifest.files[role].name] = bytes;
  }
  const read = async (url) => {
    const name = basename(new URL(url).pathname);
    const bytes = stand_ins[name] ?? (await readFile(join(folder, name)));
    // "As if compressed": there is no reason to unpack the gzipped copy from a disc.
    return new Response(bytes, {headers: {"content-encoding": "identity"}});
  };
  return boot({base: pathToFileURL(folder).href, manifest, io: {fetch: read, load: (url) => import(url)}});
}
