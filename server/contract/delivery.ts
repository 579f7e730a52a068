import * as z from "zod";
import { deliveryCharts } from "./chart.ts";
import { conflict } from "./conflict.ts";
import { code, deliveryId, entryId, face, happened, instant, note, sha256, shortText } from "./ids.ts";
import { leaf, mark, pattern } from "./leaf.ts";
import { photo } from "./photo.ts";
import { supplierTerms } from "./terms.ts";

/** Trying a name out takes a third of a millisecond, and each document and page that is checked holds one. */
const timeZones = new Set<string>();

const isTimeZone = (name: string): boolean => {
  if (timeZones.has(name)) return true;
  try {
    new Intl.DateTimeFormat("en", { timeZone: name });
    timeZones.add(name);
    return true;
  } catch {
    return false;
  }
};

export const job = z.strictObject({
  name: shortText.refine((name) => name.trim() !== "", "give the job a name"),
  site: shortText,
  fitter: shortText,
  supplier: shortText,
  haulier: shortText,
  orderNumber: shortText,
  noteNumber: shortText,
  deliveredAt: happened,
  /** IANA name, as "Europe/London": claim windows are counted in it. */
  timeZone: z.string().max(60).refine(isTimeZone, "is not a time zone: write it as Europe/London"),
  currency: z.string().regex(/^[A-Z]{3}$/, "write it in three capital letters, as GBP"),
});

/** One line of the order, with what the delivery note says and what was counted at the lorry. Price is for one leaf. */
export const orderLine = z.strictObject({
  id: code,
  item: shortText,
  productCode: shortText,
  price: z.number().min(0),
  ordered: z.number().int().min(0).max(5000),
  onNote: z.number().int().min(0).max(5000),
  counted: z.number().int().min(0).max(5000).nullable(),
  pattern: code,
  thicknessMm: z.number().positive(),
  veneer: shortText,
  fireRating: shortText.nullable(),
  /** 2 where two leaves are ordered as one matched pair: claimed as one unit. */
  leavesPerUnit: z.union([z.literal(1), z.literal(2)]),
});
export type OrderLine = z.infer<typeof orderLine>;

/** How the faces of a space are looked at when leaves are allotted. */
export const spaceLook = z.strictObject({
  /** How much the whole space counts; 0 where nobody compares. */
  weight: z.number().min(0).max(10),
  /** Openings along each wall in the order one walks past them. */
  walls: z.array(z.array(code).max(500)).max(50),
  /** Lightness steps one way along each wall. */
  gentle: z.enum(["lighter", "darker"]).nullable(),
  /** No face lighter than the average beside one that is darker. */
  noLightBesideDark: z.boolean(),
  /** How much accepted marks count: 0 where nobody looks at them. */
  /** Null: as usual for the kind of space. */
  marksCount: z.number().min(0).max(1).nullable(),
});

/** A place from which several faces are seen together. Without a `look` every two faces in it count alike. */
export const space = z.strictObject({
  id: code,
  name: shortText,
  kind: z.enum(["room", "landing", "corridor", "hall", "store"]),
  look: spaceLook.exactOptional(),
});

/**
 * An opening of the schedule. `sides` are the spaces its two faces look into; null where nobody looks.
 * Handing is never just "left": the hinge side is told as seen from a named side.
 */
export const opening = z.strictObject({
  id: code,
  lines: z.array(code),
  leaves: z.union([z.literal(1), z.literal(2)]),
  sides: z.tuple([code.nullable(), code.nullable()]),
  fireRating: shortText.nullable(),
  hinge: z
    .strictObject({
      side: z.enum(["left", "right"]),
      seenFrom: z.union([z.literal(0), z.literal(1)]),
      opensTowards: z.union([z.literal(0), z.literal(1)]),
    })
    .nullable(),
  /** A leaf that hangs here and stays: its faces are to be matched. */
  existingLeaf: code.nullable(),
  note: shortText,
});
export type Opening = z.infer<typeof opening>;

/** Temperature and humidity of the store. */
export const reading = z.strictObject({
  id: entryId,
  at: happened,
  temperatureC: z.number().min(-40).max(60),
  humidityPercent: z.number().min(0).max(100),
  place: shortText,
  instrument: shortText,
  event: note,
  by: shortText,
});
export type Reading = z.infer<typeof reading>;

/** Which leaf stands where: place 0 is the only leaf, or the left one of a pair seen from side 0. */
export const placed = z.strictObject({
  opening: code,
  place: z.union([z.literal(0), z.literal(1)]),
  leaf: code,
  turned: z.boolean(),
});

