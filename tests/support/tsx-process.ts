import { type ChildProcessWithoutNullStreams, spawn } from "node:child_process";
import { fileURLToPath } from "node:url";
import { onTestFinished } from "vitest";

const root = fileURLToPath(new URL("../..", import.meta.url));

/** Starts a TypeScript file of the project as one process of its own; it is ended with the test. */
export const startScript = (path: string, ...args: string[]): ChildProcessWithoutNullStreams => {
  const child = spawn(process.execPath, ["--import", "tsx", path, ...args], { cwd: root });
  onTestFinished(() => {
    child.kill("SIGKILL");
  });
  return child;
};

/** The first line that a process prints, or what it printed when it ended. */
export const firstLine = (child: ChildProcessWithoutNullStreams): Promise<string> =>
  new Promise((done) => {
    let text = "";
    child.stdout.on("data", (data) => {
      text += String(data);
      if (text.includes("\n")) done(text.slice(0, text.indexOf("\n")));
    });
    child.once("close", () => done(text.trim()));
  });

export const ended = (child: ChildProcessWithoutNullStreams): Promise<number | null> =>
  new Promise((done) => {
    if (child.exitCode !== null || child.signalCode !== null) done(child.exitCode);
    else child.once("close", (code) => done(code));
  });
