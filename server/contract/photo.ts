import * as z from "zod";
import { code, face, instant, sha256, shortText } from "./ids.ts";

const point = z.tuple([z.number(), z.number()]);
export const quad = z.tuple([point, point, point, point]);

export const photoKind = z.enum(["single", "line-up", "detail", "label", "wrapping", "note", "stack", "edge"]);

/** A leaf's face seen in a photo. Corners are null until a person sets them; then they win over what is found. */
export const shown = z.strictObject({ leaf: code, face, corners: quad.nullable() });

/** The camera of a photo that does not name it. */
export const unknownCamera = "unknown camera";

/** Faces that one photo may be evidence of. */
export const mostShown = 12;

/** A photo as kept: the file is named by its SHA-256 and never changed. */
export const photo = z.strictObject({
  id: sha256,
  name: shortText,
  kind: photoKind,
  shows: z.array(shown).max(mostShown),
  /** The marks it is evidence of hold its id; this is the place in the photo's own words. */
  note: shortText,
  takenAt: instant.nullable(),
  receivedAt: instant,
  bytes: z.number().int().positive(),
  width: z.number().int().positive(),
  height: z.number().int().positive(),
  camera: shortText,
  /** Who took it in; left out where it came in before this was kept. */
  by: shortText.optional(),
  /** Odd things about the file that are worth knowing, in plain words. */
  flags: z.array(shortText),
});
export type Photo = z.infer<typeof photo>;

export const gate = z.strictObject({
  gate: z.string(),
  value: z.number(),
  limit: z.number(),
  passed: z.boolean(),
  advice: z.string(),
});
export type Gate = z.infer<typeof gate>;

/** What became of a photo in the measurement. */
export const photoState = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.literal("waiting") }),
  z.strictObject({ kind: z.literal("kept"), why: z.string() }),
  z.strictObject({
    kind: z.literal("measured"),
    faces: z.array(z.strictObject({ leaf: code, face, corners: quad, score: z.number(), byHand: z.boolean() })),
    references: z.array(z.string()),
    /** What a person should see to: a leaf of a line-up that was not found, for instance. */
    open: z.array(gate),
  }),
  z.strictObject({ kind: z.literal("retake"), gates: z.array(gate) }),
  z.strictObject({ kind: z.literal("failed"), why: z.string() }),
]);
export type PhotoState = z.infer<typeof photoState>;
