import * as z from "zod";
import { job, orderLine } from "../contract/delivery.ts";
import { code, deliveryId, entryId, face, instant, sha256, shortText } from "../contract/ids.ts";
import { leaf, mark, pattern } from "../contract/leaf.ts";
import { photo, quad } from "../contract/photo.ts";
import { supplierTerms } from "../contract/terms.ts";
import { claimWindow, faceDifference, markJudgement, partColour, storeLog } from "../contract/views.ts";

/** A line of the order that the record touches: leaves affected of leaves delivered. `value` is price x affected. */
const lineConcerned = orderLine
  .pick({
    id: true,
    item: true,
    productCode: true,
    price: true,
    ordered: true,
    onNote: true,
    counted: true,
    leavesPerUnit: true,
    fireRating: true,
  })
  .extend({ affected: z.number().int(), delivered: z.number().int(), value: z.number() });
export type LineConcerned = z.infer<typeof lineConcerned>;

const side = z.enum(["left", "right"]);

/** Where a leaf was to hang at the time of issue; `hangingSide` is as seen on that face, null when not known. */
const openingAffected = z.strictObject({
  code,
  place: z.union([z.literal(0), z.literal(1)]),
  faces: z.array(z.strictObject({ face, space: shortText.nullable(), hangingSide: side.nullable() })).length(2),
});
export type OpeningAffected = z.infer<typeof openingAffected>;

/** A mark as recorded: where it lies in words, the sentence that is printed, and how the agreed limits judge it. */
const recordMark = mark
  .omit({ leaf: true, withdrawn: true })
  .extend({ place: z.string(), says: z.string(), judgement: markJudgement });
export type RecordMark = z.infer<typeof recordMark>;

const recordLeaf = leaf
  .pick({
    code: true,
    line: true,
    thicknessMm: true,
    batch: true,
    identity: true,
    pairWith: true,
    replaces: true,
    massKg: true,
    unwrappedAt: true,
    cut: true,
    shape: true,
    decision: true,
  })
  .extend({
    item: shortText,
    pattern,
    opening: openingAffected.nullable(),
    colours: z.array(z.strictObject({ face, parts: z.array(partColour.omit({ swatch: true })) })),
    marks: z.array(recordMark),
    says: z.string(),
    condition: z.string(),
  });
export type RecordLeaf = z.infer<typeof recordLeaf>;

/** A picture as printed: a copy without metadata. `box` is in mm on the face; null where no outline is known. */
const recordPicture = z.strictObject({
  name: z.string(),
  view: z.enum(["whole", "around", "close", "as-taken"]),
  leaf: code.nullable(),
  face: face.nullable(),
  mark: entryId.nullable(),
  photo: sha256,
  corners: quad.nullable(),
  box: z.strictObject({ x: z.number(), y: z.number(), w: z.number(), h: z.number() }).nullable(),
  pxPerMm: z.number().nullable(),
  /** What the photo itself holds there, so that a picture scaled up can be told. */
  photoPxPerMm: z.number().nullable(),
  copy: z.discriminatedUnion("kind", [
    z.strictObject({ kind: z.literal("made"), sha256, bytes: z.number().int() }),
    z.strictObject({ kind: z.literal("missing"), why: z.string() }),
  ]),
});
export type RecordPicture = z.infer<typeof recordPicture>;

/**
 * A photo as kept, whether its original was found so at issue, and the copy that is sent: upright, in sRGB, encoded again.
 * `removed` lists kinds of data that the original carries and the copy does not.
 */
const recordPhoto = photo.extend({
  original: z.enum(["as-received", "changed", "missing"]),
  copy: z.discriminatedUnion("kind", [
    z.strictObject({
      kind: z.literal("made"),
      name: z.string(),
      sha256,
      bytes: z.number().int(),
      removed: z.array(z.string()),
    }),
    z.strictObject({ kind: z.literal("missing"), why: z.string() }),
  ]),
});

/** A claim window with the leaves it runs for. `hoursLeft` and `shut` are as at the time of issue. */
const windowConcerned = claimWindow.extend({ leaves: z.array(code) });
export type WindowConcerned = z.infer<typeof windowConcerned>;

const earlier = z.strictObject({ number: z.number().int(), jsonSha256: sha256, pdfSha256: sha256 });

/** A record as it is frozen: everything that is sent, as known on one date. */
export const leafRecord = z.strictObject({
  format: z.literal("leafledger-record-2"),
  kind: z.enum(["accept", "return"]),
  number: z.number().int().min(1),
  revision: z.number().int().min(1),
  revises: earlier.nullable(),
  /** The record before this one: its hashes chain the records of a delivery. */
  previous: earlier.nullable(),
  /** The journal's last line before this record. */
  ledgerHead: z.strictObject({ seq: z.number().int(), sha256 }),
  issuedAt: instant,
  by: shortText,
  device: shortText,
  delivery: deliveryId,
  job,
  terms: supplierTerms,
  lines: z.array(lineConcerned),
  leaves: z.array(recordLeaf).min(1),
  /** Pairs ordered to match are claimed as one unit; how far their faces differ. */
  pairs: z.array(z.strictObject({ leaves: z.tuple([code, code]), differences: z.array(faceDifference) })),
  asks: z.array(z.string()),
  windows: z.array(windowConcerned),
  deadline: instant.nullable(),
  late: z.boolean(),
  storeLog,
  method: z.array(z.string()),
  photos: z.array(recordPhoto),
  pictures: z.array(recordPicture),
  leftOut: z.string(),
});
export type LeafRecord = z.infer<typeof leafRecord>;
