import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, renameSync, rmSync, statSync } from "node:fs";
import { join } from "node:path";
import type { Body } from "../../server/contract/calls.ts";
import { type CallName, paths } from "../../server/contract/paths.ts";
import { by } from "./small-delivery.ts";

const project = join(import.meta.dirname, "../..");
const cache = join(project, "node_modules/.cache/leafledger-server");

/** Names a build by the names, sizes and times of all that goes into it. */
const stampOfSources = (): string => {
  const hash = createHash("sha256");
  const files = ["analysis", "server"].flatMap((folder) =>
    readdirSync(join(project, folder), { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath, entry.name)),
  );
  for (const path of [...files, join(project, "tsconfig.build.json"), join(project, "tsconfig.json")].sort()) {
    const { size, mtimeMs } = statSync(path);
    hash.update(`${path} ${size} ${mtimeMs}\n`);
  }
  return hash.digest("hex").slice(0, 16);
};

const anHour = 3_600_000;

/**
 * Compiles the server, without the client, unless these very sources are compiled already, and gives the path of its command
 * line. Two that do so at once do it twice; the first to finish gives the build its name.
 */
export const builtMain = (): string => {
  const place = join(cache, stampOfSources());
  const main = join(place, "server/cli/main.js");
  if (existsSync(main)) return main;
  mkdirSync(cache, { recursive: true });
  for (const old of readdirSync(cache))
    if (statSync(join(cache, old)).mtimeMs < Date.now() - anHour) rmSync(join(cache, old), { recursive: true });
  const making = `${place}.${process.pid}`;
  const tsc = spawnSync("npx", ["tsc", "-p", "tsconfig.build.json", "--outDir", making], {
    cwd: project,
    encoding: "utf8",
  });
  if (!existsSync(join(making, "server/cli/main.js"))) throw new Error(`The server was not compiled:\n${tsc.stdout}`);
  try {
    renameSync(making, place);
  } catch {
    rmSync(making, { recursive: true }); // another was quicker
  }
  return main;
};

/** What a call answered. */
export interface Answer {
  readonly status: number;
  // biome-ignore lint/suspicious/noExplicitAny: a test says itself what it expects of an answer
  readonly body: any;
}

/** The built server on a data folder, as a process of its own, and a browser's session with it. */
export interface BuiltServer {
  /** As "http://localhost:40123". */
  readonly address: string;
  readonly process: ChildProcess;
  /** From the start of the process to its address, ms. */
  readonly startMs: number;
  /** The headers of the session, for requests of another make. */
  readonly headers: Readonly<Record<string, string>> & { readonly cookie: string };
  /** Rejects when the connection breaks. */
  call(name: CallName, params?: Readonly<Record<string, string>>, body?: object): Promise<Answer>;
  /** Sends a photo; what is not said about it is that of a detail of no leaf. */
  upload(delivery: string, bytes: Buffer, about?: Partial<Body<"uploadPhoto">>): Promise<Answer>;
  kill(signal: NodeJS.Signals): void;
  /** How it ended. */
  readonly ended: Promise<{ readonly code: number | null; readonly signal: NodeJS.Signals | null }>;
  /** What it wrote to its standard error so far. */
  errors(): string;
}

/** Loaded before the server: it dies with the process that started it, however that ends. */
const diesWithItsParent = `data:text/javascript,${encodeURIComponent(
  "const parent = process.ppid; setInterval(() => process.ppid === parent || process.kill(process.pid, 'SIGKILL'), 500).unref();",
)}`;

/** The path of a call with what its colons stand for. */
export const addressOf = (path: string, params: Readonly<Record<string, string>>): string =>
  path.replace(/:(\w+)/g, (_, name: string) => encodeURIComponent(params[name] ?? ""));

const readAnswer = async (response: Response): Promise<Answer> => {
  const text = await response.text();
  const isJson = /json/.test(response.headers.get("content-type") ?? "");
  return { status: response.status, body: isJson ? JSON.parse(text) : text };
};

