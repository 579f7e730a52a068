import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { open, readFile, rename, rm } from "node:fs/promises";
import { dirname } from "node:path";
import { pipeline } from "node:stream/promises";

/** Makes the names in a folder durable: a renamed file survives a power cut only after this. */
export const flushFolder = async (folder: string): Promise<void> => {
  if (process.platform === "win32") return; // a folder cannot be opened there
  const handle = await open(folder, "r");
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
};

/**
 * Writes a whole file so that after a power cut either the old or the new one is there: a temporary file beside it,
 * flushed, read again and compared, renamed, and the folder flushed.
 */
export const writeDurably = async (path: string, data: string | Buffer, mode = 0o644): Promise<void> => {
  const bytes = Buffer.from(data);
  const temporary = `${path}.${process.pid}.${Math.random().toString(36).slice(2)}.tmp`;
  try {
    const handle = await open(temporary, "wx", mode);
    try {
      await handle.writeFile(bytes);
      await handle.sync();
    } finally {
      await handle.close();
    }
    const written = await readFile(temporary);
    if (!written.equals(bytes)) throw new Error(`${path}: the disk gave back other bytes than were written`);
    await rename(temporary, path);
  } catch (error) {
    await rm(temporary, { force: true });
    throw error;
  }
  await flushFolder(dirname(path));
};

/** Large enough that reading costs little beside hashing, bytes. */
const pieceBytes = 1 << 20;

/** SHA-256 of a file, read piece by piece. */
export const sha256OfFile = async (path: string): Promise<string> => {
  const hash = createHash("sha256");
  await pipeline(createReadStream(path, { highWaterMark: pieceBytes }), hash);
  return hash.digest("hex");
};

/** Whether an error of the file system has this code, as "ENOENT". */
export const hasCode = (error: unknown, ...codes: string[]): boolean =>
  error instanceof Error && "code" in error && codes.includes(String(error.code));
