import { uniformFrom } from "../../../analysis/algebra/seeded-random.ts";
import type {
  AllotmentProblem,
  Ban,
  FaceName,
  Leaf,
  LeafFace,
  Lock,
  Opening,
  Space,
} from "../../../analysis/allot/allotment.ts";

/** A small invented job with everything in it: pairs, spares, locks, bans, existing faces, openings that look twice into one space. */
export const smallJob = (seed: number, places: number): AllotmentProblem => {
  const draw = uniformFrom(seed);
  const below = (count: number) => Math.floor(draw() * count);
  const spaces: Space[] = ["hall", "landing", "store"].map((id) => ({ id, weight: 1 }));
  const openings: Opening[] = [];
  for (let left = places; left > 0; ) {
    const leaves = left >= 2 && draw() < 0.25 ? 2 : 1;
    const looks = () => [null, "hall", "landing", "store"][below(4)] ?? null;
    openings.push({
      id: `D${openings.length + 1}`,
      spec: draw() < 0.75 ? "wide" : "narrow",
      leaves,
      spaces: ["hall", looks()],
    });
    left -= leaves;
  }
  if (openings.length > 1)
    spaces[0] = { id: "hall", weight: 1, pairs: [{ one: "D1", other: "D2", weight: draw() < 0.5 ? 0.5 : 0 }] };
  const specs = openings.flatMap(({ spec, leaves }) => (leaves === 2 ? [spec, spec] : [spec]));
  if (draw() < 0.5) specs.push("wide");
  const leaves: Leaf[] = specs.map((spec, n): Leaf => {
    const id = `L${n + 1}`;
    const fits =
      draw() < 0.2 ? { openings: openings.filter((one) => one.spec === spec).map((one) => one.id) } : { spec };
    const face = (name: FaceName) => ({ id: `${id}/${name}`, lightness: 60 + 5 * draw() });
    return { id, fits, faces: { A: face("A"), B: face("B") }, mayTurn: draw() < 0.8, state: "free" };
  });
  const existing = draw() < 0.4 ? [{ id: "old", space: "landing" }] : [];
  const faces = [...leaves.flatMap(({ faces }) => [faces.A.id, faces.B.id]), ...existing.map(({ id }) => id)];
  const deltaE: (number | null)[][] = faces.map(() => faces.map(() => 0));
  for (const [i, row] of deltaE.entries())
    for (let j = 0; j < i; j++) row[j] = deltaE[j]![i] = draw() < 0.03 ? null : Math.round(60 * draw()) / 10;
  const locks: Lock[] = [];
  const bans: Ban[] = [];
  if (draw() < 0.4 && leaves[0]) {
    const opening = openings.find(({ spec }) => spec === specs[0])!;
    locks.push(
      draw() < 0.5 || !leaves[0].mayTurn
        ? { leaf: "L1", opening: opening.id }
        : { leaf: "L1", opening: opening.id, turned: true },
    );
  }
  if (draw() < 0.4) bans.push({ leaf: `L${leaves.length}`, space: "store" });
  if (draw() < 0.4 && leaves.length > 2) bans.push({ leaf: "L2", space: "landing", face: "A" });
  if (draw() < 0.3 && leaves.length > 3) bans.push({ leaf: "L3", opening: openings.at(-1)!.id });
  if (draw() < 0.15 && leaves.length > 2) leaves[1] = { ...leaves[1]!, state: "out" };
  return {
    leaves,
    openings,
    spaces,
    existing,
    locks,
    bans,
    differences: { faces, deltaE },
    meetingWeight: 1.5,
    notComparedAs: 8,
    mayStayEmpty: [],
  };
};

/**
 * The same kind of job with the other wishes: intervals and a confidence, hinges and fire, marks, walls and sight weights, gentle runs, light
 * beside dark. Differences are all distinct, but for the stand-ins.
 */
