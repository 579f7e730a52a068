import { createHash, randomBytes, randomInt } from "node:crypto";
import { open, readFile, rm } from "node:fs/promises";
import { connect, createServer, type Server } from "node:net";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { hasCode } from "./disk.ts";

export interface FolderLock {
  /** Null while nobody else has taken the folder over, else a sentence that names who. Asked before each commit. */
  readonly whyNotMine: () => Promise<string | null>;
  release(): Promise<void>;
}

// A socket's path may be 107 bytes long on Linux and 103 on macOS (sys/un.h).
const longestPath = 100;
const patienceMs = 600;

/** Where the lock of a data folder is: a socket in it, elsewhere when the path is too long, a named pipe on Windows. */
export const lockPath = (folder: string): string => {
  const name = `leafledger-${createHash("sha256").update(resolve(folder)).digest("hex").slice(0, 16)}`;
  if (process.platform === "win32") return `\\\\.\\pipe\\${name}`;
  const inside = join(resolve(folder), "lock.sock");
  return Buffer.byteLength(inside) <= longestPath ? inside : join(tmpdir(), `${name}.sock`);
};

type Owner = { readonly kind: "nobody" } | { readonly kind: "somebody"; readonly says: string };

/** Asks whoever holds the lock. A holder that is stopped does not answer, and holds it all the same. */
const askOwner = (path: string): Promise<Owner> =>
  new Promise((done) => {
    let says = "";
    const socket = connect(path);
    socket.setTimeout(patienceMs, () => socket.destroy());
    socket.on("data", (data) => {
      says += data.toString();
    });
    socket.on("error", (error) => {
      if (hasCode(error, "ECONNREFUSED", "ENOENT")) done({ kind: "nobody" });
    });
    socket.on("close", () => done({ kind: "somebody", says }));
  });

const listen = (server: Server, path: string): Promise<boolean> =>
  new Promise((done, fail) => {
    server.once("error", (error) => (hasCode(error, "EADDRINUSE") ? done(false) : fail(error)));
    server.listen(path, () => done(true));
  });

const close = (server: Server): Promise<void> => new Promise((done) => server.close(() => done()));

const holderFile = "holder";

/** Who wrote last that the folder is theirs: process id and a random word. */
const holderOf = async (folder: string): Promise<string> =>
  readFile(join(folder, holderFile), "utf8").then(
    (text) => text.trim(),
    () => "",
  );

const pidOf = (holder: string): string | undefined => holder.split(" ")[0] || undefined;

/**
 * Writes down whose the folder is, in place, so that it works on a full disk once the file is there. The socket alone keeps two
 * apart; this is for a socket that somebody removed under a process that was stopped. False where it could not be written.
 */
const writeHolder = async (folder: string, mine: string): Promise<boolean> => {
  try {
    const handle = await open(join(folder, holderFile), "a+");
    await handle.close();
    const file = await open(join(folder, holderFile), "r+");
    try {
      await file.write(mine.padEnd(63).concat("\n"), 0);
      await file.sync();
    } finally {
      await file.close();
    }
    return true;
  } catch {
    return false;
  }
};

const inUse = (folder: string, pid: string | undefined): Error =>
  new Error(`${folder} is already in use by ${pid ? `process ${pid}` : "a process that does not answer"}.`);

/** Tries to hold the lock: the server that holds it, or null where another got in between. Throws when another holds it. */
const tryToHold = async (folder: string, path: string, mine: string): Promise<Server | null> => {
  const server = createServer((socket) => {
    socket.on("error", () => socket.destroy());
    socket.end(mine);
  });
  for (let tries = 0; !(await listen(server, path)); tries++) {
    const owner = await askOwner(path);
    if (owner.kind === "somebody") throw inUse(folder, pidOf(owner.says || (await holderOf(folder))));
    if (tries > 3) throw inUse(folder, undefined);
    await rm(path, { force: true }); // left behind by a process that died
  }
  await wait(50);
  const owner = await askOwner(path);
  if (owner.kind === "somebody" && owner.says === mine) return server;
  await close(server);
  return null;
};

const takenOver = (pid: string | undefined): string =>
  `Another Leafledger (process ${pid}) has taken over this data folder, so this one writes nothing more. End this one, and go on in the other.`;

/** Two that clear away the same dead socket may each undo the other's; a pause of another length each time parts them. */
const rounds = 8;

/**
 * Makes this process the only one that writes in a folder; throws, naming the other's process id, when another does.
 * The operating system frees the lock when its holder dies, and keeps it while its holder is merely stopped.
 */
export const lockFolder = async (folder: string): Promise<FolderLock> => {
  const path = lockPath(folder);
  const mine = `${process.pid} ${randomBytes(8).toString("hex")}`;
  for (let round = 0; round < rounds; round++) {
    const server = await tryToHold(folder, path, mine);
    if (server) {
      server.unref();
      const written = await writeHolder(folder, mine);
      const whyNotMine = async () => {
        const holder = written ? await holderOf(folder) : mine;
        return holder === mine || holder === "" ? null : takenOver(pidOf(holder));
      };
      return { whyNotMine, release: () => close(server) };
    }
    await wait(50 + randomInt(300));
  }
  throw inUse(folder, undefined);
};
