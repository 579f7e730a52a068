import type { Body, Reply } from "../contract/calls.ts";
import type { Delivery, IssuedRecord } from "../contract/delivery.ts";
import { Refusal } from "../problem.ts";
import { canonicalJson, sha256Of } from "../records/canonical.ts";
import { whyNotRecorded } from "../records/may-be-recorded.ts";
import { freezeRecord } from "../records/record.ts";
import { recordPdf } from "../records/record-pdf.ts";
import { cropOf, type WantedPicture, wantedPictures } from "../records/record-pictures.ts";
import type { LeafRecord, RecordPicture } from "../records/record-schema.ts";
import { claimWindows } from "../rules/claim-window.ts";
import { judgeMark } from "../rules/mark-limits.ts";
import { storeLog } from "../rules/store-log.ts";
import type { DeliveryStore, Measured, Site } from "../site.ts";
import { calendarOf } from "./calendar.ts";
import { originalState } from "./original-state.ts";

/** Longest side of a photo shown as taken, px. */
const previewPx = 1000;

type RecordPhoto = LeafRecord["photos"][number];

interface Copy {
  readonly picture: RecordPicture;
  readonly jpeg: Buffer | null;
}

const gone = {
  changed: "The original was changed since it came in; it is not shown.",
  missing: "The original is missing from the store.",
} as const;

/** Makes the copy of one picture. A photo that cannot be shown is said to be so and holds up nothing. */
const makeCopy = async (
  site: Site,
  store: DeliveryStore,
  wanted: WantedPicture,
  photos: readonly RecordPhoto[],
): Promise<Copy> => {
  const missing = (why: string): Copy => ({ picture: { ...wanted, copy: { kind: "missing", why } }, jpeg: null });
  const original = photos.find(({ id }) => id === wanted.photo)?.original ?? "missing";
  if (original !== "as-received") return missing(gone[original]);
  const path = store.photos.path(wanted.photo);
  const { patterns, leaves } = store.read();
  const pattern = patterns.find(({ id }) => id === leaves.find(({ code }) => code === wanted.leaf)?.pattern);
  const crop = pattern ? cropOf(wanted, pattern) : null;
  try {
    const jpeg = await (crop ? site.darkroom.crop(path, crop) : site.darkroom.preview(path, previewPx));
    return { picture: { ...wanted, copy: { kind: "made", sha256: sha256Of(jpeg), bytes: jpeg.length } }, jpeg };
  } catch {
    return missing("No picture could be made from this photo.");
  }
};

/** The photos a record shows or that show one of its leaves, each with the state its original was found in. */
const photosOf = (
  store: DeliveryStore,
  delivery: Delivery,
  leaves: readonly string[],
  wanted: readonly WantedPicture[],
): Promise<RecordPhoto[]> =>
  Promise.all(
    delivery.photos
      .filter(
        ({ id, shows }) => shows.some(({ leaf }) => leaves.includes(leaf)) || wanted.some(({ photo }) => photo === id),
      )
      .map(async (photo) => ({ ...photo, original: await originalState(store.photos, photo.id) })),
  );

const earlierOf = (record: IssuedRecord | undefined): LeafRecord["previous"] =>
  record ? { number: record.number, jsonSha256: record.jsonSha256, pdfSha256: record.pdfSha256 } : null;

const freeze = (
  site: Site,
  store: DeliveryStore,
  { by, kind, leaves, revises }: Body<"issueRecord">,
  parts: { photos: RecordPhoto[]; pictures: RecordPicture[]; measured: Measured },
): LeafRecord => {
  const delivery = store.read();
  const { terms, job, records } = delivery;
  const issuedAt = site.now();
  const revised = records.find(({ number }) => number === revises);
  const { measured, photos, pictures } = parts;
  return freezeRecord({
    kind,
    number: records.length + 1,
    revision: (revised?.revision ?? 0) + 1,
    revises: earlierOf(revised),
    previous: earlierOf(records.at(-1)),
    ledgerHead: store.head(),
    issuedAt,
    by: by.name,
    device: by.device,
    delivery,
    leaves,
    photos,
    pictures,
    storeLog: storeLog(delivery.readings, terms.store, issuedAt),
    solvedAt: measured.solvedAt,
    chart: measured.chart,
    colours: (leaf) => measured.faces(leaf),
    windows: (code) => {
      const unwrappedAt = delivery.leaves.find((leaf) => leaf.code === code)?.unwrappedAt ?? null;
      return claimWindows(terms, { deliveredAt: job.deliveredAt, unwrappedAt }, calendarOf(delivery), issuedAt);
    },
    judgement: (mark) => judgeMark(mark, terms),
    pairDifferences: (one, other) =>
      (["A", "B"] as const).map((face) => measured.difference({ leaf: one, face }, { leaf: other, face })),
  });
};

/**
 * Issues a record: freezes what is known, makes its pictures, writes JSON and PDF for good and only then the journal
 * line that numbers and chains it. All of it is one change, so that numbers have no gaps. A late record is issued all
 * the same and says so. Refused when a leaf cannot stand on it.
 */
export const issueRecord = async (
  site: Site,
  deliveryId: string,
  body: Body<"issueRecord">,
): Promise<Reply<"issueRecord">> => {
  const store = site.store.open(deliveryId);
  const what = `Issued ${body.kind} record for ${body.leaves.join(", ")}`.slice(0, 200);
  const { result } = await store.change(body.by, what, async (draft) => {
    const delivery = store.read();
    const refusals = whyNotRecorded(delivery, body);
    if (refusals.length > 0) throw new Refusal(refusals.join(" "));
    const measured = site.measuring.measured(deliveryId);
    const wanted = wantedPictures(delivery, body.leaves, (photo, face) => measured.corners(photo, face));
    const photos = await photosOf(store, delivery, body.leaves, wanted);
    const copies: Copy[] = [];
    for (const picture of wanted) copies.push(await makeCopy(site, store, picture, photos));

    const record = freeze(site, store, body, { photos, pictures: copies.map(({ picture }) => picture), measured });
    const json = canonicalJson(record);
    const jsonSha256 = sha256Of(json);
    const jpegs = new Map(copies.flatMap(({ picture, jpeg }) => (jpeg ? [[picture.name, jpeg] as const] : [])));
    const pdf = await recordPdf(record, jpegs, jsonSha256);
    await store.records.write(record.number, json, pdf);
    draft.records.push({
      number: record.number,
      kind: record.kind,
      revises: body.revises,
      revision: record.revision,
      leaves: body.leaves,
      issuedAt: record.issuedAt,
      by: record.by,
      deadline: record.deadline,
      jsonSha256,
      pdfSha256: sha256Of(pdf),
      previousSha256: record.previous?.jsonSha256 ?? null,
    });
    return { number: record.number, late: record.late };
  });
  return result;
};
