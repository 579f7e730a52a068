import { createReadStream, createWriteStream } from "node:fs";
import { mkdir, readdir, rm, stat } from "node:fs/promises";
import { dirname, join } from "node:path";
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

/** Copies a file with its mode to a place where none is, flushed to disk. One that is gone is passed over. */
export const copyDurably = async (from: string, to: string): Promise<void> => {
  await mkdir(dirname(to), { recursive: true });
  try {
    const { mode } = await stat(from);
    await pipeline(
      createReadStream(from, { highWaterMark: 1 << 20 }),
      createWriteStream(to, { flags: "wx", flush: true, mode }),
    );
  } catch (error) {
    if (!hasCode(error, "ENOENT")) throw error;
    await rm(to, { force: true });
  }
};

/**
 * Does something with each item, eight at a time: a disk flushes several files in hardly more time than one. When one fails no
 * more are begun, and the error is thrown once all that were have ended.
 */
export const eightAtATime = async <Item>(
  items: readonly Item[],
  task: (item: Item) => Promise<unknown>,
): Promise<void> => {
  const left = [...items].reverse();
  const lane = async (): Promise<void> => {
    for (let item = left.pop(); item !== undefined; item = left.pop())
      await task(item).catch((error: unknown) => {
        left.length = 0;
        throw error;
      });
  };
  const ended = await Promise.allSettled(Array.from({ length: 8 }, lane));
  const failed = ended.find((one) => one.status === "rejected");
  if (failed) throw failed.reason;
};

/** Copies all files of a folder and its folders, but for those being written; a file that is gone by then is passed over. */
export const copyFolder = async (from: string, to: string): Promise<void> => {
  const entries = await readdir(from, { recursive: true, withFileTypes: true }).catch(() => []);
  const files = entries.filter((one) => one.isFile() && !one.name.endsWith(".tmp"));
  await eightAtATime(files, ({ parentPath, name }) => {
    const path = join(parentPath, name);
    return copyDurably(path, join(to, path.slice(from.length)));
  });
};

/** Flushes the names in a folder and in all its folders. */
export const flushTree = async (folder: string): Promise<void> => {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const folders = entries.filter((one) => one.isDirectory());
  await eightAtATime(folders, ({ parentPath, name }) => flushFolder(join(parentPath, name)));
  await flushFolder(folder);
};
