import { readFile } from "node:fs/promises";
import { join } from "node:path";
import type { RecordFiles } from "../site.ts";
import { writeDurably } from "./disk.ts";

const recordName = (number: number): string => `record-${String(number).padStart(6, "0")}`;

/**
 * The files of issued records, read-only. `issued` tells how many records the journal knows: files with a higher number
 * were left by a crash before their journal line and may be replaced; a known one never.
 */
export const recordFiles = (folder: string, issued: () => number): RecordFiles => {
  const path = (number: number, kind: "json" | "pdf"): string => join(folder, `${recordName(number)}.${kind}`);
  return {
    write: async (number, json, pdf) => {
      if (number <= issued()) throw new Error(`record ${number} is issued and never changes`);
      await writeDurably(path(number, "json"), json, 0o444);
      await writeDurably(path(number, "pdf"), pdf, 0o444);
    },
    json: (number) => readFile(path(number, "json"), "utf8"),
    pdf: (number) => readFile(path(number, "pdf")),
  };
};
