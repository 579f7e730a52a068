import type { Leaf } from "../contract/leaf.ts";
import type { SupplierTerms } from "../contract/terms.ts";
import { type Standing, standing } from "./agreed-limit.ts";

export interface ShapeJudgement {
  readonly kind: "bow" | "twist" | "cup";
  readonly mm: number;
  readonly at: string;
  readonly standing: Standing;
  readonly why: string;
}

/**
 * The latest reading of bow, twist and cup against the terms' limits and their uncertainty, mm. Read with a string line or a
 * straightedge on the free leaf; the earlier method standard asks for ±0.5 mm (BS 5277:1976, as quoted by a door maker).
 * A leaf moves with the air, so the latest reading counts and the earlier ones stay on record.
 */
export const judgeShape = (leaf: Leaf, limits: SupplierTerms["shape"]): ShapeJudgement[] =>
  (["bow", "twist", "cup"] as const).flatMap((kind) => {
    const latest = leaf.shape
      .filter((reading) => reading.kind === kind)
      .toSorted((a, b) => Date.parse(a.at) - Date.parse(b.at))
      .at(-1);
    if (!latest) return [];
    const limit = limits[`${kind}Mm`];
    const result = standing(latest.mm, limit, limits.uncertaintyMm);
    const how = { within: "within", beyond: "beyond", undecided: "too near to decide on" }[result];
    return [
      {
        kind,
        mm: latest.mm,
        at: latest.at,
        standing: result,
        why: `${kind} ${latest.mm} mm ± ${limits.uncertaintyMm}, agreed limit ${limit} mm: ${how}`,
      },
    ];
  });
