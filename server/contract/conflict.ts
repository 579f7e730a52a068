import * as z from "zod";
import { code, entryId, instant, shortText } from "./ids.ts";

/** One side of a conflict: what was entered in words, by whom, on which device, when. */
const side = z.strictObject({ says: shortText, by: shortText, device: shortText, at: instant });

/** A conflict as shown: what it is about, "the decision on W03", and what either side says. */
export const conflictView = z.strictObject({
  id: entryId,
  what: shortText,
  /** Null where it is about no leaf. */
  leaf: code.nullable(),
  theirs: side,
  yours: side,
});
export type ConflictView = z.infer<typeof conflictView>;

/** Which side counts: what stands there now, or what was set aside. */
export const takenSide = z.enum(["theirs", "yours"]);

/**
 * An entry that was refused since another's later one had changed the same thing. Both are kept: the other in its place, this one
 * here with the call it came in by and what it said, until somebody settles it.
 */
export const conflict = conflictView.extend({
  call: z.enum([
    "decideLeaf",
    "identifyLeaf",
    "unwrapLeaf",
    "countLine",
    "setTerms",
    "filePhoto",
    "setJoints",
    "setWishes",
    "setSight",
    "chooseChart",
  ]),
  params: z.record(z.string(), z.string()),
  body: z.unknown(),
  settled: z.strictObject({ take: takenSide, by: shortText, device: shortText, at: instant }).nullable(),
});
export type Conflict = z.infer<typeof conflict>;
