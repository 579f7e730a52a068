import { describe, expect, test } from "vitest";
import { apply3, inverse3, type Matrix3, multiply3 } from "../../../analysis/algebra/matrix3.ts";
import { normalFrom } from "../../../analysis/algebra/seeded-random.ts";
import { xyzToSrgb } from "../../../analysis/colour/encoding.ts";
import { type Lab65, lab65FromLab50, lab65ToXyz } from "../../../analysis/colour/lab.ts";
import type { ReferenceSample } from "../../../analysis/sample/photo-sample.ts";
import { type ChartEdition, editionJudge } from "../../../analysis/solve/chart-edition.ts";
import { chart24, chart24Since2014 } from "../../published/chart24.ts";

const before: ChartEdition = { name: "before", lab: chart24.map(({ labD50 }) => lab65FromLab50(labD50)) };
const since: ChartEdition = { name: "since", lab: chart24Since2014.map((lab) => lab65FromLab50(lab)) };

/** Judges charts said to be of the edition before. */
const ofBefore = editionJudge(before, [since]);

/** A phone that takes red and green a little for each other, in light from the left, with haze and noise of half a per cent. */
const cast: Matrix3 = [0.93, 0.09, -0.02, 0.06, 0.9, 0.04, 0.01, 0.08, 0.91];
const toPhone = multiply3(inverse3(cast), xyzToSrgb);

const photographed = (lab: readonly Lab65[], seed: number, shade: (column: number) => number = () => 1) => {
  const normal = normalFrom(seed);
  const patches = lab.map((colour, i) => {
    const [column, row] = [i % 6, Math.floor(i / 6)];
    const level = 0.7 * Math.exp(-0.3 * 0.06 * column) * shade(column);
    const [r, g, b] = apply3(toPhone, lab65ToXyz(colour));
    const seen = (light: number) => Math.max(0, level * light + 0.003) * (1 + 0.005 * normal());
    const at = [0.06 * column - 0.1, 0.06 * row + 0.2] as const;
    return { name: `patch-${i + 1}`, rgb: [seen(r), seen(g), seen(b)] as const, spread: 0, at, lost: 0 };
  });
  return { kind: "chart", id: "chart", patches } satisfies ReferenceSample;
};

describe("a chart held against the editions known", () => {
  test.each([1, 2, 3, 4, 5])("fits its own whatever camera and light, and the other clearly worse (%i)", (seed) => {
    const right = ofBefore(photographed(before.lab, seed));
    // Noise of 0.5 % of light is about 0.3 CIELAB units in each of three numbers.
    expect(right?.misfit).toBeLessThan(0.8);
    expect(right?.other?.logOdds).toBeLessThan(-15);
    const wrong = ofBefore(photographed(since.lab, seed));
    expect(wrong?.other).toMatchObject({ name: "since" });
    expect(wrong?.other?.logOdds).toBeGreaterThan(15);
  });

  test("does not choose between editions whose colours are as good as the same", () => {
    const printed = { name: "to one digit", lab: before.lab.map(([l, a, b]): Lab65 => [l + 0.05, a - 0.05, b + 0.05]) };
    for (const seed of [1, 2, 3, 4, 5]) {
      const odds = editionJudge(before, [printed])(photographed(before.lab, seed))?.other?.logOdds;
      expect(Math.abs(odds ?? Number.NaN)).toBeLessThan(5);
    }
  });

  test("fits none while a shadow takes half the light from a column of it", () => {
    const shaded = photographed(before.lab, 1, (column) => (column < 1 ? 0.5 : 1));
    expect(ofBefore(shaded)?.misfit).toBeGreaterThan(5);
  });

  test("says nothing when most of it is clipped or cut off", () => {
    const chart = photographed(before.lab, 1);
    const clipped = { ...chart, patches: chart.patches.map((patch, i) => ({ ...patch, lost: i < 13 ? 1 : 0 })) };
    expect(ofBefore(clipped)).toBeNull();
  });

  test("knows no other where none is given", () => {
    expect(editionJudge(before, [])(photographed(before.lab, 1))?.other).toBeNull();
  });
});
