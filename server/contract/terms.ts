import * as z from "zod";
import { shortText } from "./ids.ts";

/** What a claim window is about. */
export const windowKind = z.enum(["shortage", "damage", "defect", "haulier-notice", "haulier-claim"]);

/** One claim window as the terms write it. */
export const windowTerm = z.strictObject({
  kind: windowKind,
  to: z.enum(["supplier", "haulier"]),
  amount: z.number().int().min(1).max(3650),
  unit: z.enum(["hours", "calendar-days", "working-days"]),
  from: z.enum(["delivery", "unwrapping"]),
});

/** Kinds of marks, in the trade's words. Natural ones are no defect unless the order says otherwise. */
export const markKind = z.enum([
  "dent",
  "scratch",
  "scuff",
  "stain",
  "crushed-corner",
  "edge-chip",
  "lipping",
  "open-joint",
  "split",
  "blister",
  "sand-through",
  "glue-bleed",
  "filler",
  "finish-run",
  "sheen-patch",
  "open-mitre",
  "natural",
  "other",
]);

/** Agreed limit of one kind of mark; a missing figure sets no limit. Depth in mm, contrast as ΔE00, distance in m. */
export const markLimit = z.strictObject({
  kind: markKind,
  longestMm: z.number().positive().nullable(),
  deepestMm: z.number().positive().nullable(),
  contrastDE00: z.number().positive().nullable(),
});

/** The supplier's terms for one delivery. Every figure is agreed with the supplier and editable; none stands in code. */
export const supplierTerms = z.strictObject({
  windows: z.array(windowTerm),
  /** Country and region whose public holidays are no working days, as "GB-ENG". */
  holidays: z.string().regex(/^[A-Z]{2}(-[A-Z]{2,3})?$/, "write it as GB-ENG"),
  /** Further closed days, ISO dates: a supplier's shut-down, a site holiday. */
  closedDays: z.array(z.iso.date()),
  /** The time of day at which a window counted in days shuts, local time. */
  dayEndsAt: z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/),
  store: z.strictObject({
    humidityMinPercent: z.number().min(0).max(100),
    humidityMaxPercent: z.number().min(0).max(100),
    temperatureMinC: z.number(),
    temperatureMaxC: z.number(),
    swingPercentPerDay: z.number().positive(),
    longestGapHours: z.number().positive(),
  }),
  shape: z.strictObject({ bowMm: z.number(), twistMm: z.number(), cupMm: z.number(), uncertaintyMm: z.number() }),
  marks: z.array(markLimit),
  /** Largest ΔE00 at which two faces still count as a match, and the probability asked for. */
  toleranceDE00: z.number().positive(),
  confidence: z.number().min(0.5).max(0.999),
  /** How a mark is judged: the light and the distance in metres agreed for looking. */
  viewing: z.strictObject({ distanceM: z.number().positive(), light: shortText }),
  /** A rule to show before the wrapping is opened, or nothing. */
  beforeUnwrapping: shortText.nullable(),
});
export type SupplierTerms = z.infer<typeof supplierTerms>;
export type WindowTerm = z.infer<typeof windowTerm>;
export type MarkKind = z.infer<typeof markKind>;
