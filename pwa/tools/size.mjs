/** Reports the built client's size, gzipped, and fails when the app has grown over its limit. */

import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";

const LIMIT_KB = 60;
const DIST = new URL("../dist", import.meta.url).pathname;

const files = readdirSync(DIST, { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile() && /\.(js|css|html|webmanifest)$/.test(entry.name))
  .map((entry) => join(entry.parentPath, entry.name));

const size = (path) => gzipSync(readFileSync(path), { level: 9 }).length / 1000;
const rows = files.map((path) => ({ path: path.slice(DIST.length + 1), kb: size(path) }));
const total = rows.reduce((sum, row) => sum + row.kb, 0);

for (const { path, kb } of rows) process.stdout.write(`${kb.toFixed(1).padStart(7)} kB  ${path}\n`);
process.stdout.write(`${total.toFixed(1).padStart(7)} kB  all, gzipped; limit ${LIMIT_KB} kB\n`);
if (total > LIMIT_KB) {
  process.stderr.write(`The app is ${(total - LIMIT_KB).toFixed(1)} kB over its limit: leave something out or load it later.\n`);
  process.exit(1);
}
