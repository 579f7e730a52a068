import { narrowOrder } from "../algebra/narrow-order.ts";
import type { Equations, Seen } from "./equations.ts";
import { lightTerms } from "./light-field.ts";

/** Where each unknown stands in the matrix, and where its row begins: the same for all three channels. */
export interface Order {
  readonly place: Int32Array;
  readonly first: Int32Array;
}

/** The unknowns that one thing seen speaks of: its colour, the light of its photo, what is added. */
export const unknownsOf = ({ colour, photo, extra }: Seen, light: readonly number[]): number[] => [
  colour,
  ...Array.from({ length: lightTerms }, (_, k) => light[photo]! + k),
  extra,
];

/** An order that keeps what meets in one equation close together. */
export const orderUnknowns = ({ unknowns, seen, light, ties, hubs, parts, patches }: Equations): Order => {
  const neighbours = unknowns.map(() => new Set<number>());
  const join = (set: readonly number[]) => {
    for (const i of set) for (const j of set) if (i !== j) neighbours[i]!.add(j);
  };
  for (const { cells } of parts) {
    const byColour = new Map(cells.flatMap((places) => places.map((at) => [seen[at]!.colour, seen[at]!] as const)));
    join([...byColour.values()].flatMap((one) => unknownsOf(one, light)));
  }
  for (const at of patches) join(unknownsOf(seen[at]!, light));
  for (const { one, other } of ties) if (other !== null) join([one, other]);
  const place = narrowOrder(neighbours, hubs);
  const first = new Int32Array(unknowns.length);
  neighbours.forEach((near, i) => {
    let least = place[i]!;
    for (const j of near) least = Math.min(least, place[j]!);
    first[place[i]!] = least;
  });
  return { place, first };
};
