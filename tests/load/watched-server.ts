import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { type BuiltServer, startBuilt } from "../support/built-server.ts";
import { smallDelivery } from "../support/small-delivery.ts";

const here = import.meta.dirname;

/** Memory of a process now and at its highest, and its open files. Linux only. */
export interface Taken {
  readonly name: string;
  readonly nowMB: number;
  readonly mostMB: number;
  readonly files: number;
}

const childrenOf = (pid: number): number[] =>
  readFileSync(`/proc/${pid}/task/${pid}/children`, "utf8").trim().split(" ").filter(Boolean).map(Number);

const takenBy = (pid: number, name: string): Taken => {
  const status = readFileSync(`/proc/${pid}/status`, "utf8");
  const megabytes = (field: string) => Number(new RegExp(`${field}:\\s+(\\d+)`).exec(status)?.[1] ?? 0) / 1024;
  return { name, nowMB: megabytes("VmRSS"), mostMB: megabytes("VmHWM"), files: readdirSync(`/proc/${pid}/fd`).length };
};

/** The server and each of its children. */
export const takenByTree = (pid: number): Taken[] => [
  takenBy(pid, "server"),
  ...childrenOf(pid).map((child, k) => takenBy(child, `child ${k + 1}`)),
];

/** How long the event loop stood still, ms. */
export interface Stalls {
  readonly p99: number;
  readonly most: number;
}

/** What light calls took, ms. */
export interface Probed {
  readonly asked: number;
  readonly failed: number;
  readonly p50: number;
  readonly p99: number;
  readonly most: number;
}

/** The built server with a delivery of two leaves, its event loop watched. */
export interface WatchedServer extends BuiltServer {
  readonly pid: number;
  readonly delivery: string;
  /** Stalls since the last time. */
  stalls(): Promise<Stalls>;
  /** Begins to ask for light answers; what it returns ends that and tells how long they took. */
  probe(): () => Promise<Probed>;
  remove(): Promise<void>;
}

const gone = (child: ChildProcess): Promise<void> => new Promise((done) => child.once("close", () => done()));

export const watchedServer = async (): Promise<WatchedServer> => {
  const folder = mkdtempSync(join(tmpdir(), "leafledger-load-"));
  const file = join(folder, "stalls.json");
  const watch = pathToFileURL(join(here, "stall-watch.mjs")).href;
  const env = { NODE_OPTIONS: `--import ${watch}`, LEAFLEDGER_STALLS: file };
  const server = await startBuilt(join(folder, "data"), { env });
  const { pid } = server.process;
  if (pid === undefined) throw new Error("the server has no process");
  const { id: delivery } = (await server.call("createDelivery", {}, smallDelivery)).body as { id: string };
  const { patterns } = (await server.call("document", { delivery })).body as { patterns: { id: string }[] };
  for (const code of ["W01", "W02"]) {
    const leaf = { code, line: "L1", pattern: patterns[0]?.id, identity: "as-ordered", replaces: null };
    await server.call("addLeaf", { delivery }, { leaf });
  }
  const stalls = async (): Promise<Stalls> => {
    rmSync(file, { force: true });
    server.process.kill("SIGUSR2");
    for (let k = 0; k < 200 && !existsSync(file); k++) await new Promise((next) => setTimeout(next, 20));
    await new Promise((next) => setTimeout(next, 20));
    return JSON.parse(readFileSync(file, "utf8")) as Stalls;
  };
  // The first page with a window loads the tables of holidays, once.
  await server.call("overview", { delivery });
  await server.call("leaf", { delivery, leaf: "W01" });
  await stalls();
  return {
    ...server,
    pid,
    delivery,
    stalls,
    probe: () => {
      const base = `/api/v1/deliveries/${delivery}`;
      const paths = ["/healthz", base, `${base}/leaves/W01`, "/api/v1/deliveries"];
      const prober = spawn(
        process.execPath,
        [
          "--import",
          "tsx",
          fileURLToPath(new URL("./prober.ts", import.meta.url)),
          server.address,
          JSON.stringify(server.headers),
          ...paths,
        ],
        { stdio: ["pipe", "pipe", "inherit"] },
      );
      let told = "";
      prober.stdout.on("data", (text) => {
        told += String(text);
      });
      return async () => {
        prober.stdin.end();
        await gone(prober);
        return JSON.parse(told) as Probed;
      };
    },
    remove: async () => {
      server.kill("SIGKILL");
      await server.ended;
      rmSync(folder, { recursive: true, force: true });
    },
  };
};
