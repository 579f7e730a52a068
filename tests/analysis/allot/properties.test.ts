import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { uniformFrom } from "../../../analysis/algebra/seeded-random.ts";
import { allot } from "../../../analysis/allot/allot.ts";
import type { Allotment, AllotmentProblem, Leaf, LeafFace, Plan } from "../../../analysis/allot/allotment.ts";
import { smallJob, wishfulJob } from "./small-jobs.ts";

/**
 * Small jobs of both makes: pairs, spares, locks, bans, existing faces; intervals, marks, walls, hinges, fire. In half of them all openings
 * but the first may stay empty, the last to be given up first.
 */
const anyJob = fc
  .record({
    seed: fc.integer({ min: 1, max: 1_000_000 }),
    places: fc.integer({ min: 2, max: 9 }),
    wishful: fc.boolean(),
    lenient: fc.boolean(),
  })
  .map(({ seed, places, wishful, lenient }) => {
    const job = (wishful ? wishfulJob : smallJob)(seed, places);
    const locked = new Set(job.locks.map(({ opening }) => opening));
    const given = job.openings.slice(1).flatMap(({ id }) => (locked.has(id) ? [] : [id]));
    return { seed, problem: lenient ? { ...job, mayStayEmpty: given.toReversed() } : job };
  });

/** Tries 80 drawn jobs, of which those that can be planned are looked at, more than half. */
const forEveryJob = (look: (problem: AllotmentProblem, plan: Plan, draw: () => number) => void): void => {
  let looked = 0;
  fc.assert(
    fc.property(anyJob, ({ seed, problem }) => {
      const plan = allot(problem);
      if (plan.kind !== "plan") return;
      looked++;
      look(problem, plan, uniformFrom(seed + 1));
    }),
    { seed: 7, numRuns: 80 },
  );
  expect(looked).toBeGreaterThan(45);
};

const planOf = (outcome: Allotment): Plan => {
  if (outcome.kind !== "plan") throw new Error(JSON.stringify(outcome));
  return outcome;
};

const shuffled = <T>(list: readonly T[], draw: () => number): T[] =>
  list
    .map((one) => ({ one, key: draw() }))
    .toSorted((a, b) => a.key - b.key)
    .map(({ one }) => one);

/** Every list in another order; walls and the openings that may stay empty keep theirs, which says something. */
const reordered = (problem: AllotmentProblem, draw: () => number): AllotmentProblem => {
  const { faces, deltaE, u95 } = problem.differences;
  const order = shuffled([...faces.keys()], draw);
  const table = <T>(rows: readonly (readonly T[])[]): T[][] => order.map((i) => order.map((j) => rows[i]![j]!));
  return {
    ...problem,
    leaves: shuffled(problem.leaves, draw),
    openings: shuffled(problem.openings, draw),
    spaces: shuffled(problem.spaces, draw).map((space) =>
      space.pairs
        ? {
            ...space,
            pairs: shuffled(space.pairs, draw).map((pair) => ({ ...pair, one: pair.other, other: pair.one })),
          }
        : space,
    ),
    existing: shuffled(problem.existing, draw),
    locks: shuffled(problem.locks, draw),
    bans: shuffled(problem.bans, draw),
    differences: {
      faces: order.map((i) => faces[i]!),
      deltaE: table(deltaE),
      ...(u95 ? { u95: table(u95) } : {}),
    },
  };
};