/** The session that a browser on this computer gets without a code, under a name. */
const signIn = async (address: string, headers: Record<string, string>): Promise<string> => {
  const session = await fetch(`${address}${paths.beginHere[1]}`, { method: "POST", headers });
  await session.arrayBuffer();
  const cookie = session.headers.getSetCookie().map((one) => one.split(";")[0]);
  if (!session.ok || cookie.length === 0) throw new Error(`No session: ${session.status}`);
  const named = await fetch(`${address}${paths.nameSession[1]}`, {
    method: "PUT",
    headers: { ...headers, cookie: cookie.join("; "), "content-type": "application/json" },
    body: JSON.stringify({ name: by.name }),
  });
  if (!named.ok) throw new Error(`The session took no name: ${named.status} ${await named.text()}`);
  await named.arrayBuffer();
  return cookie.join("; ");
};

/** What is said of a photo that shows no leaf, and stands on no record. */
export const aboutDetail = (bytes: Buffer): Body<"uploadPhoto"> => {
  const sha256 = createHash("sha256").update(bytes).digest("hex");
  return { sha256, name: `${sha256.slice(0, 8)}.jpg`, kind: "detail", shows: [], note: "" };
};

/**
 * Starts the built server. The caller ends it; it never outlives this process. A start with the cookie of one before goes on with
 * its session.
 */
export const startBuilt = async (
  data: string,
  {
    main = builtMain(),
    env = {},
    cookie: before,
  }: { readonly main?: string; readonly env?: NodeJS.ProcessEnv; readonly cookie?: string | undefined } = {},
): Promise<BuiltServer> => {
  const began = performance.now();
  const child = spawn(process.execPath, ["--import", diesWithItsParent, main, "serve", "--port", "0", "--data", data], {
    stdio: ["ignore", "pipe", "pipe"],
    env: { LEAFLEDGER_RATES: "1000000,1000000,1000000", ...process.env, ...env },
  });
  let [out, err] = ["", ""];
  child.stderr.on("data", (text) => {
    err += String(text);
  });
  const ended = new Promise<{ code: number | null; signal: NodeJS.Signals | null }>((done) =>
    child.once("exit", (code, signal) => done({ code, signal })),
  );
  const address = await new Promise<string>((done, fail) => {
    child.stdout.on("data", (text) => {
      out += String(text);
      const found = /http:\/\/localhost:\d+/.exec(out)?.[0];
      if (found && out.includes("\n")) done(found);
    });
    void ended.then(({ code }) => fail(new Error(`the server ended with ${code} before it was ready:\n${err}`)));
  });
  const startMs = performance.now() - began;
  const asPage = { origin: address, "sec-fetch-site": "same-origin", "x-leafledger": "1" };
  const cookie = before ?? (await signIn(address, asPage));
  const headers = { ...asPage, cookie };

  const call: BuiltServer["call"] = async (name, params = {}, body) => {
    const [method, path] = paths[name];
    const sent = body && { body: JSON.stringify(body) };
    const type = body && { "content-type": "application/json" };
    return readAnswer(
      await fetch(`${address}${addressOf(path, params)}`, { method, headers: { ...headers, ...type }, ...sent }),
    );
  };

  return {
    address,
    process: child,
    startMs,
    headers,
    call,
    upload: async (delivery, bytes, about = {}) => {
      const whole = { ...aboutDetail(bytes), ...about };
      const form = new FormData();
      form.set("about", JSON.stringify(whole));
      form.set("photo", new Blob([new Uint8Array(bytes)], { type: "image/jpeg" }), whole.name);
      const path = addressOf(paths.uploadPhoto[1], { delivery });
      return readAnswer(await fetch(`${address}${path}`, { method: "POST", headers, body: form }));
    },
    kill: (signal) => child.kill(signal),
    ended,
    errors: () => err,
  };
};
