import { defineConfig } from "vite";

// Everything is served by planish itself: no file is inlined, so that the content policy needs no exception.
export default defineConfig({
  base: "/",
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  build: {
    outDir: "static",
    emptyOutDir: true,
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    target: "es2022",
  },
  server: { proxy: { "/api": "http://127.0.0.1:8471" } },
});
