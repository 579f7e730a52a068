import * as z from "zod";
import { faceOfLeaf, pairSeen, placed } from "./delivery.ts";
import { code, face } from "./ids.ts";

const place = z.union([z.literal(0), z.literal(1)]);
const at = z.strictObject({ opening: z.string(), place });

/** Leaves to return for colour, as few as can be; `bound`: no way does with fewer. */
export const returnsAnswer = z.strictObject({
  tolerance: z.number(),
  bound: z.number(),
  proven: z.boolean(),
  worst: z.number(),
  replace: z.array(
    z.strictObject({
      opening: z.string(),
      place,
      returned: code.nullable(),
      /** A delivered leaf that the new one may look like; null when none would do. */
      like: z.strictObject({ leaf: code, turned: z.boolean(), worst: z.number() }).nullable(),
    }),
  ),
});
export type ReturnsAnswer = z.infer<typeof returnsAnswer>;

const waiting = z.strictObject({
  opening: z.string(),
  place,
  turned: z.boolean(),
  meanwhile: z.number(),
  afterwards: z.number(),
});

/** Which opening waits for a leaf that is late: null when none needs to. `counted` counts on the colour known of the leaf. */
export const lateAnswer = z.strictObject({
  leaf: code,
  waiting: z.strictObject({ unseen: waiting, counted: waiting.nullable() }).nullable(),
});
export type LateAnswer = z.infer<typeof lateAnswer>;

/** A plan with few moves: `changed` places that could have stayed as they were do not; `loss` null: any. */
export const fewMoves = z.strictObject({
  loss: z.number().nullable(),
  changed: z.number(),
  bound: z.number(),
  proven: z.boolean(),
  worst: z.number(),
  sum: z.number(),
  moved: z.array(z.strictObject({ leaf: code, from: at.nullable(), to: at.nullable(), turned: z.boolean() })),
});
export type FewMovesAnswer = z.infer<typeof fewMoves>;

export const movesAnswer = z.strictObject({ chosen: fewMoves, curve: z.array(fewMoves) });

const figures = z.strictObject({ worst: z.number(), sum: z.number() });
/** The best plan now, the best with the wish, and the one with the wish that moves least. */
export const whatIfAnswer = z.strictObject({ now: figures, wished: figures, least: fewMoves });

const range = z.tuple([z.number(), z.number()]);
/** What one part of one side of a new leaf must look like; `ranges` of L*, a*, b*, null when no one colour keeps the tolerance. */
export const partLook = z.strictObject({
  space: z.string(),
  part: z.string(),
  lab: z.tuple([z.number(), z.number(), z.number()]),
  swatch: z.string(),
  worst: z.number(),
  ranges: z.tuple([range, range, range]).nullable(),
  knownWithin: z.number().nullable(),
  like: z.strictObject({ leaf: code, face, deltaE: z.number(), words: z.string() }).nullable(),
});
export const replacementAnswer = z.strictObject({ opening: z.string(), place, looks: z.array(partLook) });
export type ReplacementAnswer = z.infer<typeof replacementAnswer>;

/**
 * What forces the worst of the best plan, and each single thing that would lift it, the best first; none when nothing single does.
 * `by`: another leaf in place of this one, a new one in place of one that hangs there, a lock let go, a ban lifted, one more leaf like
 * this. `worst` is what would be left, `bound` what no plan could better then.
 */
export const liftAnswer = z.strictObject({
  worst: z.number(),
  bound: z.number(),
  pair: pairSeen.nullable(),
  lifts: z.array(
    z.strictObject({
      by: z.enum(["other-leaf", "other-existing", "let-go", "let-in", "one-more-like"]),
      leaf: code,
      /** Of a lock or a ban. */
      opening: code.nullable(),
      space: code.nullable(),
      worst: z.number(),
      bound: z.number(),
    }),
  ),
});
export type LiftAnswer = z.infer<typeof liftAnswer>;

/**
 * How sure a plan is within the uncertainty of its differences: spaces with their worst and its range, leaves to return, keep or measure
 * again, places that change when differences are redrawn within it (`share` of the redraws), and the one photo that would settle most.
 */
export const surenessAnswer = z.strictObject({
  tolerance: z.number(),
  redraws: z.number(),
  spaces: z.array(
    z.strictObject({
      space: code,
      worst: z.number(),
      low: z.number(),
      high: z.number(),
      sure: z.enum(["inside", "over", "open"]),
    }),
  ),
  leaves: z.array(z.strictObject({ leaf: code, say: z.enum(["return", "keep", "measure-again"]) })),
  decisions: z.array(placed.extend({ share: z.number() })),
  photo: z.strictObject({ one: faceOfLeaf, other: faceOfLeaf, settles: z.number() }).nullable(),
});
export type SurenessAnswer = z.infer<typeof surenessAnswer>;
