import { describe, expect, it } from "vitest";
import { deltaE00 } from "../../../analysis/colour/delta-e00.ts";
import { setsByReference, setsSideBySide } from "../../../analysis/repeat/repeat-sets.ts";
import { spreadOf } from "../../../analysis/repeat/spread.ts";
import { makeReadings, singles } from "./made-readings.ts";

const none = [0, 0, 0] as const;
const told = { apart: true, referenced: true, turn: 0, tie: "known" } as const;

describe("the spread of repeat photos", () => {
  it("is worked out by hand for two photos of one part", () => {
    const of = (photo: string, L: number) =>
      ({
        photo,
        camera: "one",
        leaf: "W01",
        face: "A",
        part: "face",
        kind: "face",
        lab: [L, 9, 24],
        cells: 20,
        ...told,
      }) as const;
    const readings = [of("p1", 60), of("p2", 61)];
    const spread = spreadOf(setsByReference(readings), false)!;
    for (const other of [{ apart: false }, { referenced: false }])
      expect(setsByReference(readings.map((one) => ({ ...one, ...other })))).toEqual([]);
    expect(setsByReference(readings.map((one, turn) => ({ ...one, turn })))).toEqual([]);
    expect(setsByReference(readings.map((one, i) => ({ ...one, camera: `camera ${i}` })))).toEqual([]);
    // Two values 1 apart: standard deviation 1/√2, one degree of freedom.
    expect(spread.lab).toEqual([Math.SQRT1_2, 0, 0]);
    expect(spread.degreesOfFreedom).toBe(1);
    expect(spread.deltaE).toBeCloseTo(deltaE00([60, 9, 24], [61, 9, 24]) * Math.SQRT1_2, 3);
    expect(spread.limit).toBeCloseTo(2.8 * spread.deltaE, 12);
    // Chi-square tables, one degree of freedom: 5.024 and 0.000982.
    expect(spread.interval[0]).toBeCloseTo(spread.deltaE / Math.sqrt(5.024), 4);
    expect(spread.interval[1] / (spread.deltaE / Math.sqrt(0.000982069))).toBeCloseTo(1, 4);
  });

  it("finds the spreads that the photos were made with", () => {
    const readings = makeReadings(singles(200, 4), { photo: [0.8, 0.2, 0.4], part: none }, 1);
    const spread = spreadOf(setsByReference(readings), false)!;
    expect(spread.degreesOfFreedom).toBe(600);
    // 600 degrees of freedom: known to 1/√1200, 3 %; three times that.
    [0.8, 0.2, 0.4].forEach((sd, k) => {
      expect(Math.abs(spread.lab[k]! / sd - 1)).toBeLessThan(0.09);
    });
    expect(spread.faces).toHaveLength(200);
    expect(spread.photos).toBe(800);
  });

  it("has an interval that holds the truth in 95 of 100 cases", () => {
    const truth = spreadOf(
      setsByReference(makeReadings(singles(500, 5), { photo: [0.6, 0, 0], part: none }, 2)),
      false,
    )!;
    const held = Array.from({ length: 400 }, (_, seed) => {
      const found = spreadOf(
        setsByReference(makeReadings(singles(3, 3), { photo: [0.6, 0, 0], part: none }, 100 + seed)),
        false,
      )!;
      return found.interval[0] < truth.deltaE && truth.deltaE < found.interval[1];
    }).filter(Boolean).length;
    // 400 draws of 0.95: standard deviation 4.4; three times that. The truth itself is known to 1.6 %.
    expect(held).toBeGreaterThan(380 - 14);
    expect(held).toBeLessThan(380 + 14);
  });

  it("limits what two photos of one face differ by, in 95 of 100 cases along one axis and more along three", () => {
    const share = (photo: readonly [number, number, number]) => {
      const sets = setsByReference(makeReadings(singles(1000, 2), { photo, part: none }, 3));
      const { limit } = spreadOf(sets, false)!;
      const below = sets.filter(({ results: [one, other] }) => deltaE00(one!.value, other!.value) < limit);
      return below.length / sets.length;
    };
    // 3000 pairs of parts in 1000 pairs of photos: 0.95 is known to 0.007.
    expect(Math.abs(share([0.5, 0, 0]) - 0.952)).toBeLessThan(0.021);
    expect(share([0.5, 0.4, 0.6])).toBeGreaterThan(0.965);
  });

  it("does not count parts of one photo, or faces of one line-up, as photos", () => {
    const twice = spreadOf(setsByReference(makeReadings(singles(2, 3), { photo: [1, 0, 0], part: none }, 4)), false)!;
    expect(twice.degreesOfFreedom).toBe(4);
    const lineUp = ["p1", "p2", "p3"].map((photo) => ({ photo, faces: ["L0/A", "L1/A", "L2/A"] }));
    const row = spreadOf(setsByReference(makeReadings(lineUp, { photo: [1, 0, 0], part: none }, 4)), false)!;
    expect(row.degreesOfFreedom).toBe(2);
  });

  it("is null where nothing was photographed twice, or on other references", () => {
    expect(
      spreadOf(setsByReference(makeReadings(singles(3, 1), { photo: [1, 0, 0], part: none }, 5)), false),
    ).toBeNull();
    const ties = [
      { photo: "p1", faces: ["L0/A"], tie: "with p1" },
      { photo: "p2", faces: ["L0/A"], tie: "with p2" },
    ];
    expect(spreadOf(setsByReference(makeReadings(ties, { photo: [1, 0, 0], part: none }, 5)), false)).toBeNull();
  });
});

describe("the spread of faces side by side", () => {
  const lineUps = (times: number) =>
    Array.from({ length: times }, (_, t) => ({ photo: `p${t}`, faces: ["L0/A", "L1/A"], lineUp: true as const }));

  it("does not mind what the light does to both, and counts as that of one face", () => {
    const readings = makeReadings(lineUps(400), { photo: [5, 2, 2], part: [0.3, 0.1, 0.2] }, 6);
    const spread = spreadOf(setsSideBySide(readings), true)!;
    [0.3, 0.1, 0.2].forEach((sd, k) => {
      expect(Math.abs(spread.lab[k]! / sd - 1)).toBeLessThan(0.11);
    });
    expect(spread.degreesOfFreedom).toBe(399);
    expect(setsByReference(readings)).toEqual([]);
  });

  it("counts a pair of which one face is told apart, and none of which both only helped", () => {
    const readings = makeReadings(lineUps(3), { photo: [1, 1, 1], part: [0.3, 0.1, 0.2] }, 7);
    const helping = (leaf: string) => readings.map((one) => (one.leaf === leaf ? { ...one, apart: false } : one));
    expect(setsSideBySide(helping("L1"))).toEqual(setsSideBySide(readings));
    expect(setsSideBySide(readings.map((one) => ({ ...one, apart: false })))).toEqual([]);
  });

  it("is the same whichever face comes first", () => {
    const readings = makeReadings(lineUps(5), { photo: [1, 1, 1], part: [0.3, 0.1, 0.2] }, 7);
    const one = spreadOf(setsSideBySide(readings), true)!;
    const other = spreadOf(setsSideBySide(readings.toReversed()), true)!;
    expect(other.deltaE).toBeCloseTo(one.deltaE, 9);
  });
});
