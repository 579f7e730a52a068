import { type ChildProcess, fork } from "node:child_process";
import { fileURLToPath } from "node:url";

/**
 * All that a child gets of the server's environment, where it is set: the process that opens strangers' files holds no
 * secrets and knows no folder of ours but those of its jobs. SystemRoot: without it Windows starts no process.
 */
const childEnvironment = (): NodeJS.ProcessEnv =>
  Object.fromEntries(
    ["PATH", "LANG", "SystemRoot"].flatMap((name) => {
      const value = process.env[name];
      return value === undefined ? [] : [[name, value]];
    }),
  );

/** Starts a file of this folder, named without its ending, in a process of its own: from source or as built. */
export const startChild = (name: "child" | "planning-child"): ChildProcess => {
  const source = import.meta.url.endsWith(".ts");
  return fork(fileURLToPath(new URL(`./${name}.${source ? "ts" : "js"}`, import.meta.url)), [], {
    serialization: "advanced",
    execArgv: source ? ["--import", "tsx"] : [],
    env: childEnvironment(),
  });
};
