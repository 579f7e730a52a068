import { describe, expect, test } from "vitest";
import { type FaceDifference, faceDifference } from "../../../server/contract/views.ts";
import { holdDifferences } from "../../../server/use-cases/hold-differences.ts";
import { makeReadings, singles } from "../../analysis/repeat/made-readings.ts";

/** Repeats whose limit is about 2.8 times 0.6: below 2, as agreed; and ten times as wide. */
const repeats = makeReadings(singles(10, 3), { photo: [0.7, 0, 0], part: [0, 0, 0] }, 1);
const wild = makeReadings(singles(10, 3), { photo: [7, 0, 0], part: [0, 0, 0] }, 1);

const difference = (deltaE: number | null, verdict: FaceDifference["verdict"]): FaceDifference => ({
  a: { leaf: "W01", face: "A" },
  b: { leaf: "W02", face: "A" },
  part: deltaE === null ? null : "face",
  deltaE,
  u95: deltaE === null ? null : 0.3,
  verdict,
  advice: verdict === "cannot-tell" ? "Photograph it." : null,
});

const once = () => [{ photo: "p", camera: "one", referenced: true }];
const eachItsOwn = ({ leaf }: { readonly leaf: string }) => [{ photo: leaf, camera: "one", referenced: true }];

const held = (readings: typeof repeats, told: FaceDifference, showing = eachItsOwn) => {
  const now = holdDifferences(readings, 2, showing)(told);
  expect(faceDifference.parse(now)).toEqual(now);
  return now;
};

describe("a difference held to repeat photos", () => {
  test("below their limit is marked, its verdict stays where the limit is within the tolerance", () => {
    expect(held(repeats, difference(0.8, "match"))).toEqual({ ...difference(0.8, "match"), withinRepeats: true });
    expect(held(repeats, difference(1.2, "cannot-tell"))).toEqual({
      ...difference(1.2, "cannot-tell"),
      withinRepeats: true,
    });
  });

  test("beyond their limit stays as it was", () => {
    for (const told of [difference(1.9, "match"), difference(3.1, "differs")])
      expect(held(repeats, told)).toEqual(told);
  });

  test("between two cameras is held to what these differ by too", () => {
    const shots = singles(5, 3).flatMap((shot) => [
      { ...shot, camera: "one" },
      { ...shot, photo: `${shot.photo} other`, camera: "other", shift: [1, 0, 0] as const },
    ]);
    const both = makeReadings(shots, { photo: [0.3, 0, 0], part: [0, 0, 0] }, 1);
    const told = difference(1.5, "match");
    expect(held(both, told)).toEqual(told);
    const apart = ({ leaf }: { readonly leaf: string }) => [
      { photo: leaf, camera: leaf === "W01" ? "one" : "other", referenced: true },
    ];
    expect(held(both, told, apart)).toMatchObject({ withinRepeats: true });
  });

  test("cannot be told where photos of one face differ by more than is agreed, and says what would settle it", () => {
    for (const told of [difference(0.2, "match"), difference(4, "differs")])
      expect(held(wild, told)).toMatchObject({
        verdict: "cannot-tell",
        withinRepeats: true,
        advice: expect.stringMatching(/^Photos of one face differ by as much here: photograph/),
      });
  });

  test("stays as it was where nothing was repeated, measured or taken in that way", () => {
    const told = difference(0.2, "match");
    expect(held([], told)).toEqual(told);
    expect(held(repeats, difference(null, "cannot-tell"))).toEqual(difference(null, "cannot-tell"));
    expect(held(repeats, told, once), "side by side: no line-up was repeated").toEqual(told);
    expect(held(repeats, told, ({ leaf }) => [{ photo: leaf, camera: "one", referenced: false }])).toEqual(told);
  });
});
