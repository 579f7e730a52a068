import { normalQuantile } from "../algebra/even-normals.ts";
import type { AllotmentProblem } from "./allotment.ts";
import type { Manner } from "./seen-together.ts";

/** One-sided confidence that a plan is made for unless another is chosen: common practice, no source. */
const usualConfidence = 0.95;

type Facts = Pick<AllotmentProblem, "leaves" | "existing" | "differences" | "confidence" | "notComparedAs">;

/** What two faces seen together count for; `weighted` is weight times the sum of the upper bound of `deltaE` and `adds`. */
export interface Counted {
  readonly deltaE: number | null;
  readonly u95: number | null;
  readonly adds: number;
  readonly weighted: number;
}

/**
 * Tells what two faces count for in the manner they are seen. The upper bound is the difference plus as many standard uncertainties
 * (half-width of the 95 % interval over 1.96) as the one-sided confidence asks for.
 */
export const countedDifferences = (problem: Facts): ((manner: Manner, one: string, other: string) => Counted) => {
  const { differences, confidence = usualConfidence, notComparedAs } = problem;
  const row = new Map(differences.faces.map((id, index) => [id, index]));
  const lightness = new Map([
    ...problem.leaves.flatMap(({ faces: { A, B } }) => [A, B].map((face) => [face.id, face.lightness] as const)),
    ...problem.existing.map((face) => [face.id, face.lightness ?? null] as const),
  ]);
  const spreads = normalQuantile(confidence) / normalQuantile(0.975);
  return (manner, one, other) => {
    const [i, j] = [row.get(one)!, row.get(other)!];
    const deltaE = differences.deltaE[i]![j]!;
    const u95 = differences.u95?.[i]?.[j] ?? null;
    const upper = deltaE === null ? notComparedAs : deltaE + spreads * (u95 ?? 0);
    const adds = addsOf(manner, lightness.get(one) ?? null, lightness.get(other) ?? null);
    return { deltaE, u95, adds, weighted: manner.weight * (upper + adds) };
  };
};

/** ΔE00 that counts more for stepping back and for light beside dark; nothing where a lightness is not known. */
const addsOf = ({ stepBack, lightBesideDark }: Manner, one: number | null, other: number | null): number => {
  if (one === null || other === null) return 0;
  const back = Math.max(0, stepBack * (other - one));
  if (lightBesideDark === null) return back;
  const { average, adds } = lightBesideDark;
  return (one - average) * (other - average) < 0 ? back + adds : back;
};
