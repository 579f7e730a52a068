import * as z from "zod";
import { pattern } from "./leaf.ts";

/** Names in a job file may be any short word: it comes from elsewhere and is only matched with itself. */
const word = z.string().min(1).max(80);

const part = pattern.shape.parts.element;

/** A part as a job file writes it; a "plank" is a board. */
const jobPart = z.object({
  part: part.shape.name,
  kind: z.preprocess((kind) => (kind === "plank" ? "board" : kind), part.shape.kind),
  grain: part.shape.grain,
  rect_mm: part.shape.rectMm,
});

/** What a person knows of a folder of photos: leaves with their parts, and which photo shows which faces, left to right. */
export const jobFile = z.object({
  leaves: z
    .array(
      z.object({
        id: word,
        width_mm: z.number().positive(),
        height_mm: z.number().positive(),
        faces: z.array(z.enum(["A", "B"])),
        parts: z.array(jobPart).min(1),
      }),
    )
    .min(1),
  photos: z.array(
    z.object({
      file: word,
      kind: z.string(),
      shows: z.array(z.object({ leaf: word, face: z.enum(["A", "B"]) })),
      reference: z.array(z.string()).default([]),
      /** Who took it, and with which phone where the file itself does not say. */
      by: word.optional(),
      phone: word.optional(),
    }),
  ),
  spaces: z.array(z.object({ name: word, openings: z.array(word) })).default([]),
  openings: z
    .array(z.object({ id: word, size_mm: z.object({ height: z.number(), width: z.number() }), spaces: z.array(word) }))
    .default([]),
  references: z
    .object({
      chart: z
        .object({
          size_mm: z.tuple([z.number(), z.number()]).optional(),
          /** Which chart it is, with its edition: named wherever its values were used. */
          name: z.string().max(200).optional(),
          labD50: z
            .array(z.tuple([z.number(), z.number(), z.number()]))
            .length(24)
            .optional(),
          /** A file beside the job file with the values instead, as CGATS.17 text or CSV; `white` where it does not name its light. */
          values: word.optional(),
          white: z.enum(["D50", "D65"]).optional(),
        })
        .nullish(),
      grey: z.object({ reflectance: z.number(), size_mm: z.tuple([z.number(), z.number()]).optional() }).nullish(),
    })
    .default({}),
});
export type JobFile = z.infer<typeof jobFile>;
