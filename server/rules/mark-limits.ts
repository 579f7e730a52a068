import type { Mark } from "../contract/leaf.ts";
import type { MarkKind, SupplierTerms } from "../contract/terms.ts";
import type { LeafView } from "../contract/views.ts";
import { type Standing, standing } from "./agreed-limit.ts";

type Judgement = LeafView["marks"][number]["judgement"];

/** Expanded uncertainty of what is read off a mark: tape mm, feeler gauge mm, ΔE00 on a photo. Common practice, no source. */
const uncertainty = { longestMm: 1, deepestMm: 0.1, contrastDE00: 0.5 } as const;

/** Kinds that are judged by looking from the agreed distance; the others are judged by their size alone. */
const judgedByEye: readonly MarkKind[] = [
  "dent",
  "scratch",
  "scuff",
  "stain",
  "sand-through",
  "glue-bleed",
  "filler",
  "finish-run",
  "sheen-patch",
];

interface Figure {
  readonly says: string;
  readonly standing: Standing;
}

const figure = (name: string, unit: string, value: number | null, limit: number | null, u: number): Figure[] => {
  if (limit === null) return [];
  if (value === null) return [{ says: `${name} not measured, agreed limit ${limit}${unit}`, standing: "undecided" }];
  return [
    {
      says: `${name} ${Math.round(10 * value) / 10}${unit}, agreed limit ${limit}${unit}`,
      standing: standing(value, limit, u),
    },
  ];
};

/**
 * Judges a mark by the agreed limit of its kind. Natural features are no defect unless the order says otherwise.
 * One figure surely beyond its limit is enough; one that is missing or too near its limit leaves the mark undecided.
 * A mark judged by eye that nobody sees from the agreed distance is within limits: raking light finds, normal light at
 * the agreed distance decides (as finish standards of several trades put it).
 */
export const judgeMark = (mark: Mark, terms: Pick<SupplierTerms, "marks" | "viewing">): Judgement => {
  if (mark.kind === "natural") return { verdict: "natural", why: "A natural feature of the timber." };
  const { distanceM } = terms.viewing;
  if (judgedByEye.includes(mark.kind) && mark.seenFromM !== null && mark.seenFromM < distanceM)
    return {
      verdict: "within-limits",
      why: `Not seen from beyond ${mark.seenFromM} m; it is looked at from ${distanceM} m.`,
    };
  const limit = terms.marks.find(({ kind }) => kind === mark.kind);
  if (!limit) return { verdict: "no-limit", why: "No limit is agreed for this kind of mark." };
  const figures = [
    ...figure("length", " mm", Math.max(mark.box.w, mark.box.h), limit.longestMm, uncertainty.longestMm),
    ...figure("depth", " mm", mark.depthMm, limit.deepestMm, uncertainty.deepestMm),
    ...figure("contrast ΔE00", "", mark.contrastDE00, limit.contrastDE00, uncertainty.contrastDE00),
  ];
  if (figures.length === 0) return { verdict: "no-limit", why: "No limit is agreed for this kind of mark." };
  const say = (wanted: Standing): string =>
    figures
      .filter((one) => one.standing === wanted)
      .map(({ says }) => says)
      .join("; ");
  if (say("beyond")) return { verdict: "beyond-limits", why: `Beyond: ${say("beyond")}.` };
  if (say("undecided")) return { verdict: "undecided", why: `Not decided: ${say("undecided")}.` };
  return { verdict: "within-limits", why: `Within: ${say("within")}.` };
};
