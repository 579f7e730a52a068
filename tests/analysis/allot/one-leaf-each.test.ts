import { expect, test } from "vitest";
import { uniformFrom } from "../../../analysis/algebra/seeded-random.ts";
import { dropHopeless, emptyMatching, matchAll } from "../../../analysis/allot/one-leaf-each.ts";
import { add, valuesOf } from "../../../analysis/allot/value-sets.ts";

/** Which leaves each place may have in some complete choice, by trying them all; null when there is no complete choice. */
const possible = (wanted: readonly (readonly number[])[]): Set<number>[] | null => {
  const seen = wanted.map(() => new Set<number>());
  let any = false;
  const choose = (chosen: readonly number[]) => {
    if (chosen.length === wanted.length) {
      any = true;
      chosen.forEach((leaf, place) => {
        seen[place]!.add(leaf);
      });
      return;
    }
    for (const leaf of wanted[chosen.length]!) if (!chosen.includes(leaf)) choose([...chosen, leaf]);
  };
  choose([]);
  return any ? seen : null;
};

test("what is dropped is exactly what no complete choice uses, on 300 drawn cases with and without spare leaves", () => {
  const draw = uniformFrom(7);
  let complete = 0;
  for (let round = 0; round < 300; round++) {
    const places = 3 + Math.floor(3 * draw());
    const leaves = places + Math.floor(2 * draw());
    const wanted = Array.from({ length: places }, () =>
      Array.from({ length: leaves }, (_, leaf) => leaf).filter(() => draw() < 0.4),
    );
    const sets = new Int32Array(places);
    for (const [place, list] of wanted.entries())
      for (const leaf of list) add(sets, place, 2 * leaf + Math.floor(2 * draw()));
    const matching = emptyMatching(places, leaves, 1);
    const truth = possible(wanted);
    expect(matchAll(matching, sets)).toBe(truth !== null);
    if (truth === null) continue;
    complete++;
    const told: number[] = [];
    dropHopeless(matching, sets, (place) => told.push(place));
    const left = wanted.map((_, place) => new Set(valuesOf(sets, place, 1).map((value) => value >>> 1)));
    expect(left).toEqual(truth);
    expect(told).toEqual([...wanted.keys()].filter((place) => truth[place]!.size < wanted[place]!.length));
  }
  expect(complete).toBeGreaterThan(50);
  expect(complete).toBeLessThan(290);
});
