import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import * as node from "node:fs/promises";
import { dirname } from "node:path";
import { pipeline } from "node:stream/promises";

/** The calls by which the store writes: Node's own, or a test's that fail. */
export type Disk = Pick<typeof node, "access" | "mkdir" | "open" | "readdir" | "readFile" | "rename" | "rm">;

export const nodeDisk: Disk = node;

/** Makes the names in a folder durable: a renamed file survives a power cut only after this. */
export const flushFolder = async (folder: string, disk: Disk = nodeDisk): Promise<void> => {
  if (process.platform === "win32") return; // a folder cannot be opened there
  const handle = await disk.open(folder, "r");
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
};

/** Removes what is of no use any more; where that fails, the next start sweeps it. */
export const discard = (path: string, disk: Disk = nodeDisk): Promise<void> =>
  disk.rm(path, { recursive: true, force: true }).catch(() => undefined);

/**
 * Writes a whole file so that after a power cut either the old or the new one is there: a temporary file beside it,
 * flushed, read again and compared, renamed, and the folder flushed.
 */
export const writeDurably = async (
  path: string,
  data: string | Buffer,
  mode = 0o644,
  disk: Disk = nodeDisk,
): Promise<void> => {
  const bytes = Buffer.from(data);
  const temporary = `${path}.${process.pid}.${Math.random().toString(36).slice(2)}.tmp`;
  try {
    const handle = await disk.open(temporary, "wx", mode);
    try {
      await handle.writeFile(bytes);
      await handle.sync();
    } finally {
      await handle.close();
    }
    const written = await disk.readFile(temporary);
    if (!written.equals(bytes)) throw new Error(`${path}: the disk gave back other bytes than were written`);
    await disk.rename(temporary, path);
  } catch (error) {
    await discard(temporary, disk);
    throw error;
  }
  await flushFolder(dirname(path), disk);
};

/** Flushes a file that was written, gives it its place, and flushes the place's folder. */
export const moveDurably = async (from: string, to: string, mode: number, disk: Disk = nodeDisk): Promise<void> => {
  const handle = await disk.open(from, "r+");
  try {
    await handle.chmod(mode);
    await handle.sync();
  } finally {
    await handle.close();
  }
  await disk.rename(from, to);
  await flushFolder(dirname(to), disk);
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

/** Whether this folder or file may only be read, by its rights or by how its disk is mounted. */
export const isReadOnly = (error: unknown): boolean => hasCode(error, "EROFS", "EACCES", "EPERM");
