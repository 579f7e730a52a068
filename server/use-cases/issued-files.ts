import { stat } from "node:fs/promises";
import type { Readable } from "node:stream";
import type { Reply } from "../contract/calls.ts";
import type { Delivery, IssuedRecord } from "../contract/delivery.ts";
import { Refusal } from "../problem.ts";
import { letterOf, manifestOf, sentFiles } from "../records/letter.ts";
import { letterMail } from "../records/letter-mail.ts";
import { recordZip } from "../records/record-zip.ts";
import type { DeliveryStore, Site } from "../site.ts";

interface Issued {
  readonly store: DeliveryStore;
  readonly delivery: Delivery;
  readonly record: IssuedRecord;
}

const issued = (site: Site, deliveryId: string, number: string): Issued => {
  const store = site.store.open(deliveryId);
  const delivery = store.read();
  const record = delivery.records.find((one) => String(one.number) === number);
  if (!record) throw new Refusal("There is no such record.", 404);
  return { store, delivery, record };
};

const bytesOf = (path: string): Promise<number | null> =>
  stat(path).then(
    ({ size }) => size,
    () => null,
  );

/** Where a file of a record is, by the name it is sent under. */
const pathOf = ({ store, record }: Issued, name: string): string =>
  store.records.path(record.number, name.replace(/^record\./, ""));

/** The PDF of an issued record, as it was issued. */
export const issuedPdf = (site: Site, deliveryId: string, of: string): Promise<Buffer> => {
  const { store, record } = issued(site, deliveryId, of);
  return store.records.pdf(record.number);
};

/** The canonical JSON of an issued record, as it was issued. */
export const issuedJson = (site: Site, deliveryId: string, of: string): Promise<string> => {
  const { store, record } = issued(site, deliveryId, of);
  return store.records.json(record.number);
};

/** Where the copy of a photo is that went out with a record. */
export const issuedCopy = (site: Site, deliveryId: string, of: string, name: string): string => {
  const found = issued(site, deliveryId, of);
  if (!found.record.copies?.some((copy) => copy.name === name))
    throw new Refusal("There is no such photo with this record.", 404);
  return pathOf(found, name);
};

/** All files of a record with a manifest, as a zip that is read while it is sent. Refused while a file is missing. */
export const issuedZip = async (site: Site, deliveryId: string, of: string): Promise<Readable> => {
  const found = issued(site, deliveryId, of);
  const files = sentFiles(found.record).map(({ name }) => ({ name, path: pathOf(found, name) }));
  for (const { name, path } of files)
    if ((await bytesOf(path)) === null)
      throw new Refusal(`${name} of this record is missing: put it back from a backup first.`);
  return recordZip(files, manifestOf(found.record), found.record.issuedAt);
};

/** The letter that goes with a record. */
export const issuedLetter = (site: Site, deliveryId: string, of: string): string => {
  const { record, delivery } = issued(site, deliveryId, of);
  return letterOf(record, delivery);
};

/** The letter as a mail that is not sent, with the PDF in it. */
export const issuedMail = async (site: Site, deliveryId: string, of: string): Promise<Buffer> => {
  const { store, record, delivery } = issued(site, deliveryId, of);
  return letterMail(record, delivery, await store.records.pdf(record.number));
};

/** A record as a guest sees it. */
export const viewRecord = async (site: Site, deliveryId: string, of: string): Promise<Reply<"record">> => {
  const found = issued(site, deliveryId, of);
  const { record, delivery } = found;
  const { number, revision, kind, leaves, issuedAt, deadline, by, jsonSha256 } = record;
  const { name: job, supplier, timeZone } = delivery.job;
  const files = await Promise.all(
    sentFiles(record).map(async (file) => ({ ...file, bytes: await bytesOf(pathOf(found, file.name)) })),
  );
  return {
    number,
    revision,
    kind,
    leaves,
    issuedAt,
    deadline,
    by,
    job,
    supplier,
    timeZone,
    headSha256: jsonSha256,
    files,
  };
};
