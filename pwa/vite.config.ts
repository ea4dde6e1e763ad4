import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";
import { buildOf } from "./tools/build-of.ts";
import { offline } from "./tools/offline-plugin.ts";
import { shortTexts } from "./tools/texts-plugin.ts";

export default defineConfig({
  // The service and its strict policy allow no inline scripts and no data: addresses.
  build: {
    target: "es2022",
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    rolldownOptions: {
      input: { app: "index.html", sw: "src/sw/index.ts" },
      output: {
        entryFileNames: (chunk) => (chunk.name === "sw" ? "sw.js" : "assets/[name]-[hash].js"),
      },
    },
  },
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  define: { __BUILD__: JSON.stringify(buildOf(fileURLToPath(new URL(".", import.meta.url)))) },
  plugins: [shortTexts(), offline()],
  server: { proxy: { "/api": "http://127.0.0.1:8000" } },
  test: { include: ["test/**/*.test.ts", "test/**/*.test.tsx"], environment: "node", setupFiles: ["test/setup.ts"] },
});
