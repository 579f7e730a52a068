import { readdir } from "node:fs/promises";
import { join } from "node:path";
import { lookAtPhoto, photoPath } from "../store/photo-files.ts";
import { recordPath } from "../store/record-files.ts";
import { verifyNamedFiles } from "../store/verify-delivery-files.ts";
import { type Ledger, readLedger } from "./read-ledger.ts";

/** What a look over a delivery found: how many things were compared with their hashes, and what is wrong, a sentence each. */
export interface LookedOver {
  readonly delivery: string;
  readonly checked: number;
  readonly faults: readonly string[];
}

/** Files among the originals that the sound lines do not name, by SHA-256. */
export const photosWithoutLine = async ({ folder, document }: Ledger): Promise<string[]> => {
  const named = new Set(document?.photos.map(({ id }) => id));
  const files = await readdir(join(folder, "photos"), { recursive: true }).catch(() => []);
  return files
    .map((path) => path.split(/[\\/]/).at(-1) ?? "")
    .filter((name) => /^[0-9a-f]{64}$/.test(name) && !named.has(name))
    .sort();
};

/** Where lines are lost, so are the names and lengths of their photos; their files still tell by their own names whether they are sound. */
const looseFaults = async (ledger: Ledger): Promise<string[]> => {
  if (ledger.damage === null) return [];
  const path = photoPath(join(ledger.folder, "photos"));
  const faults: string[] = [];
  for (const id of await photosWithoutLine(ledger))
    if ((await lookAtPhoto(path(id), id)) !== null) faults.push(`photo file ${id}: its bytes were changed`);
  return faults;
};

/** Compares all that a delivery keeps with its hashes, beside whoever works in the folder: nothing is locked or written. */
export const lookOver = async (id: string, folder: string): Promise<LookedOver> => {
  const ledger = await readLedger(id, folder);
  const { damage, document, lines } = ledger;
  const journal = damage === null ? [] : [`journal: line ${damage.line} ${damage.why}`];
  const path = photoPath(join(folder, "photos"));
  const photos = { path, check: (sha256: string) => lookAtPhoto(path(sha256), sha256) };
  const records = { path: recordPath(join(folder, "records")) };
  const named = document ? await verifyNamedFiles(document, photos, records) : { checked: 0, faults: [] };
  return {
    delivery: id,
    checked: lines.length + named.checked,
    faults: [...journal, ...named.faults, ...(await looseFaults(ledger))],
  };
};