/** Other names for leaves, openings, spaces and faces, none of which is the name of another kind. */
const renamed = (problem: AllotmentProblem, of: (id: string) => string): AllotmentProblem => ({
  ...problem,
  leaves: problem.leaves.map((leaf) => ({
    ...leaf,
    id: of(leaf.id),
    fits: "spec" in leaf.fits ? leaf.fits : { openings: leaf.fits.openings.map(of) },
    faces: { A: { ...leaf.faces.A, id: of(leaf.faces.A.id) }, B: { ...leaf.faces.B, id: of(leaf.faces.B.id) } },
  })),
  openings: problem.openings.map((opening) => ({
    ...opening,
    id: of(opening.id),
    spaces: [opening.spaces[0] && of(opening.spaces[0]), opening.spaces[1] && of(opening.spaces[1])],
  })),
  spaces: problem.spaces.map((space) => ({
    ...space,
    id: of(space.id),
    ...(space.pairs
      ? { pairs: space.pairs.map((pair) => ({ ...pair, one: of(pair.one), other: of(pair.other) })) }
      : {}),
    ...(space.walls ? { walls: space.walls.map((wall) => wall.map(of)) } : {}),
  })),
  existing: problem.existing.map((face) => ({ ...face, id: of(face.id), space: of(face.space) })),
  locks: problem.locks.map((lock) => ({ ...lock, leaf: of(lock.leaf), opening: of(lock.opening) })),
  bans: problem.bans.map((ban) =>
    "opening" in ban
      ? { leaf: of(ban.leaf), opening: of(ban.opening) }
      : { ...ban, leaf: of(ban.leaf), space: of(ban.space) },
  ),
  differences: { ...problem.differences, faces: problem.differences.faces.map(of) },
  mayStayEmpty: problem.mayStayEmpty.map(of),
});

describe("the same job told otherwise", () => {
  test("told twice it gives the same plan byte for byte, and is left as it was", () => {
    forEveryJob((problem, plan) => {
      const copy = structuredClone(problem);
      expect(JSON.stringify(allot(copy))).toBe(JSON.stringify(plan));
      expect(copy).toEqual(problem);
    });
  });

  test("the order of every list changes nothing at all", () => {
    forEveryJob((problem, plan, draw) => {
      const same = planOf(allot(reordered(problem, draw)));
      expect(same.places).toEqual(plan.places);
      expect([same.worst, same.bound, same.sum, same.settled]).toEqual([
        plan.worst,
        plan.bound,
        plan.sum,
        plan.settled,
      ]);
    });
  });

  test("names in the same order change nothing but the names", () => {
    forEveryJob((problem, plan) => {
      const longer = (id: string) => `${id} of the new wing`;
      const same = planOf(allot(renamed(problem, longer)));
      expect(same.places.map(({ leaf, opening, turned }) => [leaf, opening, turned])).toEqual(
        plan.places.map(({ leaf, opening, turned }) => [longer(leaf), longer(opening), turned]),
      );
      expect(same.sum).toBe(plan.sum);
    });
  });

  test("names in any order change neither the worst nor its proof", () => {
    forEveryJob((problem, plan, draw) => {
      const names = new Map<string, string>();
      const any = (id: string): string => {
        const name = names.get(id) ?? `${draw()}`;
        names.set(id, name);
        return name;
      };
      const same = planOf(allot(renamed(problem, any)));
      expect([same.worst, same.proven]).toEqual([plan.worst, plan.proven]);
    });
  });
});

