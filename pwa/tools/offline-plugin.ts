import { createHash } from "node:crypto";
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import type { Plugin } from "vite";

const MANIFEST = {
  id: "/",
  name: "Baylore",
  short_name: "Baylore",
  description: "What it turned out to be before, and what to test next.",
  start_url: "/",
  scope: "/",
  display: "standalone",
  background_color: "#dcd9d0",
  theme_color: "#1a2663",
  icons: [
    { src: "/icon.svg", sizes: "any", type: "image/svg+xml", purpose: "any" },
    { src: "/icon-192.png", sizes: "192x192", type: "image/png", purpose: "any" },
    { src: "/icon-512.png", sizes: "512x512", type: "image/png", purpose: "any" },
    { src: "/icon-maskable-512.png", sizes: "512x512", type: "image/png", purpose: "maskable" },
  ],
};

type ShellFile = readonly [address: string, digest: string];

const digest = (content: string | Uint8Array): string =>
  createHash("sha256").update(content).digest("hex").slice(0, 16);

const publicFiles = (folder: string): ShellFile[] =>
  readdirSync(folder).map((name) => [`/${name}`, digest(readFileSync(join(folder, name)))]);

/** Writes the manifest, and into the worker the list of every file the shell needs with its digest. */
export function offline(): Plugin {
  let folder = "public";
  return {
    name: "baylore-offline",
    apply: "build",
    enforce: "post",
    configResolved(config) {
      folder = config.publicDir;
    },
    generateBundle(_options, bundle) {
      const manifest = JSON.stringify(MANIFEST, null, 1);
      this.emitFile({ type: "asset", fileName: "manifest.webmanifest", source: manifest });
      const files: ShellFile[] = [["/manifest.webmanifest", digest(manifest)], ...publicFiles(folder)];
      for (const [name, file] of Object.entries(bundle)) {
        if (name === "sw.js" || name === "manifest.webmanifest" || name.endsWith(".map")) continue;
        const address = name === "index.html" ? "/" : `/${name}`;
        files.push([address, digest(file.type === "chunk" ? file.code : file.source)]);
      }
      files.sort(([a], [b]) => (a < b ? -1 : 1));
      const worker = bundle["sw.js"];
      if (worker?.type !== "chunk") this.error("the worker was not built as sw.js");
      if (worker.imports.length) this.error("the worker must import nothing of the app");
      const version = JSON.stringify(digest(JSON.stringify(files)));
      worker.code = worker.code
        .replaceAll("__SHELL_FILES__", JSON.stringify(files))
        .replaceAll("__SHELL_VERSION__", version);
    },
  };
}
