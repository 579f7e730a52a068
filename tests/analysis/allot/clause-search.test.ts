import { describe, expect, test } from "vitest";
import { uniformFrom } from "../../../analysis/algebra/seeded-random.ts";
import { type Choices, searchClauses } from "../../../analysis/allot/clause-search.ts";
import { add, has } from "../../../analysis/allot/value-sets.ts";

/** Variables 0 to `count` - 1, of which these pairs clash. */
const choices = (
  count: number,
  pairs: readonly (readonly [number, number])[],
  oneOf: readonly (readonly number[])[],
): Choices => {
  const words = (count + 31) >>> 5;
  const variables = new Int32Array(words);
  const clashes = Array.from({ length: count }, () => new Int32Array(words));
  for (let n = 0; n < count; n++) add(variables, 0, n);
  for (const [one, other] of pairs) {
    add(clashes[one]!, 0, other);
    add(clashes[other]!, 0, one);
  }
  return {
    variables,
    oneOf,
    eachClash: (variable, open, take) => {
      for (let word = 0; word < words; word++) {
        const bits = open[word]! & clashes[variable]![word]!;
        if (bits !== 0 && !take(word, bits)) return;
      }
    },
  };
};

/** Whether any choice at all is one: by trying every one there is. */
const anyChoice = (count: number, pairs: readonly (readonly [number, number])[], oneOf: readonly number[][]): boolean =>
  Array.from({ length: 2 ** count }, (_, bits) => Int32Array.of(bits)).some(
    (yes) =>
      pairs.every(([one, other]) => !(has(yes, 0, one) && has(yes, 0, other))) &&
      oneOf.every((list) => list.some((n) => has(yes, 0, n))),
  );

/** So many pigeons, each in one of so many holes, no two in one. */
const pigeons = (count: number, holes: number): Choices => {
  const numbers = Array.from({ length: count }, (_, n) => n);
  const places = Array.from({ length: holes }, (_, n) => n);
  const pairs = places.flatMap((hole) =>
    numbers.flatMap((one) =>
      numbers.slice(one + 1).map((other) => [one * holes + hole, other * holes + hole] as const),
    ),
  );
  return choices(
    count * holes,
    pairs,
    numbers.map((n) => places.map((hole) => n * holes + hole)),
  );
};

describe("clauses", () => {
  test("say yes and no as trying every choice does, and a choice found is one", () => {
    const draw = uniformFrom(7);
    const below = (count: number) => Math.floor(draw() * count);
    let found = 0;
    for (let round = 0; round < 300; round++) {
      const count = 6 + below(6);
      const pairs = Array.from({ length: 8 + below(30) }, () => [below(count), below(count)] as const).filter(
        ([one, other]) => one !== other,
      );
      const oneOf = Array.from({ length: 2 + below(5) }, () =>
        Array.from({ length: 1 + below(4) }, () => below(count)),
      );
      const outcome = searchClauses(choices(count, pairs, oneOf), { left: 1e6 });
      expect(outcome.kind).toBe(anyChoice(count, pairs, oneOf) ? "found" : "none");
      if (outcome.kind !== "found") continue;
      found++;
      const yes = new Set(outcome.yes);
      expect(pairs.some(([one, other]) => yes.has(one) && yes.has(other))).toBe(false);
      expect(oneOf.every((list) => list.some((n) => yes.has(n)))).toBe(true);
    }
    expect(found).toBeGreaterThan(50);
    expect(found).toBeLessThan(250);
  });

  test("seven pigeons do not fit six holes, six do: with many conflicts and fresh starts on the way", () => {
    expect(searchClauses(pigeons(7, 6), { left: 1e8 }).kind).toBe("none");
    expect(searchClauses(pigeons(6, 6), { left: 1e8 }).kind).toBe("found");
  });

  test("an empty list is none; without work nothing is said", () => {
    expect(searchClauses(choices(2, [], [[0], []]), { left: 100 }).kind).toBe("none");
    expect(searchClauses(pigeons(7, 6), { left: 50 }).kind).toBe("undecided");
  });
});
