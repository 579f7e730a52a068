import { readFile, stat } from "node:fs/promises";
import type { Delivery } from "../contract/delivery.ts";
import type { PhotoFiles, RecordFiles } from "../site.ts";
import { sha256OfFile } from "./disk.ts";
import { readJournalText } from "./journal-line.ts";

/** Reads the whole journal again and says what is wrong with its chain. */
const journalFaults = async (path: string, lines: number): Promise<string[]> => {
  const text = readJournalText(await readFile(path));
  if (text.kind === "damaged") return [`journal: line ${text.line} ${text.why}`];
  return text.lines.length < lines ? [`journal: ${lines - text.lines.length} lines at its end are gone`] : [];
};

type Originals = Pick<PhotoFiles, "path" | "check">;
type IssuedFiles = Pick<RecordFiles, "path">;

const photoFaults = async (files: Originals, { id, name, bytes }: Delivery["photos"][number]): Promise<string[]> => {
  const damage = await files.check(id);
  if (damage === null) return [];
  if (damage === "missing") return [`photo ${name}: the file is missing or cannot be read`];
  const { size } = await stat(files.path(id));
  return [`photo ${name}: ${size === bytes ? "its bytes were changed" : `is ${size} bytes long, was ${bytes}`}`];
};

const recordFaults = async (files: IssuedFiles, records: Delivery["records"], index: number): Promise<string[]> => {
  const record = records[index];
  if (!record) return [];
  const faults: string[] = [];
  const expected = records[index - 1]?.jsonSha256 ?? null;
  if (record.number !== index + 1) faults.push(`record ${record.number}: stands at place ${index + 1}`);
  if (record.previousSha256 !== expected) faults.push(`record ${record.number}: does not follow from the one before`);
  try {
    if ((await sha256OfFile(files.path(record.number, "json"))) !== record.jsonSha256)
      faults.push(`record ${record.number}: JSON changed`);
    if ((await sha256OfFile(files.path(record.number, "pdf"))) !== record.pdfSha256)
      faults.push(`record ${record.number}: PDF changed`);
    for (const { name, sha256 } of record.copies ?? [])
      if ((await sha256OfFile(files.path(record.number, name))) !== sha256)
        faults.push(`record ${record.number}: ${name} changed`);
  } catch {
    faults.push(`record ${record.number}: a file is missing or cannot be read`);
  }
  return faults;
};

interface Verified {
  readonly checked: number;
  readonly faults: string[];
}

/** Checks the files that a delivery names against their hashes: each photo and each issued record. */
export const verifyNamedFiles = async (
  delivery: Delivery,
  photos: Originals,
  records: IssuedFiles,
): Promise<Verified> => {
  const faults: string[] = [];
  for (const photo of delivery.photos) faults.push(...(await photoFaults(photos, photo)));
  for (const index of delivery.records.keys()) faults.push(...(await recordFaults(records, delivery.records, index)));
  return { checked: delivery.photos.length + 2 * delivery.records.length, faults };
};

/** Checks everything a delivery keeps against its hashes: each journal line, each photo, each issued record. */
export const verifyDeliveryFiles = async (
  delivery: Delivery,
  journal: { readonly path: string; readonly lines: number },
  photos: Originals,
  records: IssuedFiles,
): Promise<Verified> => {
  const faults = await journalFaults(journal.path, journal.lines);
  const files = await verifyNamedFiles(delivery, photos, records);
  return { checked: journal.lines + files.checked, faults: [...faults, ...files.faults] };
};
