import { describe, expect, it } from "vitest";
import { deltaE00 } from "../../../analysis/colour/delta-e00.ts";
import { faceComparison } from "../../../analysis/compare/face-difference.ts";
import { type Adjustment, adjust } from "../../../analysis/solve/light-adjustment.ts";
import { type Delivery, knownChart, makeDelivery, type Shown } from "./synthetic-delivery.ts";

const lineUps: readonly Shown[] = [
  { photo: "p1", faces: ["W01/A", "W02/A", "W03/A"] },
  { photo: "p2", faces: ["W03/A", "W04/A", "W05/A"] },
  { photo: "p3", faces: ["W05/A", "W06/A", "W01/B"] },
  { photo: "p4", faces: ["W01/B", "W02/B", "W01/A"] },
];
const withReference = (reference: "chart" | "card"): readonly Shown[] =>
  lineUps.map((shown) => ({ ...shown, reference }));

const nameOf = ({ leaf, face, part }: { leaf: string; face: string; part: string }) => `${leaf}/${face}/${part}`;

/** Errors of the differences between namesake parts: found less true CIEDE2000, and the 95 % half-width stated. */
const errors = ({ truth }: Delivery, adjustment: Adjustment) => {
  const compare = faceComparison(adjustment, 2);
  const faces = [...new Map(adjustment.parts.map(({ leaf, face }) => [`${leaf}/${face}`, { leaf, face }])).values()];
  return faces.flatMap((one, i) =>
    faces.slice(0, i).flatMap((other) =>
      compare(one, other).parts.map(({ part, deltaE, u95 }) => {
        const real = deltaE00(truth.get(nameOf({ ...one, part }))!, truth.get(nameOf({ ...other, part }))!);
        return { error: deltaE - real, u95 };
      }),
    ),
  );
};

const rms = (values: readonly number[]) => Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length);

