import { randomBytes } from "node:crypto";
import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { sha256Of } from "../../server/records/canonical.ts";
import { openStore } from "../../server/store/store.ts";
import { by } from "./small-delivery.ts";
import { testNow, writeDelivery, writtenId } from "./written-delivery.ts";

/** The folder of the delivery that is kept. */
export const keptFolder = (data: string): string => join(data, "deliveries", writtenId);

/** Where the original with this SHA-256 lies. */
export const keptPhoto = (data: string, id: string): string => join(keptFolder(data), "photos", id.slice(0, 2), id);

/** A photo as the journal keeps it, of bytes that are no picture: nothing here decodes them. */
const photoOf = (id: string, bytes: number, index: number) => ({
  id,
  bytes,
  name: `photo ${index}`,
  kind: "note" as const,
  shows: [],
  note: "",
  takenAt: null,
  receivedAt: testNow(),
  width: 3000,
  height: 4000,
  camera: "Brannoch P1",
  flags: [],
});

/** Writes a data folder with one delivery of photos and issued records, each made of some bytes; gives the photos' ids. */
export const writeKept = async (data: string, photos: number, records: number, bytesEach = 3000): Promise<string[]> => {
  await writeDelivery(data, 3);
  const store = await openStore(data, testNow);
  const delivery = store.open(writtenId);
  const ids: string[] = [];
  for (let index = 1; index <= photos; index++) {
    const bytes = randomBytes(bytesEach + index);
    const id = sha256Of(bytes);
    await mkdir(delivery.temporaryFolder, { recursive: true });
    const arrived = join(delivery.temporaryFolder, "arrived");
    await writeFile(arrived, bytes);
    await delivery.photos.keep(arrived, id);
    await delivery.change(by, `Photo ${index}`, (draft) => {
      draft.photos.push(photoOf(id, bytes.length, index));
    });
    ids.push(id);
  }
  for (let number = 1; number <= records; number++) {
    const json = JSON.stringify({ record: number });
    const pdf = Buffer.from(`PDF of record ${number}`);
    await delivery.change(by, `Issued record ${number}`, async (draft) => {
      await delivery.records.write(number, json, pdf);
      draft.records.push({
        number,
        kind: "accept",
        revises: null,
        revision: 1,
        leaves: [],
        issuedAt: testNow(),
        by: by.name,
        deadline: null,
        jsonSha256: sha256Of(json),
        pdfSha256: sha256Of(pdf),
        previousSha256: draft.records.at(-1)?.jsonSha256 ?? null,
      });
    });
  }
  await store.close();
  return ids;
};
