import * as z from "zod";
import { code, entryId, face, happened, instant, note, sha256, shortText } from "./ids.ts";
import { markKind } from "./terms.ts";

const rectMm = z.tuple([z.number(), z.number(), z.number().positive(), z.number().positive()]);

/** A pattern: how parts lie on a face of one size, mm from the top left corner of the face as seen. */
export const pattern = z.strictObject({
  id: code,
  name: shortText,
  widthMm: z.number().positive().max(3000),
  heightMm: z.number().positive().max(4000),
  parts: z
    .array(
      z.strictObject({
        name: z.string().regex(/^[a-z0-9-]{1,30}$/),
        kind: z.enum(["face", "stile", "rail", "muntin", "panel", "board"]),
        grain: z.enum(["v", "h"]),
        rectMm,
      }),
    )
    .min(1)
    .max(60),
  /** Who laid the joints over a photo; left out while they lie as the pattern usually has them. */
  jointsBy: shortText.optional(),
});
export type Pattern = z.infer<typeof pattern>;

export const outcome = z.enum(["accept", "accept-with-allowance", "hold", "return"]);
export type Outcome = z.infer<typeof outcome>;

/** Whose the cause may be: maker, carrier, handling, site store, other trades, order, natural. An opinion, not a fact. */
export const party = z.enum(["maker", "carrier", "handling", "store", "other-trades", "order", "natural"]);

export const decision = z.strictObject({
  outcome,
  reason: note,
  /** Money asked off the price for "accept-with-allowance", in the job's currency. */
  allowance: z.number().min(0).nullable(),
  party: party.nullable(),
  /** What is asked of the supplier for a return. */
  asks: z.enum(["replace", "credit", "repair"]).nullable(),
  by: shortText,
  at: instant,
});
export type Decision = z.infer<typeof decision>;

export const shapeReading = z.strictObject({
  id: entryId,
  at: happened,
  kind: z.enum(["bow", "twist", "cup"]),
  mm: z.number().min(0).max(200),
  how: shortText,
  by: shortText,
});

/** One leaf. `line` is null for a leaf that hangs there already. `pairWith` names the other leaf of a matched pair. */
export const leaf = z.strictObject({
  code,
  line: code.nullable(),
  pattern: code,
  thicknessMm: z.number().positive().nullable(),
  batch: shortText.nullable(),
  identity: z.enum(["as-ordered", "wrong", "over"]),
  pairWith: code.nullable(),
  replaces: code.nullable(),
  massKg: z.number().positive().nullable(),
  unwrappedAt: instant.nullable(),
  /** Cut, hinged or trimmed: no longer returnable, no longer free to turn. */
  cut: z.boolean(),
  shape: z.array(shapeReading),
  decision: decision.nullable(),
  /** The random id in the code of its label, 65 bits; left out for leaves from before labels had one. */
  labelId: z
    .string()
    .regex(/^[0-9A-HJKMNP-TV-Z]{13}$/)
    .exactOptional(),
});
export type Leaf = z.infer<typeof leaf>;

/** A place on a face that someone or the machine noticed, mm on the face as seen. */
export const mark = z.strictObject({
  id: entryId,
  leaf: code,
  face,
  kind: markKind,
  box: z.strictObject({ x: z.number(), y: z.number(), w: z.number().positive(), h: z.number().positive() }),
  depthMm: z.number().min(0).nullable(),
  /** Measured on the photo: ΔE00 of the place to the timber round it. */
  contrastDE00: z.number().min(0).nullable(),
  /** The farthest distance in metres from which the finder still saw it. */
  seenFromM: z.number().positive().nullable(),
  photo: sha256.nullable(),
  party: party.nullable(),
  note,
  foundBy: z.enum(["person", "photo"]),
  by: shortText,
  at: instant,
  withdrawn: z.boolean(),
});
export type Mark = z.infer<typeof mark>;
