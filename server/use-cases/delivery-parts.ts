import type { Delivery } from "../contract/delivery.ts";
import { Refusal } from "../problem.ts";

const found = <T>(item: T | undefined, says: string): T => {
  if (item === undefined) throw new Refusal(says, 404);
  return item;
};

/** The leaf with this code, of a delivery or of its draft; refused when there is none. */
export const leafOf = <D extends Pick<Delivery, "leaves">>(delivery: D, code: string): D["leaves"][number] =>
  found(
    delivery.leaves.find((leaf) => leaf.code === code),
    `There is no leaf ${code} in this delivery.`,
  );

export const lineOf = <D extends Pick<Delivery, "lines">>(delivery: D, id: string): D["lines"][number] =>
  found(
    delivery.lines.find((line) => line.id === id),
    `There is no line ${id} in this order.`,
  );

export const photoOf = <D extends Pick<Delivery, "photos">>(delivery: D, id: string): D["photos"][number] =>
  found(
    delivery.photos.find((photo) => photo.id === id),
    "There is no such photo in this delivery.",
  );

export const patternOf = <D extends Pick<Delivery, "patterns">>(delivery: D, id: string): D["patterns"][number] =>
  found(
    delivery.patterns.find((pattern) => pattern.id === id),
    `There is no pattern ${id} in this delivery.`,
  );