describe("another job beside it", () => {
  test("a spare more never makes the worst larger", () => {
    forEveryJob((problem, plan, draw) => {
      const face = (name: string): LeafFace => ({ id: `spare/${name}`, lightness: 60 + 5 * draw() });
      const like = problem.leaves[Math.floor(draw() * problem.leaves.length)]!;
      const spare: Leaf = { ...like, id: "spare", faces: { A: face("A"), B: face("B") }, state: "free" };
      const { faces, deltaE, u95 } = problem.differences;
      const more = <T>(rows: readonly (readonly T[])[], value: () => T, own: T): T[][] => {
        const [a, b] = [rows.map(value), rows.map(value)];
        return [...rows.map((row, i) => [...row, a[i]!, b[i]!]), [...a, own, own], [...b, own, own]];
      };
      const larger = planOf(
        allot({
          ...problem,
          leaves: [...problem.leaves, spare],
          differences: {
            faces: [...faces, "spare/A", "spare/B"],
            deltaE: more(deltaE, () => Math.round(40 * draw()) / 10, 0),
            ...(u95 ? { u95: more(u95, () => 0.3, 0.3) } : {}),
          },
        }),
      );
      // Where openings had to stay empty it may fill one, which then is seen.
      if (plan.empty.length === 0) expect(larger.worst).toBeLessThanOrEqual(plan.worst);
    });
  });

  test("a leaf locked where it would hang anyway changes nothing in the worst; a ban never makes it smaller", () => {
    forEveryJob((problem, plan, draw) => {
      const { leaf, opening, place, turned } = plan.places[Math.floor(draw() * plan.places.length)]!;
      const others = problem.locks.filter((lock) => lock.leaf !== leaf);
      if (others.some((lock) => lock.opening === opening)) return;
      const locked = planOf(allot({ ...problem, locks: [...others, { leaf, opening, place, turned }] }));
      expect(locked.worst).toBe(plan.worst);
      expect(locked.places.find((one) => one.leaf === leaf)).toMatchObject({ opening, place, turned });
      if (others.length < problem.locks.length) return;
      const banned = allot({ ...problem, bans: [...problem.bans, { leaf, opening }] });
      if (banned.kind !== "plan" || banned.empty.length + plan.empty.length > 0) return;
      expect(banned.worst).toBeGreaterThanOrEqual(plan.worst);
      expect(banned.places.find((one) => one.leaf === leaf)?.opening).not.toBe(opening);
    });
  });

  test("a leaf whose two faces are alike hangs as well one way round as the other", () => {
    forEveryJob((problem, _, draw) => {
      const n = Math.floor(draw() * problem.leaves.length);
      const leaf = problem.leaves[n]!;
      const { A, B } = leaf.faces;
      const { faces, deltaE, u95 } = problem.differences;
      const [a, b] = [faces.indexOf(A.id), faces.indexOf(B.id)];
      const like = (i: number): number => (i === b ? a : i);
      const table = <T>(rows: readonly (readonly T[])[]): T[][] =>
        rows.map((row, i) => row.map((_, j) => rows[like(i)]![like(j)]!));
      const alike = (mayTurn: boolean): AllotmentProblem => ({
        ...problem,
        leaves: problem.leaves.with(n, { ...leaf, mayTurn, faces: { A, B: { ...A, id: B.id } } }),
        locks: problem.locks.filter((lock) => lock.leaf !== leaf.id),
        bans: problem.bans.filter((ban) => ban.leaf !== leaf.id),
        differences: { faces, deltaE: table(deltaE), ...(u95 ? { u95: table(u95) } : {}) },
      });
      const [still, turns] = [allot(alike(false)), allot(alike(true))];
      if (still.kind !== "plan") return;
      const hung = still.places.find((place) => place.leaf === leaf.id);
      expect(planOf(turns).worst).toBe(still.worst);
      if (!hung) return;
      const { opening, place } = hung;
      const locks = [...alike(true).locks, { leaf: leaf.id, opening, place, turned: true }];
      expect(planOf(allot({ ...alike(true), locks })).worst).toBe(still.worst);
    });
  });

  test("differences twice as large are twice as large in the plan, which stays", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 100_000 }), fc.integer({ min: 2, max: 9 }), (seed, places) => {
        const problem = smallJob(seed, places);
        const plan = allot(problem);
        if (plan.kind !== "plan") return;
        const deltaE = problem.differences.deltaE.map((row) => row.map((value) => value && 2 * value));
        const doubled = planOf(
          allot({
            ...problem,
            differences: { ...problem.differences, deltaE },
            notComparedAs: 2 * problem.notComparedAs,
          }),
        );
        expect([doubled.worst, doubled.sum]).toEqual([2 * plan.worst, 2 * plan.sum]);
        expect(doubled.places).toEqual(plan.places);
      }),
      { seed: 8, numRuns: 80 },
    );
  });
});
