import { expect, test } from "vitest";
import { apply3 } from "../../../analysis/algebra/matrix3.ts";
import { normalFrom } from "../../../analysis/algebra/seeded-random.ts";
import { xyzToSrgb } from "../../../analysis/colour/encoding.ts";
import { type Lab65, lab65ToXyz } from "../../../analysis/colour/lab.ts";
import type { PhotoSample } from "../../../analysis/sample/photo-sample.ts";
import { chartChoices, measuredCharts } from "../../../server/rules/chart-editions.ts";
import { chartJudge } from "../../../server/workers/judge-chart.ts";

const { chosen, all } = chartChoices({});
const charts = measuredCharts(chosen, all);
const gateOf = chartJudge(charts);

/** A photo of a chart in even light by a phone that sees what the eye sees, with noise of 0.3 %. */
const photoOf = (lab: readonly Lab65[]): PhotoSample => {
  const normal = normalFrom(5);
  const patches = lab.map((colour, i) => {
    const [r, g, b] = apply3(xyzToSrgb, lab65ToXyz(colour));
    const seen = (light: number) => Math.max(0, 0.6 * light * (1 + 0.003 * normal()));
    const at = [0.05 * (i % 6), 0.05 * Math.floor(i / 6)] as const;
    return { name: `patch-${i + 1}`, rgb: [seen(r), seen(g), seen(b)] as const, spread: 0, at, lost: 0 };
  });
  const references = [{ kind: "chart", id: "chart", patches }] as const;
  return { photo: "a", camera: "a", encoding: "srgb", faces: [], references };
};

test("a chart of the edition chosen passes, and so does a photo without one", () => {
  expect(gateOf(photoOf(charts.chart.lab))).toBeNull();
  expect(gateOf({ ...photoOf([]), references: [] })).toBeNull();
});

test("a chart of the other edition fails with its value, its limit and both names", () => {
  const gate = gateOf(photoOf(charts.otherCharts[0]?.lab ?? []));
  expect(gate).toMatchObject({ gate: "wrong-chart", limit: 5, passed: false });
  expect(gate?.value).toBeGreaterThan(5);
  expect(gate?.advice).toBe(
    "The chart in the picture is rather the 24-patch chart, made since November 2014 than the 24-patch chart, made before November 2014. Choose the edition that stands on the chart, or take the photo again with the right chart.",
  );
});

test("a chart that fits none, as with a shadow on it, fails and says what to look for", () => {
  const shaded = photoOf(charts.chart.lab);
  const patches = (shaded.references[0]?.patches ?? []).map((patch, i) =>
    i % 6 === 2 ? { ...patch, rgb: [patch.rgb[0] / 3, patch.rgb[1] / 3, patch.rgb[2] / 3] as const } : patch,
  );
  const gate = gateOf({ ...shaded, references: [{ kind: "chart", id: "chart", patches }] });
  expect(gate).toMatchObject({ gate: "wrong-chart", limit: 5, passed: false });
  expect(gate?.advice).toMatch(/no shadow, shine or dirt/);
});
