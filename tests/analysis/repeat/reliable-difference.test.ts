import { describe, expect, it } from "vitest";
import { limitBetween, verdictWithinRepeats } from "../../../analysis/repeat/reliable-difference.ts";
import { type Repeatability, repeatabilityOf } from "../../../analysis/repeat/repeatability.ts";
import { makeReadings, singles } from "./made-readings.ts";

const spread = { photo: [0.5, 0.1, 0.2], part: [0.1, 0.1, 0.1] } as const;

describe("the limit between two faces", () => {
  const lineUps = Array.from({ length: 6 }, (_, t) => ({
    photo: `r${t}`,
    faces: ["R0/A", "R1/A"],
    lineUp: true as const,
  }));
  const known: Repeatability = repeatabilityOf(makeReadings([...singles(3, 3), ...lineUps], spread, 1));

  it("is that of the way their photos were taken, and falls with the number of photos", () => {
    const [apart, beside] = [known.byReference!.all.limit, known.sideBySide!.all.limit];
    expect(limitBetween(known, { one: 1, other: 1, together: 0, otherCamera: false })).toBeCloseTo(apart, 12);
    expect(limitBetween(known, { one: 4, other: 4, together: 0, otherCamera: false })).toBeCloseTo(apart / 2, 12);
    expect(limitBetween(known, { one: 3, other: 2, together: 1, otherCamera: false })).toBeCloseTo(beside, 12);
    expect(limitBetween(known, { one: 0, other: 0, together: 4, otherCamera: false })).toBeCloseTo(beside / 2, 12);
    expect(beside).toBeLessThan(apart);
  });

  it("is wider between cameras by what these differ by, however many photos there are", () => {
    const shift = [2, 0, 0] as const;
    const shots = singles(5, 3).flatMap((shot) => [
      { ...shot, camera: "one" },
      { ...shot, photo: `${shot.photo} other`, camera: "other", shift },
    ]);
    const two = repeatabilityOf(makeReadings(shots, spread, 4));
    const limit = (photos: number, otherCamera: boolean) =>
      limitBetween(two, { one: photos, other: photos, together: 0, otherCamera })!;
    // Two cameras 2 apart in L*: standard deviation √2, at L* 60 some 0.88 of it as CIEDE2000; the repeats stay those of one.
    expect(two.betweenCameras! / (Math.SQRT2 * 0.88)).toBeGreaterThan(0.8);
    expect(two.betweenCameras! / (Math.SQRT2 * 0.88)).toBeLessThan(1.2);
    expect(two.byReference!.all.deltaE).toBeLessThan(0.8);
    expect(limit(1, true)).toBeCloseTo(Math.hypot(limit(1, false), 2.8 * two.betweenCameras!), 9);
    expect(limit(1e6, true)).toBeCloseTo(2.8 * two.betweenCameras!, 4);
    expect(known.betweenCameras).toBeNull();
    expect(limitBetween(known, { one: 1, other: 1, together: 0, otherCamera: true })).toBe(
      limitBetween(known, { one: 1, other: 1, together: 0, otherCamera: false }),
    );
  });

  it("is not told without a reference, nor from too few repeats", () => {
    expect(limitBetween(known, { one: 0, other: 2, together: 0, otherCamera: false })).toBeNull();
    const few = repeatabilityOf(makeReadings(singles(2, 3), spread, 2));
    expect(few.byReference?.enough).toBe(false);
    expect(limitBetween(few, { one: 1, other: 1, together: 0, otherCamera: false })).toBeNull();
    expect(limitBetween(repeatabilityOf([]), { one: 1, other: 1, together: 1, otherCamera: false })).toBeNull();
  });

  it("has a row for each kind of part", () => {
    expect(known.byReference?.kinds.map(({ kind }) => kind)).toEqual(["panel", "stile"]);
  });
});

describe("a difference within the limit of repeats", () => {
  it("keeps its verdict where the limit is within the tolerance", () => {
    expect(verdictWithinRepeats("match", 0.8, 2)).toBe("match");
    expect(verdictWithinRepeats("cannot-tell", 0.8, 2)).toBe("cannot-tell");
    expect(verdictWithinRepeats("match", 2, 2)).toBe("match");
  });

  it("never differs, and is no match where photos of one face differ by more than is agreed", () => {
    for (const limit of [0.5, 2, 2.1, 5]) expect(verdictWithinRepeats("differs", limit, 2)).toBe("cannot-tell");
    expect(verdictWithinRepeats("match", 2.1, 2)).toBe("cannot-tell");
  });
});
