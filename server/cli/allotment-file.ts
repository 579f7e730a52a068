import * as z from "zod";
import type { AllotmentProblem } from "../../analysis/allot/allotment.ts";

const face = z.object({
  id: z.string(),
  lightness: z.number().nullable(),
  mark: z.number().exactOptional(),
});
const hand = z.enum(["left", "right"]);
const spaceOrNone = z.string().nullable();
const place = z.union([z.literal(0), z.literal(1)]);

/** An allotment to be solved, as a file. */
export const allotmentFile = z.object({
  leaves: z.array(
    z.object({
      id: z.string(),
      fits: z.union([z.object({ spec: z.string() }), z.object({ openings: z.array(z.string()) })]),
      faces: z.object({ A: face, B: face }),
      mayTurn: z.boolean().default(true),
      state: z.enum(["free", "out"]).default("free"),
      hand: hand.exactOptional(),
      fireMinutes: z.number().exactOptional(),
    }),
  ),
  openings: z.array(
    z.object({
      id: z.string(),
      spec: z.string(),
      leaves: z.union([z.literal(1), z.literal(2)]).default(1),
      spaces: z.tuple([spaceOrNone, spaceOrNone]),
      hand: hand.exactOptional(),
      fireMinutes: z.number().exactOptional(),
    }),
  ),
  spaces: z.array(
    z.object({
      id: z.string(),
      weight: z.number().default(1),
      pairs: z.array(z.object({ one: z.string(), other: z.string(), weight: z.number() })).default([]),
      walls: z.array(z.array(z.string())).exactOptional(),
      gentle: z.object({ goes: z.enum(["lighter", "darker"]), stepBack: z.number() }).exactOptional(),
      lightBesideDark: z.object({ average: z.number(), adds: z.number() }).exactOptional(),
      marksCount: z.number().exactOptional(),
    }),
  ),
  existing: z
    .array(
      z.object({
        id: z.string(),
        space: z.string(),
        lightness: z.number().nullable().exactOptional(),
      }),
    )
    .default([]),
  locks: z
    .array(
      z.object({
        leaf: z.string(),
        opening: z.string(),
        place: place.default(0),
        turned: z.boolean().exactOptional(),
      }),
    )
    .default([]),
  bans: z
    .array(
      z.union([
        z.object({ leaf: z.string(), opening: z.string() }),
        z.object({ leaf: z.string(), space: z.string(), face: z.enum(["A", "B"]).exactOptional() }),
      ]),
    )
    .default([]),
  differences: z.object({
    faces: z.array(z.string()),
    deltaE: z.array(z.array(z.number().nullable())),
    u95: z.array(z.array(z.number().nullable())).exactOptional(),
  }),
  confidence: z.number().exactOptional(),
  tolerance: z.number().exactOptional(),
  meetingWeight: z.number().default(1),
  sight: z.object({ beside: z.number(), across: z.number(), apart: z.number() }).exactOptional(),
  notComparedAs: z.number().default(10),
  mayStayEmpty: z.array(z.string()).default([]),
  /** Colours of the faces, CIELAB D65, part by part: needed to say what a new leaf must look like. */
  colours: z
    .array(
      z.object({
        face: z.string(),
        parts: z.array(
          z.object({
            part: z.string(),
            lab: z.tuple([z.number(), z.number(), z.number()]),
            u95: z.number().nullable().default(null),
          }),
        ),
      }),
    )
    .default([]),
}) satisfies z.ZodType<AllotmentProblem>;
