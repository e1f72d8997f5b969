import { createHash } from "node:crypto";
import { defineConfig, type Plugin } from "vite";

/** Fills the floor's worker with the names of its own build: the page's files as they lie in the output, and nothing else. */
function worker(): Plugin {
  return {
    name: "floor-worker",
    enforce: "post",
    generateBundle(_, bundle) {
      const files = floorFiles(bundle);
      const own = bundle["floor-worker.js"];
      if (own?.type !== "chunk") throw new Error("the floor's worker was not built");
      const page = bundle["floor.html"];
      const text = page?.type === "asset" ? String(page.source) : "";
      const build = createHash("sha256").update(files.join("\n") + text + own.code).digest("hex").slice(0, 16);
      own.code = own.code.replaceAll("__BUILD__", JSON.stringify(build)).replaceAll("__FILES__", JSON.stringify(files));
    },
  };
}

type Bundle = Parameters<Extract<NonNullable<Plugin["generateBundle"]>, (...of: never[]) => unknown>>[1];

function floorFiles(bundle: Bundle): string[] {
  const found = new Set<string>();
  const follow = (name: string) => {
    const one = bundle[name];
    if (!one || found.has(name)) return;
    found.add(name);
    if (one.type !== "chunk") return;
    for (const next of [...one.imports, ...one.dynamicImports, ...(one.viteMetadata?.importedCss ?? [])]) follow(next);
  };
  for (const one of Object.values(bundle)) if (one.type === "chunk" && one.isEntry && one.name === "floor") follow(one.fileName);
  for (const one of [...found]) {
    const sheet = bundle[one];
    if (sheet?.type !== "asset" || !one.endsWith(".css")) continue;
    for (const [, name] of String(sheet.source).matchAll(/url\(\/(assets\/[^)]+\.woff2)\)/g)) if (name) found.add(name);
  }
  return [...[...found].sort().map((one) => `/${one}`), "/mark.svg", "/floor.webmanifest", "/floor-192.png"];
}

// Everything is served by planish itself: no file is inlined, so that the content policy needs no exception.
export default defineConfig({
  base: "/",
  plugins: [worker()],
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  build: {
    outDir: "static",
    emptyOutDir: true,
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    target: "es2022",
    rolldownOptions: {
      input: { index: "index.html", floor: "floor.html", "floor-worker": "src/hall/worker.ts" },
      output: { entryFileNames: (one) => (one.name === "floor-worker" ? "floor-worker.js" : "assets/[name]-[hash].js") },
    },
  },
  server: { proxy: { "/api": "http://127.0.0.1:8471" } },
});
