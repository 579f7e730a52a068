import { existsSync } from "node:fs";
import { dirname, join } from "node:path";
import type { PhotoDamage, PhotoFiles } from "../site.ts";
import { type Disk, flushFolder, moveDurably, nodeDisk, sha256OfFile } from "./disk.ts";
import { unwatched } from "./store-health.ts";

/** Where an original lies in the folder of all, by its SHA-256. */
export const photoPath =
  (folder: string) =>
  (sha256: string): string =>
    join(folder, sha256.slice(0, 2), sha256);

/** Reads a file whole and compares it with the SHA-256 that names it. */
export const lookAtPhoto = async (path: string, sha256: string): Promise<PhotoDamage | null> => {
  try {
    return (await sha256OfFile(path)) === sha256 ? null : "changed";
  } catch {
    return "missing";
  }
};

/**
 * Originals in `photos/ab/abcdef…`, without an extension: what a file is was decided from its bytes. One that is there already
 * is put in place again: it may have come there without being flushed, or been damaged since.
 */
export const photoFiles = (folder: string, disk: Disk = nodeDisk, health = unwatched): PhotoFiles => {
  const path = photoPath(folder);
  const damaged = new Map<string, PhotoDamage>();
  return {
    path,
    has: (sha256) => !damaged.has(sha256) && existsSync(path(sha256)),
    damage: (sha256) => damaged.get(sha256) ?? null,
    check: async (sha256) => {
      const found = await lookAtPhoto(path(sha256), sha256);
      if (found === null) damaged.delete(sha256);
      else damaged.set(sha256, found);
      return found;
    },
    keep: (temporaryPath, sha256) =>
      health.writing("photo", async () => {
        await disk.mkdir(dirname(path(sha256)), { recursive: true });
        await moveDurably(temporaryPath, path(sha256), 0o644, disk);
        await flushFolder(folder, disk);
        damaged.delete(sha256);
      }),
  };
};