describe("the adjustment of light", () => {
  it("has nothing to say of no photos", () => {
    expect(adjust([], {}).parts).toEqual([]);
  });

  it("does not care in which order photos come", () => {
    const { photos } = makeDelivery(lineUps, 1);
    const forth = adjust(photos, {});
    const back = adjust([...photos].reverse(), {});
    expect(back.parts).toEqual(forth.parts);
  });

  it("moves no colour when the light of one photo moves", () => {
    const shows = withReference("chart");
    const before = adjust(makeDelivery(shows, 2).photos, knownChart);
    const lit = shows.map((shown) =>
      shown.photo === "p2"
        ? { ...shown, light: { gain: [-0.9, -0.5, -0.2] as const, right: -0.12, down: 0.08 } }
        : shown,
    );
    const after = adjust(makeDelivery(lit, 2).photos, knownChart);
    before.parts.forEach(({ lab }, i) => {
      // 0.3: priors of gain and slope pull a little, the noise falls elsewhere on the tone curve.
      expect(deltaE00(lab, after.parts[i]!.lab)).toBeLessThan(0.3);
    });
  });

  it.each([
    // Without a known reference the level of light is free, and with it the scale of every difference: 10 % of 3 to 5.
    ["line-ups without any reference", lineUps, 0.7],
    ["line-ups with an unknown printed card", withReference("card"), 0.6],
    ["line-ups with a chart", withReference("chart"), 0.4],
  ] as const)("finds the differences in %s, within what it states", (_, shows, limit) => {
    const found = [11, 12, 13].flatMap((seed) => {
      const delivery = makeDelivery(shows, seed);
      return errors(delivery, adjust(delivery.photos, knownChart));
    });
    expect(rms(found.map(({ error }) => error))).toBeLessThan(limit);
    expect(found.filter(({ error, u95 }) => Math.abs(error) <= u95).length / found.length).toBeGreaterThan(0.9);
  });

  it("finds the colours themselves where a chart stands in the photos", () => {
    const delivery = makeDelivery(withReference("chart"), 21);
    const { parts } = adjust(delivery.photos, knownChart);
    const off = parts.map((part) => deltaE00(part.lab, delivery.truth.get(nameOf(part))!));
    expect(rms(off)).toBeLessThan(0.8);
    expect(parts.every(({ known }) => known)).toBe(true);
  });

  it("has positive definite covariances, of parts and of their differences", () => {
    const { parts, between } = adjust(makeDelivery(lineUps, 3).photos, {});
    const minors = (c: readonly number[]) => [
      c[0]!,
      c[0]! * c[4]! - c[1]! * c[3]!,
      c[0]! * (c[4]! * c[8]! - c[5]! * c[7]!) -
        c[1]! * (c[3]! * c[8]! - c[5]! * c[6]!) +
        c[2]! * (c[3]! * c[7]! - c[4]! * c[6]!),
    ];
    parts.forEach(({ covariance }, i) => {
      for (const minor of minors(covariance)) expect(minor).toBeGreaterThan(0);
      parts.slice(0, i).forEach((other, j) => {
        const [shared, back] = [between(i, j), between(j, i)];
        const difference = covariance.map((v, k) => v + other.covariance[k]! - shared[k]! - back[k]!);
        for (const minor of minors(difference)) expect(minor).toBeGreaterThan(0);
        expect(difference[0]).toBeLessThan(covariance[0] + other.covariance[0]);
      });
    });
  });

  it("passes over a shadow that falls on a part of one photo", () => {
    const delivery = makeDelivery(withReference("chart"), 5);
    const photos = delivery.photos.map((photo) => {
      if (photo.photo !== "p1") return photo;
      const [first, ...others] = photo.faces;
      const [stile, panel] = first!.parts;
      const cells = panel!.cells.map((cell) =>
        cell[0] < 5 ? ([cell[0], cell[1] * 0.6, cell[2] * 0.6, cell[3] * 0.6, ...cell.slice(4)] as never) : cell,
      );
      return { ...photo, faces: [{ ...first!, parts: [stile!, { ...panel!, cells }] }, ...others] };
    });
    const clean = adjust(delivery.photos, knownChart);
    const shaded = adjust(photos, knownChart);
    clean.parts.forEach(({ lab }, i) => {
      expect(deltaE00(lab, shaded.parts[i]!.lab)).toBeLessThan(0.4);
    });
  });

  it("says which photos nothing ties together, and compares no faces across", () => {
    const shows = [...lineUps, { photo: "p9", faces: ["W09/A", "W09/B"] }];
    const adjustment = adjust(makeDelivery(shows, 6).photos, {});
    expect(adjustment.components.map(({ faces, known }) => [faces.length, known])).toEqual([
      [8, false],
      [2, false],
    ]);
    expect(adjustment.components[1]?.photos).toEqual(["p9"]);
    const compare = faceComparison(adjustment, 2);
    const across = compare({ leaf: "W09", face: "A" }, { leaf: "W01", face: "A" });
    expect(across.verdict).toEqual({ kind: "cannot-tell", why: "nothing-ties-them" });
    expect(compare({ leaf: "W09", face: "A" }, { leaf: "W09", face: "B" }).worst).not.toBeNull();
  });

  it("finds out that single photos share a stand, and that others do not", () => {
    const singles = (slope: (i: number) => number): Shown[] =>
      Array.from({ length: 10 }, (_, i) => ({
        photo: `s${i}`,
        faces: [`W${i}/A`],
        reference: "chart" as const,
        light: { right: slope(i), down: -slope(i) },
      }));
    const one = adjust(
      makeDelivery(
        singles(() => 0.12),
        7,
      ).photos,
      knownChart,
    );
    const each = adjust(
      makeDelivery(
        singles((i) => 0.25 * Math.sin(3 * i)),
        7,
      ).photos,
      knownChart,
    );
    expect(one.standOf.size).toBe(10);
    expect(each.standOf.size).toBe(0);
  });

  it("undoes the tone of a phone that a chart shows", () => {
    for (const tone of [0, 0.4]) {
      const { tones } = adjust(makeDelivery(withReference("chart"), 8, tone).photos, knownChart);
      const { strength, uncertainty } = tones.get("test")!;
      expect(Math.abs(strength - tone)).toBeLessThan(0.05);
      expect(uncertainty).toBeLessThan(0.05);
    }
  });
});
