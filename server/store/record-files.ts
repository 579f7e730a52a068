import { join } from "node:path";
import type { RecordFiles } from "../site.ts";
import { type Disk, moveDurably, nodeDisk, writeDurably } from "./disk.ts";
import { unwatched } from "./store-health.ts";

/** Where a file of a record lies in the folder of all: "json", "pdf", or the name of a copy. */
export const recordPath =
  (folder: string) =>
  (number: number, name: string): string =>
    join(folder, `record-${String(number).padStart(6, "0")}.${name}`);

/**
 * The files of issued records, read-only. `issued` tells how many records the journal knows: files with a higher number
 * were left by a crash before their journal line and may be replaced; a known one never.
 */
export const recordFiles = (
  folder: string,
  issued: () => number,
  disk: Disk = nodeDisk,
  health = unwatched,
): RecordFiles => {
  const path = recordPath(folder);
  return {
    path,
    write: async (number, json, pdf, copies = new Map()) => {
      if (number <= issued()) throw new Error(`record ${number} is issued and never changes`);
      await health.writing("file", async () => {
        for (const [name, file] of copies) await moveDurably(file, path(number, name), 0o444, disk);
        await writeDurably(path(number, "json"), json, 0o444, disk);
        await writeDurably(path(number, "pdf"), pdf, 0o444, disk);
      });
    },
    json: (number) => disk.readFile(path(number, "json"), "utf8"),
    pdf: (number) => disk.readFile(path(number, "pdf")),
  };
};
