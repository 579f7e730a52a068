import { createHash } from "node:crypto";
import preact from "@preact/preset-vite";
import { defineConfig, type Plugin } from "vite";

/** Tells the service worker which files to keep on a device: all that are built, and those of client/public that the page shows. */
const listShell = (shownAsTheyAre: readonly string[]): Plugin => ({
  name: "list-shell",
  enforce: "post",
  generateBundle(_options, bundle) {
    const worker = bundle["sw.js"];
    if (worker?.type !== "chunk") throw new Error("the service worker was not built");
    const built = Object.values(bundle).filter(({ fileName }) => fileName !== "sw.js");
    const version = createHash("sha256");
    for (const one of built) version.update(one.fileName).update(one.type === "chunk" ? one.code : one.source);
    const files = [
      ...built.map(({ fileName }) => `/${fileName}`).filter((path) => path !== "/index.html"),
      ...shownAsTheyAre,
    ];
    const shell = JSON.stringify({ version: version.digest("hex").slice(0, 16), files });
    worker.code = `self.shell=${shell};${worker.code}`;
  },
});

export default defineConfig({
  root: "client",
  plugins: [preact(), listShell(["/leaf.svg"])],
  build: {
    outDir: "../dist/client",
    emptyOutDir: true,
    rolldownOptions: {
      input: { index: "client/index.html", sw: "client/service-worker.ts" },
      output: { entryFileNames: ({ name }) => (name === "sw" ? "sw.js" : "assets/[name]-[hash].js") },
    },
  },
  server: { proxy: { "/api": "http://127.0.0.1:4180" } },
});
