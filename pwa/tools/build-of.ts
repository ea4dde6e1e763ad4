import { createHash } from "node:crypto";
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";

/** Version, and ten hex digits of all sources: the same sources give the same. */
export function buildOf(folder: string): { version: string; build: string } {
  const digest = createHash("sha256");
  const names = readdirSync(join(folder, "src"), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();
  for (const name of names) digest.update(name.slice(folder.length)).update(readFileSync(name));
  const { version } = JSON.parse(readFileSync(join(folder, "package.json"), "utf8")) as { version: string };
  return { version, build: digest.digest("hex").slice(0, 10) };
}
