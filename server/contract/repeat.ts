import * as z from "zod";

/** How far repeat photos lie apart: standard deviations of one photo's result, in L, a, b and together as ΔE00. */
const spread = z.strictObject({
  /** A kind of part, or "all". */
  parts: z.string(),
  lab: z.tuple([z.number(), z.number(), z.number()]),
  deltaE: z.number(),
  /** 95 % interval of `deltaE`. */
  interval: z.tuple([z.number(), z.number()]),
  degreesOfFreedom: z.number().int(),
  /** ΔE00 that two photos of one thing stay below in 95 of 100 cases. */
  limit: z.number(),
  photos: z.number().int(),
  /** "leaf/face". */
  faces: z.array(z.string()),
});

/** Faces one by one with a reference, or faces side by side in one photo. The first spread is of all parts, the others of each kind where there are several. */
const repeatWay = z.strictObject({
  way: z.enum(["by-reference", "side-by-side"]),
  spreads: z.array(spread).min(1),
  /** The limit to go by; null while there are too few photos. */
  limit: z.number().nullable(),
});
export type RepeatWay = z.infer<typeof repeatWay>;

/** Standard deviations that a gauge study parts the whole into, in L, a, b or together as ΔE00. */
const gaugeRow = z.strictObject({
  axis: z.enum(["L", "a", "b", "colour"]),
  repeat: z.number(),
  reproduce: z.number(),
  gauge: z.number(),
  part: z.number(),
  total: z.number(),
  gaugePercent: z.number(),
  classes: z.number().int(),
});

/** The same faces photographed by several phones, or by several people. The last row is of colour as a whole. */
const gaugeStudy = z.strictObject({
  by: z.enum(["phone", "person"]),
  appraisers: z.array(z.string()),
  faces: z.array(z.string()),
  times: z.number().int(),
  rows: z.array(gaugeRow).length(4),
  /** ΔE00 that photos of one thing by two of the appraisers stay below in 95 of 100 cases. */
  limit: z.number(),
});
export type RepeatGauge = z.infer<typeof gaugeStudy>;

/** How repeatable photos are, and what to photograph where that is not known yet. */
export const repeatReport = z.strictObject({
  ways: z.array(repeatWay),
  gauges: z.array(gaugeStudy),
  phones: z.array(z.string()),
  people: z.array(z.string()),
  toShoot: z.array(z.string()),
});
export type RepeatReport = z.infer<typeof repeatReport>;

export const repeatView = repeatReport.extend({
  /** Largest ΔE00 agreed with the supplier. */
  tolerance: z.number(),
});
