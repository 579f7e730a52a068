import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** The built server on a fresh folder with the demo delivery; the folder goes when the tests are over. */
const [, , port = "4187"] = process.argv;
const data = mkdtempSync(join(tmpdir(), "leafledger-pages-"));
const server = spawn(process.execPath, ["dist/server/cli/main.js", "serve", "--demo", "--data", data, "--port", port], {
  stdio: "inherit",
});
for (const signal of ["SIGINT", "SIGTERM"] as const) process.on(signal, () => server.kill(signal));
server.on("exit", (code) => {
  rmSync(data, { recursive: true, force: true });
  process.exit(code ?? 0);
});
