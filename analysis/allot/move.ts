import type { Board, Values } from "./board.ts";
import { has } from "./value-sets.ts";

/** A change of a plan: `place` takes `value`; if another place gave up that leaf, it takes `otherValue` in exchange. */
export interface Move {
  readonly place: number;
  readonly value: number;
  readonly other: number;
  readonly otherValue: number;
}

/** Where each leaf of the plan stands, -1 for a spare one. */
export const placesByLeaf = (board: Board, plan: Values): Int32Array => {
  const placeOf = new Int32Array(board.leaves.length).fill(-1);
  plan.forEach((value, place) => {
    placeOf[value >>> 1] = place;
  });
  return placeOf;
};

/** Carries the move out, in place. */
export const carryOut = (plan: Values, placeOf: Int32Array, { place, value, other, otherValue }: Move): void => {
  placeOf[plan[place]! >>> 1] = -1;
  plan[place] = value;
  placeOf[value >>> 1] = place;
  if (other < 0) return;
  plan[other] = otherValue;
  placeOf[otherValue >>> 1] = other;
};

/** Numbers from 0 up to 1 from a seed. */
export type Draw = () => number;

/** A whole number from 0 up to, not including, `count`. */
export const drawBelow = (draw: Draw, count: number): number => Math.floor(draw() * count);

/** A move drawn at random; null when the draw names none that the domains allow. */
export const drawMove = (
  { domains, words, values }: Board,
  plan: Values,
  placeOf: Int32Array,
  draw: Draw,
): Move | null => {
  const place = drawBelow(draw, plan.length);
  const value = drawBelow(draw, values);
  const now = plan[place]!;
  if (value === now || !has(domains, place * words, value)) return null;
  const other = placeOf[value >>> 1]!;
  if (other < 0 || other === place) return { place, value, other: -1, otherValue: -1 };
  const otherValue = now ^ drawBelow(draw, 2);
  return has(domains, other * words, otherValue) ? { place, value, other, otherValue } : null;
};
