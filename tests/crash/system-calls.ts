import { spawn, spawnSync } from "node:child_process";
import { readFile } from "node:fs/promises";

/** One call of the operating system: what it was given, and where in the record of all calls it began and had ended. */
export interface SystemCall {
  readonly name: string;
  /** Arguments as strace writes them, files and sockets by their paths. */
  readonly given: string;
  readonly began: number;
  readonly ended: number;
  readonly result: string;
}

/** Reads what strace -f wrote: a call that another thread's came into stands on two lines. */
export const readCalls = (text: string): SystemCall[] => {
  const open = new Map<string, { name: string; given: string; began: number }>();
  const calls: SystemCall[] = [];
  for (const [at, line] of text.split("\n").entries()) {
    const whole = /^(\d+) +(\w+)\((.*)\) += (.+)$/.exec(line);
    const begun = /^(\d+) +(\w+)\((.*) <unfinished \.\.\.>$/.exec(line);
    const resumed = /^(\d+) +<\.\.\. \w+ resumed>(.*)\) += (.+)$/.exec(line);
    if (whole) calls.push({ name: whole[2]!, given: whole[3]!, began: at, ended: at, result: whole[4]! });
    else if (begun) open.set(begun[1]!, { name: begun[2]!, given: begun[3]!, began: at });
    else if (resumed) {
      const first = open.get(resumed[1]!);
      if (first) calls.push({ ...first, given: first.given + resumed[2]!, ended: at, result: resumed[3]! });
    }
  }
  return calls.sort((a, b) => a.began - b.began);
};

/** Whether strace is on this machine and may look at other processes. */
export const hasStrace = (): boolean => spawnSync("strace", ["-o", "/dev/null", "true"]).status === 0;

/** Records the calls that write and flush, and what goes out on sockets, of a process while something is done. */
export const callsDuring = async (pid: number, file: string, act: () => Promise<void>): Promise<SystemCall[]> => {
  const traced = "fsync,fdatasync,rename,renameat,renameat2,write,writev,pwrite64,sendto,sendmsg";
  const strace = spawn("strace", ["-f", "-yy", "-s", "48", "-e", `trace=${traced}`, "-o", file, "-p", String(pid)]);
  const over = new Promise<void>((done) => strace.once("exit", () => done()));
  await new Promise<void>((done, fail) => {
    strace.stderr.on("data", (text) => String(text).includes("attached") && done());
    void over.then(() => fail(new Error("strace ended before it began")));
  });
  await act().finally(() => strace.kill("SIGINT"));
  await over;
  return readCalls(await readFile(file, "utf8"));
};
