import type { Board } from "./board.ts";
import { remove, swapNeighbours, type ValueSets } from "./value-sets.ts";

/**
 * What may stand together when no weighted difference may pass a limit. For each table, `rows[face]` is the set of values that may
 * stand at the other place when side 0 of it is seen, `turned[face]` the same when its side 1 is. A leaf never stands beside itself.
 */
export interface Limit {
  readonly rows: readonly ValueSets[];
  readonly turned: readonly ValueSets[];
}

/** The limit in sets of values; a difference equal to it is allowed. */
export const limitAt = ({ tables, values, words }: Board, limit: number): Limit => {
  const rows = tables.map((table) => {
    const sets = new Int32Array(values * words);
    for (let face = 0; face < values; face++) {
      for (let other = 0; other < values; other++)
        if (table[face * values + other]! <= limit) sets[face * words + (other >>> 5)]! |= 1 << (other & 31);
      remove(sets, face * words, face);
      remove(sets, face * words, face ^ 1);
    }
    return sets;
  });
  return { rows, turned: rows.map((sets) => sets.map(swapNeighbours)) };
};

/** The domains without the values that pass the limit by themselves. */
export const domainsAt = ({ domains, aloneWorst, places, values, words }: Board, limit: number): ValueSets => {
  const kept = domains.slice();
  for (let place = 0; place < places.length; place++)
    for (let value = 0; value < values; value++)
      if (aloneWorst[place * values + value]! > limit) remove(kept, place * words, value);
  return kept;
};

/** Every weighted difference a plan can have as its worst, each once, smallest first, from `from` up to `to`. */
export const levelsBetween = ({ tables, aloneWorst, values }: Board, from: number, to: number): Float64Array => {
  const within: number[] = [];
  const keep = (level: number) => {
    if (level >= from && level <= to) within.push(level);
  };
  keep(0);
  for (const table of tables)
    for (let face = 0; face < values; face++)
      for (let other = 0; other < values; other++) if (other >>> 1 !== face >>> 1) keep(table[face * values + other]!);
  aloneWorst.forEach(keep);
  const sorted = Float64Array.from(within).sort();
  return sorted.filter((level, i) => i === 0 || level !== sorted[i - 1]);
};
