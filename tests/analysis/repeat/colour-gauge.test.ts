import { describe, expect, it } from "vitest";
import { studyColour } from "../../../analysis/repeat/colour-gauge.ts";
import { type MadePhoto, makeReadings } from "./made-readings.ts";

const none = [0, 0, 0] as const;
const shiftOf: Readonly<Record<string, readonly [number, number, number]>> = {
  P: [0, 0, 0],
  Q: [1, 0, 0.5],
  R: [-1, 0, -0.5],
};

/** Each face so many times with each phone; a phone has its own shift. The name of a photo begins with its phone. */
const shots = (phones: string, faces: number, times: number): MadePhoto[] =>
  phones.split("").flatMap((phone) =>
    Array.from({ length: faces }, (_, f) =>
      Array.from({ length: times }, (__, t) => ({
        photo: `${phone}-${f}-${t}`,
        faces: [`L${f}/A`],
        shift: shiftOf[phone]!,
      })),
    ).flat(),
  );
const phoneOf = (photo: string) => photo.slice(0, 1);
const spread = { photo: [0.3, 0.1, 0.2], part: none } as const;

describe("a gauge study of colour", () => {
  it("finds what phones differ by and what one phone differs by", () => {
    const found = studyColour(makeReadings(shots("PQR", 30, 4), spread, 1), phoneOf)!;
    expect(found).toMatchObject({ appraisers: ["P", "Q", "R"], times: 4 });
    expect(found.faces).toHaveLength(30);
    const [L, a, b] = found.axes;
    // 270 degrees of freedom: known to 4 %; three times that.
    expect(Math.abs(L.repeat / 0.3 - 1)).toBeLessThan(0.13);
    expect(Math.abs(a.repeat / 0.1 - 1)).toBeLessThan(0.13);
    expect(Math.abs(b.repeat / 0.2 - 1)).toBeLessThan(0.13);
    // Shifts -1, 0, 1: standard deviation 1 but for what the repeats add.
    expect(Math.abs(L.reproduce - 1)).toBeLessThan(0.05);
    expect(Math.abs(b.reproduce - 0.5)).toBeLessThan(0.05);
    expect(a.reproduce).toBeLessThan(0.05);
  });

  it("adds up to less than the axes in Lab, as CIEDE2000 does", () => {
    const { axes, colour } = studyColour(makeReadings(shots("PQR", 10, 3), spread, 2), phoneOf)!;
    for (const of of ["repeat", "reproduce", "part", "gauge"] as const) {
      expect(colour[of]).toBeLessThan(Math.hypot(...axes.map((axis) => axis[of])));
      expect(colour[of]).toBeGreaterThan(0.5 * Math.hypot(...axes.map((axis) => axis[of])));
    }
    expect(colour.total).toBeCloseTo(Math.hypot(colour.gauge, colour.part), 9);
  });

  it("takes the faces and phones that make a whole, and as many photos of each", () => {
    const uneven = [...shots("PQ", 3, 3), ...shots("R", 1, 2), ...shots("P", 1, 5).slice(3)];
    const left = uneven.filter(({ photo }) => photo !== "Q-2-2");
    expect(studyColour(makeReadings(left, spread, 3), phoneOf)).toMatchObject({
      appraisers: ["P", "Q"],
      faces: ["L0/A", "L1/A", "L2/A"],
      times: 2,
    });
  });

  it("has nothing to say of one phone, one face, one photo each, or of nobody known", () => {
    for (const few of [shots("P", 5, 3), shots("PQ", 1, 3), shots("PQ", 5, 1)])
      expect(studyColour(makeReadings(few, spread, 4), phoneOf)).toBeNull();
    expect(studyColour(makeReadings(shots("PQ", 5, 3), spread, 4), () => null)).toBeNull();
  });

  it("does not compare what stands on other references", () => {
    const apart = shots("PQ", 5, 3).map((shot) => ({ ...shot, tie: `with ${phoneOf(shot.photo)}` }));
    expect(studyColour(makeReadings(apart, spread, 5), phoneOf)).toBeNull();
  });
});
