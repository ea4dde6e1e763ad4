/** Reports the built client's size, gzipped, and fails when what the start needs has grown over its limit. */

import { readFileSync, readdirSync } from "node:fs";
import { join, posix } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";

const LIMIT_KB = 60;
const DIST = fileURLToPath(new URL("../dist", import.meta.url));
/** `import("…")` is later, `import "…"` and `from "…"` are at once. */
const AT_ONCE = /(?:\bfrom|\bimport)\s*["'`](\.[^"'`]+)["'`]/g;

const text = (name) => readFileSync(join(DIST, name), "utf8");

/** The page, what it names, and what those import at once. */
function startFiles() {
  const wanted = [
    "index.html",
    ...[...text("index.html").matchAll(/(?:src|href)="\/(assets\/[^"]+)"/g)].map(([, name]) => name),
  ];
  for (const name of wanted) {
    if (!name.endsWith(".js")) continue;
    const imports = [...text(name).matchAll(AT_ONCE)].map(([, path]) => posix.join(posix.dirname(name), path));
    wanted.push(...imports.filter((path) => !wanted.includes(path)));
  }
  return new Set(wanted);
}

const start = startFiles();
const rows = readdirSync(DIST, { recursive: true })
  .filter((name) => /\.(js|css|html|webmanifest)$/.test(name))
  .map((name) => ({
    name,
    kb: gzipSync(readFileSync(join(DIST, name)), { level: 9 }).length / 1000,
    first: start.has(name),
  }));
const sum = (some) => some.reduce((total, { kb }) => total + kb, 0);
const first = sum(rows.filter((row) => row.first));

for (const { name, kb, first } of rows)
  process.stdout.write(`${kb.toFixed(1).padStart(7)} kB  ${name}${first ? "" : "  (after the start)"}\n`);
process.stdout.write(
  `${first.toFixed(1).padStart(7)} kB  to start, gzipped; limit ${LIMIT_KB} kB\n${sum(rows).toFixed(1).padStart(7)} kB  all\n`,
);
if (first > LIMIT_KB) {
  process.stderr.write(
    `The start is ${(first - LIMIT_KB).toFixed(1)} kB over its limit: leave something out or load it later.\n`,
  );
  process.exit(1);
}
