import { eliminationOrder } from "../algebra/elimination-order.ts";
import { entryAt, type Pattern, patternOf } from "../algebra/sparse-cholesky.ts";
import type { Clump, Equations, View } from "./equations.ts";
import { lightTerms } from "./light-field.ts";

/** Where each unknown stands in the matrix, and where the matrix has entries: the same for all three channels. */
export interface Order {
  readonly place: Int32Array;
  readonly pattern: Pattern;
  /** By clump, parts first: where the entries of its unknowns stand, in the order of `pairsOf`. */
  readonly entries: ReadonlyMap<Clump, Int32Array>;
}

/** The unknowns that one view speaks of: its colour, the light of its photo, what is added. */
export const unknownsOf = ({ colour, photo, extra }: View, light: readonly number[]): number[] => [
  colour,
  ...Array.from({ length: lightTerms }, (_, k) => light[photo]! + k),
  extra,
];

/** What a photo has of its own: its light and the sheen of its grain. */
const ofPhoto = lightTerms + 1;

/** An order that keeps the factor sparse. The unknowns of a photo's light stay together, since they always meet. */
export const orderUnknowns = ({ unknowns, light, ties, hubs, parts, patches }: Equations): Order => {
  const groupOf = Int32Array.from({ length: unknowns }, (_, i) => i);
  for (const first of light) groupOf.fill(first, first, first + ofPhoto);
  const clumps = [...parts, ...patches];
  const cliques = clumps.map(({ views }) => views.flatMap((view) => unknownsOf(view, light)));
  for (const { one, other } of ties) cliques.push(other === null ? [one] : [one, other]);
  const neighbours = new Map<number, Set<number>>();
  for (const clique of cliques) {
    const groups = new Set(clique.map((unknown) => groupOf[unknown]!));
    for (const one of groups) {
      const near = neighbours.get(one) ?? new Set();
      neighbours.set(one, near);
      for (const other of groups) if (one !== other) near.add(other);
    }
  }
  const isPhoto = new Set(light);
  const place = new Int32Array(unknowns);
  let next = 0;
  for (const group of eliminationOrder(neighbours, hubs))
    for (let k = 0; k < (isPhoto.has(group) ? ofPhoto : 1); k++) place[group + k] = next++;
  const pattern = patternOf(
    unknowns,
    cliques.map((clique) => clique.map((unknown) => place[unknown]!)),
  );
  const entries = new Map(
    clumps.map((clump, i) => {
      const places = cliques[i]!.map((unknown) => place[unknown]!);
      const at = new Int32Array((places.length * (places.length + 1)) / 2);
      let pair = 0;
      for (let k = 0; k < places.length; k++)
        for (let m = 0; m <= k; m++) at[pair++] = entryAt(pattern, places[k]!, places[m]!);
      return [clump, at] as const;
    }),
  );
  return { place, pattern, entries };
};
