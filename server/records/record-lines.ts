import type { Delivery } from "../contract/delivery.ts";
import type { LineConcerned } from "./record-schema.ts";

/**
 * The order lines of some leaves: how many leaves are affected of how many delivered. Delivered is what was counted,
 * or what the note says while nobody has counted. `value` is in the job's currency, rounded to its smallest unit.
 */
export const linesConcerned = ({ lines, leaves }: Delivery, codes: readonly string[]): LineConcerned[] =>
  lines.flatMap((line) => {
    const affected = leaves.filter((leaf) => leaf.line === line.id && codes.includes(leaf.code)).length;
    if (affected === 0) return [];
    const { id, item, productCode, price, ordered, onNote, counted, leavesPerUnit, fireRating } = line;
    const value = Math.round(price * affected * 100) / 100;
    const delivered = counted ?? onNote;
    return [
      { id, item, productCode, price, ordered, onNote, counted, leavesPerUnit, fireRating, affected, delivered, value },
    ];
  });

interface AskingLeaf {
  readonly code: string;
  readonly line: string | null;
  /** "replacement", "credit", "repair", or empty. */
  readonly asks: string;
}

const amountOf = (number: number, leavesPerUnit: 1 | 2): string => {
  if (leavesPerUnit === 1) return number === 1 ? "1 leaf" : `${number} leaves`;
  const pairs = number / 2;
  return `${pairs} matched ${pairs === 1 ? "pair" : "pairs"} (${number} leaves, each pair one unit)`;
};

/** What is asked, a sentence a line and remedy: "L1, walnut 926: replacement of 2 leaves: W03, W07." */
export const asksOf = (lines: readonly LineConcerned[], leaves: readonly AskingLeaf[]): string[] =>
  lines.flatMap(({ id, item, leavesPerUnit }) => {
    const ofLine = leaves.filter(({ line, asks }) => line === id && asks !== "");
    return [...new Set(ofLine.map(({ asks }) => asks))].map((asks) => {
      const codes = ofLine.filter((leaf) => leaf.asks === asks).map(({ code }) => code);
      return `${id}, ${item}: ${asks} of ${amountOf(codes.length, leavesPerUnit)}: ${codes.join(", ")}.`;
    });
  });
