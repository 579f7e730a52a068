import { expect, test } from "vitest";
import { uniformFrom } from "../../../analysis/algebra/seeded-random.ts";
import { largestPairing } from "../../../analysis/allot/largest-pairing.ts";

/** By trying for the first member every mate, and none. */
const byTrying = (mates: readonly (readonly number[])[], left: readonly number[]): number => {
  const [first, ...others] = left;
  if (first === undefined) return 0;
  const paired = others
    .filter((other) => mates[first]!.includes(other))
    .map(
      (other) =>
        1 +
        byTrying(
          mates,
          others.filter((one) => one !== other),
        ),
    );
  return Math.max(byTrying(mates, others), ...paired);
};

test("as many pairs as trying every pairing finds, on 400 drawn cases, blossoms among them", () => {
  const draw = uniformFrom(3);
  let odd = 0;
  for (let round = 0; round < 400; round++) {
    const count = 3 + Math.floor(7 * draw());
    const share = 0.15 + 0.4 * draw();
    const mates: number[][] = Array.from({ length: count }, () => []);
    for (let one = 0; one < count; one++)
      for (let other = 0; other < one; other++)
        if (draw() < share) {
          mates[one]!.push(other);
          mates[other]!.push(one);
        }
    const truth = byTrying(mates, [...mates.keys()]);
    if (truth < Math.floor(count / 2)) odd++;
    expect(largestPairing(mates)).toBe(truth);
  }
  expect(odd).toBeGreaterThan(100);
});

test("three triangles joined at their tips by one member: a pairing with four pairs", () => {
  const mates: number[][] = Array.from({ length: 10 }, () => []);
  const join = (one: number, other: number) => {
    mates[one]!.push(other);
    mates[other]!.push(one);
  };
  for (const tip of [1, 4, 7]) {
    join(tip, tip + 1);
    join(tip + 1, tip + 2);
    join(tip, tip + 2);
    join(0, tip);
  }
  expect(largestPairing(mates)).toBe(4);
});
