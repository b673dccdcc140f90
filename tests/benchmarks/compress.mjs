// Compresses files as a careful host does, once each: node compress.mjs FOLDER STORE
// STORE/<SHA-256 of the content>.br and .gz; what is there already is not made again.

import {createHash} from "node:crypto";
import {existsSync, mkdirSync, readFileSync, readdirSync, statSync, writeFileSync} from "node:fs";
import {join} from "node:path";
import {promisify} from "node:util";
import {brotliCompress, constants, gzip} from "node:zlib";

const [folder, store] = process.argv.slice(2);
const DONE_ALREADY = /\.(gz|jpg|pdf|png|woff2)$/;
const WAYS = {
  br: (bytes) => promisify(brotliCompress)(bytes, {params: {[constants.BROTLI_PARAM_SIZE_HINT]: bytes.length}}),
  gz: (bytes) => promisify(gzip)(bytes, {level: 9}),
};

mkdirSync(store, {recursive: true});
const names = readdirSync(folder, {recursive: true}).filter((name) => !DONE_ALREADY.test(name));
const files = names.map((name) => join(folder, name)).filter((path) => statSync(path).isFile());
for (const path of files) {
  const bytes = readFileSync(path);
  const stem = join(store, createHash("sha256").update(bytes).digest("hex"));
  const missing = Object.keys(WAYS).filter((way) => !existsSync(`${stem}.${way}`));
  await Promise.all(missing.map(async (way) => writeFileSync(`${stem}.${way}`, await WAYS[way](bytes))));
}
