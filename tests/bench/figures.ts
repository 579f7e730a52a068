import type { Ratio } from "./ratio.ts";

/** One line of the table: what was measured, the figure, its goal and whether it is met, and a note. */
export const figure = (what: string, value: string, goal: string, met: boolean | null, note: string): void =>
  console.log(
    `${what.padEnd(58)}${value.padStart(22)}  ${goal.padEnd(9)}${(met === null ? "" : met ? "met" : "MISSED").padEnd(8)}${note}`,
  );

/** A ratio of CPU times that should be at most so much; null where it is only told. */
export const timesPeer = (what: string, { ratio, oursMs, peerMs }: Ratio, peer: string, most: number | null): void =>
  figure(
    what,
    `${ratio.toFixed(2)} x ${peer}`,
    most === null ? "" : `<= ${most}`,
    most === null ? null : ratio <= most,
    `${oursMs.toFixed(0)} ms, ${peerMs.toFixed(0)} ms`,
  );
