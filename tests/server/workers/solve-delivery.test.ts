import { expect, test } from "vitest";
import { chartChoices, measuredCharts } from "../../../server/rules/chart-editions.ts";
import { solveDelivery } from "../../../server/workers/solve-delivery.ts";
import { makeDelivery, type Shown } from "../../analysis/solve/synthetic-delivery.ts";

const { chosen, all } = chartChoices({});
const solved = (shows: readonly Shown[]) =>
  solveDelivery({
    samples: makeDelivery(shows, 4).photos,
    ...measuredCharts(chosen, all),
    greyReflectance: 0.18,
    toleranceDE00: 2,
    confidence: 0.95,
  });

const lineUps: readonly Shown[] = [
  { photo: "a", faces: ["W01/A", "W02/A", "W03/A"] },
  { photo: "b", faces: ["W04/A", "W05/A"] },
];

test("two line-ups that share no face are untied, and one photo would tie them", () => {
  const { untied, ties, sentBack } = solved(lineUps);
  expect(untied).toEqual([["b"]]);
  expect(ties).toEqual([{ faces: ["W04/A", "W01/A"], with: null }]);
  expect(sentBack).toEqual([]);
});

test("a single photo with nothing known in it is sent back, and is in the photo that would tie it", () => {
  const { untied, ties, sentBack } = solved([...lineUps, { photo: "c", faces: ["W06/A"] }]);
  expect(sentBack.map(({ photo, gate: { gate } }) => [photo, gate])).toEqual([["c", "no-reference"]]);
  expect(untied).toEqual([["b"]]);
  expect(ties).toEqual([{ faces: ["W04/A", "W06/A", "W01/A"], with: null }]);
});

test("names the chart it read by where a photo shows one, and none where none does", () => {
  expect(solved(lineUps).chart).toBeNull();
  const { chart, faces } = solved([{ photo: "d", faces: ["W01/A"], reference: "chart" }]);
  expect(chart).toBe("24-patch chart, made before November 2014");
  expect(faces).toHaveLength(1);
});
