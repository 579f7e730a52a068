import { existsSync } from "node:fs";
import { mkdir, open, rename, rm, stat } from "node:fs/promises";
import { dirname, join } from "node:path";
import type { PhotoDamage, PhotoFiles } from "../site.ts";
import { flushFolder, sha256OfFile } from "./disk.ts";

const sizeOf = async (path: string): Promise<number | null> =>
  stat(path).then(
    ({ size }) => size,
    () => null,
  );

/** Originals in `photos/ab/abcdef…`, without an extension: what a file is was decided from its bytes. */
export const photoFiles = (folder: string): PhotoFiles => {
  const path = (sha256: string): string => join(folder, sha256.slice(0, 2), sha256);
  const damaged = new Map<string, PhotoDamage>();
  const look = async (sha256: string): Promise<PhotoDamage | null> => {
    try {
      return (await sha256OfFile(path(sha256))) === sha256 ? null : "changed";
    } catch {
      return "missing";
    }
  };
  return {
    path,
    has: (sha256) => !damaged.has(sha256) && existsSync(path(sha256)),
    damage: (sha256) => damaged.get(sha256) ?? null,
    check: async (sha256) => {
      const found = await look(sha256);
      if (found === null) damaged.delete(sha256);
      else damaged.set(sha256, found);
      return found;
    },
    keep: async (temporaryPath, sha256) => {
      const place = path(sha256);
      if (!damaged.has(sha256) && (await sizeOf(place)) === (await sizeOf(temporaryPath))) {
        await rm(temporaryPath);
        return;
      }
      await mkdir(dirname(place), { recursive: true });
      const handle = await open(temporaryPath, "r+");
      try {
        await handle.sync();
      } finally {
        await handle.close();
      }
      await rename(temporaryPath, place);
      await flushFolder(dirname(place));
      await flushFolder(folder);
      damaged.delete(sha256);
    },
  };
};
