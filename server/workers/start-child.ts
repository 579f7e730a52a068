import { type ChildProcess, fork } from "node:child_process";
import { setPriority } from "node:os";
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

/** Where the system has no such thing, or no longer the process, it works as eagerly as others. */
const giveWay = ({ pid }: ChildProcess, niceness: number): void => {
  try {
    if (pid !== undefined && niceness > 0) setPriority(pid, niceness);
  } catch {}
};

/**
 * Starts a file of this folder, named without its ending, in a process of its own: from source or as built. `niceness` from 0 to 19:
 * how readily it gives way to other processes.
 */
export const startChild = (name: "child" | "planning-child", niceness = 0): ChildProcess => {
  const source = import.meta.url.endsWith(".ts");
  const child = fork(fileURLToPath(new URL(`./${name}.${source ? "ts" : "js"}`, import.meta.url)), [], {
    serialization: "advanced",
    execArgv: source ? ["--import", "tsx"] : [],
    env: childEnvironment(),
  });
  giveWay(child, niceness);
  return child;
};
