import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import type { Plugin } from "vite";

const GROUP = /^export const (\w+)(?:: [^=]+)? = \{/;
const ENTRY = /^ {2}(\w+): /;
/** Groups that are looked up by a word of the service or of the address keep their names. */
const LOOKED_UP = new Set(["named", "shows", "lacking", "heads", "tables"]);
const USE = /\bt\(\)\.(\w+)\.(\w+)/g;

type Names = ReadonlyMap<string, string>;

/** Runs through a catalogue file and tells each line's group. */
function* lines(source: string): Generator<{ line: string; group: string }> {
  let group = "";
  for (const line of source.split("\n")) {
    group = GROUP.exec(line)?.[1] ?? group;
    yield { line, group };
  }
}

function namesIn(folder: string): Names {
  const names = new Map<string, string>();
  for (const file of readdirSync(folder))
    for (const { line, group } of lines(readFileSync(join(folder, file), "utf8"))) {
      const key = ENTRY.exec(line)?.[1];
      if (key && group && !LOOKED_UP.has(group)) names.set(`${group}.${key}`, `_${names.size.toString(36)}`);
    }
  return names;
}

const shortened = (source: string, names: Names): string =>
  [...lines(source)]
    .map(({ line, group }) => line.replace(ENTRY, (_all, key: string) => `  ${names.get(`${group}.${key}`) ?? key}: `))
    .join("\n");

/** Long names of texts are for readers of the code: a phone is sent short ones. */
export function shortTexts(): Plugin {
  let names: Names = new Map();
  let folder = "";
  return {
    name: "baylore-short-texts",
    apply: "build",
    enforce: "pre",
    configResolved(config) {
      folder = join(config.root, "src/texts");
      names = namesIn(join(folder, "en"));
    },
    transform(code, id) {
      if (!/\/src\/.*\.tsx?$/.test(id)) return null;
      if (id.startsWith(folder) && !id.endsWith("index.ts")) return { code: shortened(code, names), map: null };
      const used = code.replace(USE, (all, group: string, key: string) => {
        if (LOOKED_UP.has(group)) return all;
        const name = names.get(`${group}.${key}`);
        if (!name) this.error(`${id} uses t().${group}.${key}, which the English texts do not have`);
        return `t().${group}.${name}`;
      });
      return used === code ? null : { code: used, map: null };
    },
  };
}
