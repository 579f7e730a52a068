import type { DifferenceTable } from "../../analysis/allot/allotment.ts";

/** What is known of two faces: ΔE00 and the half-width of its 95 % interval, null where nothing ties them together. */
interface Known {
  readonly deltaE: number | null;
  readonly u95: number | null;
}

/** The differences of every two faces with how sure they are, as an allotment takes them. Each two are asked for once. */
export const differenceTable = <Face>(
  faces: readonly Face[],
  nameOf: (face: Face) => string,
  between: (one: Face, other: Face) => Known,
): DifferenceTable => {
  const deltaE = faces.map(() => faces.map((): number | null => 0));
  const u95 = faces.map(() => faces.map((): number | null => 0));
  faces.forEach((one, i) => {
    faces.slice(0, i).forEach((other, j) => {
      const known = between(other, one);
      deltaE[i]![j] = deltaE[j]![i] = known.deltaE;
      u95[i]![j] = u95[j]![i] = known.u95;
    });
  });
  return { faces: faces.map(nameOf), deltaE, u95 };
};
