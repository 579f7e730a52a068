import { readdir } from "node:fs/promises";
import { join } from "node:path";
import { lookOver, photosWithoutLine } from "../../server/keep/look-over.ts";
import { folderOf, readLedger } from "../../server/keep/read-ledger.ts";
import { sha256OfFile } from "../../server/store/disk.ts";
import { keptFolder, keptPhoto } from "../support/kept-delivery.ts";
import { writtenId } from "../support/written-delivery.ts";
import type { Acked } from "./ledger-load.ts";

/** What was acknowledged and is not there, or is there and not whole; a sentence each. Nothing is written. */
export const lostOrHalf = async (data: string, acked: Acked): Promise<string[]> => {
  const ledger = await readLedger(writtenId, keptFolder(data));
  const { document, damage } = ledger;
  if (!document || damage) return [`does not open: line ${damage?.line} ${damage?.why}`];
  const photos = new Set(document.photos.map(({ id }) => id));
  const readings = new Set(document.readings.map(({ place }) => place));
  const missing = [
    ...[...acked.photos].filter((id) => !photos.has(id)).map((id) => `photo ${id} is lost`),
    ...[...acked.readings].filter((place) => !readings.has(place)).map((place) => `reading of ${place} is lost`),
    ...[...acked.records].filter((number) => !document.records[number - 1]).map((number) => `record ${number} is lost`),
  ];
  for (const id of acked.deliveries)
    if ((await lookOver(id, folderOf(data, id))).faults.length > 0) missing.push(`delivery ${id} is lost`);
  const half: string[] = [];
  for (const id of await photosWithoutLine(ledger))
    if ((await sha256OfFile(keptPhoto(data, id))) !== id) half.push(`photo file ${id} is not whole`);
  return [...missing, ...half, ...(await lookOver(writtenId, keptFolder(data))).faults];
};

/** Files that are only there while something is written: uploads, and files that were to be renamed. */
export const temporaryFiles = async (data: string): Promise<string[]> => {
  const entries = await readdir(data, { recursive: true, withFileTypes: true });
  return entries
    .filter((entry) => entry.isFile())
    .map(({ parentPath, name }) => join(parentPath, name).slice(data.length + 1))
    .filter((path) => path.endsWith(".tmp") || path.includes("/tmp/") || path.includes(".making-"));
};