export const wishfulJob = (seed: number, places: number): AllotmentProblem => {
  const job = smallJob(seed, places);
  const draw = uniformFrom(seed + 5000);
  const below = (count: number) => Math.floor(draw() * count);
  const { faces } = job.differences;
  const table = (value: (i: number, j: number) => number | null): (number | null)[][] => {
    const rows: (number | null)[][] = faces.map(() => faces.map(() => 0));
    for (const [i, row] of rows.entries()) for (let j = 0; j < i; j++) row[j] = rows[j]![i] = value(i, j);
    return rows;
  };
  const marked = (face: LeafFace): LeafFace => (draw() < 0.25 ? { ...face, mark: 1 + 4 * draw() } : face);
  const [left, middle] = [job.openings.map(({ id }) => id).filter((_, n) => n % 3 !== 2), ["D3", "old"]];
  const standing = new Set([...job.openings.map(({ id }) => id), ...job.existing.map(({ id }) => id)]);
  return {
    ...job,
    openings: job.openings.map((opening) => ({
      ...opening,
      ...(draw() < 0.5 ? { hand: draw() < 0.75 ? "left" : "right" } : {}),
      ...(draw() < 0.15 ? { fireMinutes: 30 } : {}),
    })),
    leaves: job.leaves.map((leaf) => ({
      ...leaf,
      faces: { A: marked(leaf.faces.A), B: marked(leaf.faces.B) },
      ...(draw() < 0.4 ? { hand: draw() < 0.75 ? "left" : "right" } : {}),
      ...(draw() < 0.7 ? { fireMinutes: draw() < 0.5 ? 30 : 60 } : {}),
    })),
    spaces: job.spaces.map((space) => ({
      ...space,
      weight: 1 + below(2) / 4,
      ...(draw() < 0.8 ? { walls: [left, middle].map((wall) => wall.filter((id) => standing.has(id))) } : {}),
      ...(draw() < 0.5 ? { gentle: { goes: draw() < 0.5 ? "lighter" : "darker", stepBack: draw() } } : {}),
      ...(draw() < 0.5 ? { lightBesideDark: { average: 62.5, adds: 2 * draw() } } : {}),
      ...(draw() < 0.5 ? { marksCount: below(3) / 2 } : {}),
    })),
    existing: job.existing.map((face) => ({ ...face, lightness: 60 + 5 * draw() })),
    differences: {
      faces,
      deltaE: table((i, j) => (job.differences.deltaE[i]![j] === null ? null : 6 * draw())),
      ...(draw() < 0.8 ? { u95: table(() => (draw() < 0.1 ? null : 1.5 * draw())) } : {}),
    },
    ...(draw() < 0.7 ? { confidence: [0.5, 0.9, 0.95, 0.975][below(4)]! } : {}),
    ...(draw() < 0.7 ? { sight: { beside: 1.25, across: 0.5, apart: below(2) / 4 } } : {}),
  };
};

/** A job of `spaces` halls with `size` openings each, where leaves of one hall differ by at most 1 and of two halls by at least 3. */
export const plantedJob = (
  seed: number,
  halls: number,
  size: number,
): { readonly problem: AllotmentProblem; readonly planted: number } => {
  const draw = uniformFrom(seed);
  const count = halls * size;
  const shuffled = Array.from({ length: count }, (_, n) => ({ n, key: draw() })).toSorted((a, b) => a.key - b.key);
  const hallOf = new Map(shuffled.map(({ n }, at) => [n, Math.floor(at / size)]));
  const leaves = Array.from({ length: count }, (_, n): Leaf => {
    const id = `L${String(n + 1).padStart(2, "0")}`;
    const face = (name: FaceName) => ({ id: `${id}/${name}`, lightness: 50 + draw() });
    return { id, fits: { spec: "wide" }, faces: { A: face("A"), B: face("B") }, mayTurn: true, state: "free" };
  });
  const shown = leaves.map(() => (draw() < 0.5 ? 0 : 1));
  let planted = 0;
  const deltaE = Array.from({ length: 2 * count }, () => Array.from({ length: 2 * count }, () => 0));
  for (let i = 0; i < 2 * count; i++)
    for (let j = 0; j < i; j++) {
      const [one, other] = [i >>> 1, j >>> 1];
      const together =
        hallOf.get(one) === hallOf.get(other) && one !== other && (i & 1) === shown[one] && (j & 1) === shown[other];
      const value = together ? draw() : 3 + draw();
      if (together) planted = Math.max(planted, value);
      deltaE[i]![j] = deltaE[j]![i] = value;
    }
  const openings = Array.from(
    { length: count },
    (_, n): Opening => ({
      id: `D${String(n + 1).padStart(2, "0")}`,
      spec: "wide",
      leaves: 1,
      spaces: [`hall ${Math.floor(n / size)}`, null],
    }),
  );
  const spaces = Array.from({ length: halls }, (_, n): Space => ({ id: `hall ${n}`, weight: 1 }));
  return {
    planted,
    problem: {
      leaves,
      openings,
      spaces,
      existing: [],
      locks: [],
      bans: [],
      differences: { faces: leaves.flatMap(({ faces }) => [faces.A.id, faces.B.id]), deltaE },
      meetingWeight: 1,
      notComparedAs: 10,
      mayStayEmpty: [],
    },
  };
};
