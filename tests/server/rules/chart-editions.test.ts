import { expect, test } from "vitest";
import { lab65FromLab50 } from "../../../analysis/colour/lab.ts";
import { chartChoices, measuredCharts } from "../../../server/rules/chart-editions.ts";
import { chart24 } from "../../published/chart24.ts";

const own = (id: string, white: "D50" | "D65") => ({
  id,
  name: "Chart",
  edition: "",
  white,
  lab: chart24.map(({ labD50: [l, a, b] }): [number, number, number] => [l, a, b]),
  by: "R. Tester",
  at: "2026-03-03T10:40:00+00:00",
});

test("the chart measured by is the chosen one, all others are what it might be", () => {
  const { chosen, all } = chartChoices({ charts: { own: [own("CHART-1", "D50")], chosen: "CHART-1" } });
  const { chart, otherCharts } = measuredCharts(chosen, all);
  expect(chart.name).toBe("Chart");
  expect(otherCharts.map(({ name }) => name)).toEqual([
    "24-patch chart, made before November 2014",
    "24-patch chart, made since November 2014",
  ]);
});

test("values stated in D50 are adapted to D65, those in D65 are not", () => {
  const charts = { own: [own("CHART-1", "D50"), own("CHART-2", "D65")], chosen: "CHART-2" };
  const { chosen, all } = chartChoices({ charts });
  const { chart, otherCharts } = measuredCharts(chosen, all);
  expect(chart.lab).toEqual(chart24.map(({ labD50 }) => labD50));
  expect(otherCharts[2]?.lab).toEqual(chart24.map(({ labD50 }) => lab65FromLab50(labD50)));
});
