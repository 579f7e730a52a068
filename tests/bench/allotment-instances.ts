import { differenceCiede2000 } from "culori";
import { normalFrom, uniformFrom } from "../../analysis/algebra/seeded-random.ts";
import type { AllotmentProblem, Leaf, Opening, Space } from "../../analysis/allot/allotment.ts";

/**
 * Makes of jobs beside the usual one: leaves all alike but for their colour; every third opening a pair; specs of which one has two
 * leaves only; differences known to within an interval; long corridors, with small halls of two.
 */
export const makes = ["usual", "one spec", "many pairs", "rare specs", "uncertain", "corridors"] as const;
export type Make = (typeof makes)[number];

/**
 * Invented jobs of a realistic make, the same for the same seed. Colours are assumptions, not measurements of real veneer: two to four
 * batches (sd 2.2 L*, 0.6 a*, 1.3 b* between them), leaves 1.5 along light to dark, faces of a leaf 0.7, parts 0.55.
 * A flat has a hall of two to six openings and a room behind each; four in ten jobs have a corridor of eight to twelve too.
 * Two or three specs; a few pairs; as many leaves as places, one in twenty more as spares.
 */
export const instance = (leafCount: number, seed: number, make: Make = "usual"): AllotmentProblem => {
  const uniform = uniformFrom(seed * 7919 + leafCount);
  const normal = normalFrom(seed * 104729 + leafCount);
  const whole = (from: number, to: number) => from + Math.floor(uniform() * (to - from + 1));
  const spares = Math.floor(leafCount / 20);
  const openings: Opening[] = [];
  const spaces: Space[] = [];
  let left = leafCount - spares;
  const corridor = uniform() < 0.4 && leafCount >= 20;
  const isCorridor = (flat: number): boolean => (make === "corridors" ? flat % 3 === 1 : corridor && flat === 1);
  const mostDoors = make === "corridors" ? 3 : 6;
  const pairShare = make === "many pairs" ? 0.33 : 0.08;
  let rareLeft = make === "rare specs" ? 4 : 0;
  const singleSpec = (draw: number): string => {
    if (make === "one spec") return specs[0]!;
    if (rareLeft > 0 && draw > 0.8) return ["1026x2040 FD60", "1026x2040 flush"][rareLeft-- % 2]!;
    return specs[draw < 0.6 ? 0 : draw < 0.92 ? 1 : 2]!;
  };
  const specs = ["826x2040 flush", "726x2040 flush", "926x2040 FD30"];
  const space = (id: string): string => {
    spaces.push({ id, weight: 1 });
    return id;
  };
  for (let flat = 1; left > 0; flat++) {
    const hall = space(`hall ${flat}`);
    const doors = Math.min(left, isCorridor(flat) ? whole(8, 12) : whole(2, mostDoors));
    let rooms = 0;
    let used = 0;
    while (used < doors) {
      const pair = doors - used >= 2 && uniform() < pairShare;
      rooms++;
      const behind =
        uniform() < 0.25 && rooms > 1
          ? `room ${flat}.${rooms - 1}`
          : uniform() < 0.2
            ? null
            : space(`room ${flat}.${rooms}`);
      const known = behind === null || spaces.some(({ id }) => id === behind);
      const draw = uniform();
      openings.push({
        id: `D${String(openings.length + 1).padStart(3, "0")}`,
        spec: pair ? (make === "one spec" ? specs[0]! : "pair 826x2040") : singleSpec(draw),
        leaves: pair ? 2 : 1,
        spaces: [hall, known ? behind : space(`room ${flat}.${rooms}`)],
      });
      used += pair ? 2 : 1;
    }
    left -= used;
  }
  const places = openings.flatMap(({ spec, leaves }) => Array.from({ length: leaves }, () => spec));
  const leafSpecs = [...places, ...Array.from({ length: spares }, () => places[whole(0, places.length - 1)] ?? "")];
  const batches = Array.from(
    { length: whole(2, 4) },
    () => [66 + 2.2 * normal(), 7.5 + 0.6 * normal(), 20 + 1.3 * normal()] as const,
  );
  const colours: Lab[][] = [];
  const leaves = leafSpecs.map((spec, n): Leaf => {
    const [L, a, b] = batches[Math.min(batches.length - 1, Math.floor(uniform() * uniform() * batches.length))]!;
    const along = 1.5 * normal();
    const id = `L${String(n + 1).padStart(3, "0")}`;
    const face = (name: string) => {
      const [fL, fa, fb] = [0.7 * normal(), 0.25 * normal(), 0.4 * normal()];
      const parts = Array.from(
        { length: 4 },
        (): Lab => ({
          mode: "lab65",
          l: L + along + fL + 0.55 * normal(),
          a: a - 0.2 * along + fa + 0.2 * normal(),
          b: b - 0.35 * along + fb + 0.3 * normal(),
        }),
      );
      colours.push(parts);
      return { id: `${id}/${name}`, lightness: parts.reduce((sum, { l }) => sum + l, 0) / parts.length };
    };
    return { id, fits: { spec }, faces: { A: face("A"), B: face("B") }, mayTurn: uniform() > 0.05, state: "free" };
  });
  const deltaE00 = differenceCiede2000();
  return {
    leaves,
    openings,
    spaces,
    existing: [],
    locks: [],
    bans: [],
    differences: {
      faces: leaves.flatMap(({ faces }) => [faces.A.id, faces.B.id]),
      deltaE: symmetric(colours.length, (i, j) =>
        Math.max(...colours[i]!.map((part, k) => deltaE00(part, colours[j]![k]!))),
      ),
      ...(make === "uncertain" ? { u95: symmetric(colours.length, () => 0.4 + 0.8 * uniform()) } : {}),
    },
    meetingWeight: 1.5,
    notComparedAs: 10,
    mayStayEmpty: [],
  };
};

interface Lab {
  readonly mode: "lab65";
  readonly l: number;
  readonly a: number;
  readonly b: number;
}

const symmetric = (size: number, value: (i: number, j: number) => number): number[][] => {
  const table = Array.from({ length: size }, () => Array.from({ length: size }, () => 0));
  for (let i = 0; i < size; i++) for (let j = 0; j < i; j++) table[i]![j] = table[j]![i] = value(i, j);
  return table;
};
