import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** The built program on the demo, measured and planned, in a folder of its own that goes with it. */
export interface DemoServer {
  /** Address of the demo delivery. */
  readonly root: string;
  stop(): Promise<void>;
}

/** Starts it; build first. Throws when the server ends before it is ready. */
export const startDemo = async (port: number): Promise<DemoServer> => {
  const data = mkdtempSync(join(tmpdir(), "leafledger-demo-"));
  const args = ["dist/server/cli/main.js", "serve", "--demo", "--data", data, "--port", String(port)];
  const server = spawn(process.execPath, args, { stdio: ["ignore", "pipe", "ignore"] });
  const ended = new Promise<void>((resolve) => server.on("close", () => resolve()));
  await new Promise<void>((resolve, reject) => {
    server.stdout.on("data", (text) => String(text).includes("ready") && resolve());
    server.on("close", () => reject(new Error("the server ended: build first with npm run build")));
  });
  return {
    root: `http://localhost:${port}/d/brannochquay`,
    stop: async () => {
      server.kill();
      await ended;
      rmSync(data, { recursive: true, force: true });
    },
  };
};
