import { type ChildProcess, fork } from "node:child_process";
import { fileURLToPath } from "node:url";

/** Starts a file of this folder, named without its ending, in a process of its own: from source or as built. */
export const startChild = (name: "child" | "planning-child"): ChildProcess => {
  const source = import.meta.url.endsWith(".ts");
  return fork(fileURLToPath(new URL(`./${name}.${source ? "ts" : "js"}`, import.meta.url)), [], {
    serialization: "advanced",
    execArgv: source ? ["--import", "tsx"] : [],
    // Nothing of the server's environment goes to the process that opens strangers' files.
    env: { PATH: process.env.PATH, HOME: process.env.HOME },
  });
};