/**
 * How well the faces seen together go with each other: the largest and the mean ΔE00, and the spaces beyond the tolerance. Each counts as
 * it is planned for: as measured and what the agreed confidence asks for more, times what counts by where the two stand.
 */
const together = z.strictObject({ worst: z.number(), mean: z.number(), spacesOver: z.number().int() });

export const faceOfLeaf = z.strictObject({ leaf: code, face });

/** Two faces that a plan shows together in a space. */
export const pairSeen = z.strictObject({ space: code, one: faceOfLeaf, other: faceOfLeaf });

/**
 * A plan's figures, beside those of leaves dealt out from light to dark and of leaves picked by eye one after the other.
 * No plan can have a worst below `bound`; `proven` when this one is at it. `settled`: the largest weighted difference, the next
 * largest and so on, as far as they are as small as can be. `pair` forces the worst.
 */
export const planFigures = z.strictObject({
  plan: together,
  bound: z.number(),
  proven: z.boolean(),
  dealt: together,
  byEye: together,
  forcedBy: z.string().nullable(),
  settled: z.array(z.number()).exactOptional(),
  pair: pairSeen.exactOptional(),
});

const sightWeight = z.number().min(0).max(10);

/** What two faces count for by where they stand: the meeting stiles of a pair, side by side, on walls across, on one wall far apart. */
export const sightWeights = z.strictObject({
  meeting: sightWeight,
  beside: sightWeight,
  across: sightWeight,
  apart: sightWeight,
});
export type SightWeights = z.infer<typeof sightWeights>;

export const allotment = z.strictObject({
  /** What a person holds fast; turned null leaves the turn open. */
  locks: z.array(placed.extend({ turned: z.boolean().nullable() })),
  /** A leaf kept out of an opening or of a whole space. */
  bans: z.array(z.strictObject({ leaf: code, opening: code.nullable(), space: code.nullable(), why: shortText })),
  plan: z.array(placed),
  plannedAt: instant.nullable(),
  figures: planFigures.nullable(),
  /** Left out until somebody sets it. */
  sight: sightWeights.exactOptional(),
  /** The plan before this one. */
  before: z
    .strictObject({ plan: z.array(placed), plannedAt: instant, figures: planFigures.nullable() })
    .nullable()
    .exactOptional(),
});

export const issuedRecord = z.strictObject({
  number: z.number().int().min(1),
  kind: z.enum(["accept", "return"]),
  /** The record this one revises, or null. */
  revises: z.number().int().min(1).nullable(),
  revision: z.number().int().min(1),
  leaves: z.array(code),
  issuedAt: instant,
  by: shortText,
  deadline: instant.nullable(),
  /** SHA-256 of the canonical JSON, of the PDF, and of the record before this one. */
  jsonSha256: sha256,
  pdfSha256: sha256,
  previousSha256: sha256.nullable(),
  /** Made by the page that asked: the same request again is answered with the same record. Left out in old records. */
  requestId: entryId.exactOptional(),
  /** The photos' copies beside it, as sent; left out in old records. */
  copies: z
    .array(
      z.strictObject({ name: z.string().regex(/^photo-\d{3,4}\.jpg$/), sha256, bytes: z.number().int().positive() }),
    )
    .exactOptional(),
});
export type IssuedRecord = z.infer<typeof issuedRecord>;

/** The shape of the document now; `store/migrations.ts` brings older ones to it. */
export const documentVersion = 2;

/** Everything known of one delivery: the state that its journal adds up to. */
export const deliveryDocument = z.strictObject({
  version: z.literal(documentVersion),
  id: deliveryId,
  job,
  terms: supplierTerms,
  patterns: z.array(pattern),
  lines: z.array(orderLine),
  spaces: z.array(space),
  openings: z.array(opening),
  leaves: z.array(leaf),
  photos: z.array(photo),
  marks: z.array(mark),
  readings: z.array(reading),
  allotment,
  records: z.array(issuedRecord),
  conflicts: z.array(conflict),
  /** Places that photos proposed as marks and a person said are none; left out until there is one. */
  wavedOff: z.array(mark.pick({ leaf: true, face: true, box: true })).exactOptional(),
  /** Left out until somebody enters or chooses one. */
  charts: deliveryCharts.optional(),
});
export type Delivery = z.infer<typeof deliveryDocument>;
