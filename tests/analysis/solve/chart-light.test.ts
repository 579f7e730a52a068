import { expect, it } from "vitest";
import { lightFromGreys } from "../../../analysis/solve/chart-light.ts";

const light = (x: number, y: number) => -0.4 + 0.2 * x - 0.1 * y;

it("finds level and slope of the light over a reference from its greys", () => {
  const greys = [-0.1, -0.05, 0, 0.05, 0.1].flatMap((x) =>
    [-0.08, 0.08].map((y) => ({ at: [x, y] as const, light: [light(x, y), light(x, y), 0.1] as const })),
  );
  const at = lightFromGreys(greys)!;
  expect(Math.log(at([0.1, 0.08])[0])).toBeCloseTo(light(0.1, 0.08), 2);
  expect(Math.log(at([0, 0])[2])).toBeCloseTo(0.1, 6);
});

it("takes the light for even where one grey is all there is, and has nothing to say without", () => {
  const at = lightFromGreys([{ at: [0.3, 0.2], light: [-0.2, -0.3, -0.4] }])!;
  expect(at([-0.5, 0]).map(Math.log)).toEqual([-0.2, -0.3, -0.4].map((value) => expect.closeTo(value, 6)));
  expect(lightFromGreys([])).toBeNull();
});
