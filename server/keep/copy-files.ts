import { createHash } from "node:crypto";
import { createReadStream, createWriteStream } from "node:fs";
import { mkdir, readdir, rm, stat } from "node:fs/promises";
import { dirname, join } from "node:path";
import { Transform } from "node:stream";
import { pipeline } from "node:stream/promises";
import { Refusal } from "../problem.ts";
import { flushFolder, hasCode } from "../store/disk.ts";

/** Says in words that a disk is full; other errors are given on. */
export const fullDisk = (error: unknown, folder: string): unknown =>
  hasCode(error, "ENOSPC", "EDQUOT")
    ? new Refusal(
        `There is not enough room for ${folder}: it is not complete and was not kept. Name a larger disk.`,
        507,
      )
    : error;

/** Copies a file with its mode to a place where none is, flushed to disk; gives the SHA-256 of what was copied. Null where it is gone. */
export const copyDurably = async (from: string, to: string): Promise<string | null> => {
  const hash = createHash("sha256");
  const listen = new Transform({
    transform: (chunk: Buffer, _encoding, done) => {
      hash.update(chunk);
      done(null, chunk);
    },
  });
  await mkdir(dirname(to), { recursive: true });
  try {
    const { mode } = await stat(from);
    const into = createWriteStream(to, { flags: "wx", flush: true, mode });
    await pipeline(createReadStream(from, { highWaterMark: 1 << 20 }), listen, into);
  } catch (error) {
    if (!hasCode(error, "ENOENT")) throw error;
    await rm(to, { force: true });
    return null;
  }
  return hash.digest("hex");
};

/** Copies all files of a folder and its folders, but for those being written; a file that is gone by then is passed over. */
export const copyFolder = async (from: string, to: string): Promise<number> => {
  const entries = await readdir(from, { recursive: true, withFileTypes: true }).catch(() => []);
  let copied = 0;
  for (const entry of entries.filter((one) => one.isFile() && !one.name.endsWith(".tmp"))) {
    const path = join(entry.parentPath, entry.name);
    if ((await copyDurably(path, join(to, path.slice(from.length)))) !== null) copied++;
  }
  return copied;
};

/** Flushes the names in a folder and in all its folders. */
export const flushTree = async (folder: string): Promise<void> => {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  for (const entry of entries.filter((one) => one.isDirectory())) await flushFolder(join(entry.parentPath, entry.name));
  await flushFolder(folder);
};
