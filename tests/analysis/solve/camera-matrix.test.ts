import { describe, expect, it } from "vitest";
import { apply3, inverse3, type Matrix3, multiply3 } from "../../../analysis/algebra/matrix3.ts";
import { deltaE00 } from "../../../analysis/colour/delta-e00.ts";
import { srgbToXyz, xyzToSrgb } from "../../../analysis/colour/encoding.ts";
import { lab65FromLab50, lab65ToXyz, xyzToLab65 } from "../../../analysis/colour/lab.ts";
import { fitCameraMatrix } from "../../../analysis/solve/camera-matrix.ts";
import { model } from "../../../analysis/solve/model-constants.ts";
import { chart24 } from "../../published/chart24.ts";

/** A camera a little unlike the typical one. */
const camera: Matrix3 = [1.75, -0.65, -0.1, -0.25, 1.75, -0.5, 0.05, -0.6, 1.55];
const toCamera = multiply3(inverse3(camera), xyzToSrgb);
const patches = chart24.map(({ labD50 }) => {
  const lab = lab65FromLab50(labD50);
  return { lab, camera: apply3(toCamera, lab65ToXyz(lab)) };
});

describe("the matrix of a camera", () => {
  it("is found from a chart", () => {
    const matrix = fitCameraMatrix(patches, model.typicalCamera, 0.3);
    for (const { camera: seen, lab } of patches) {
      const found = xyzToLab65(apply3(srgbToXyz, apply3(matrix, seen)));
      // 0.1: the pull of the typical matrix.
      expect(deltaE00(found, lab)).toBeLessThan(0.1);
    }
  });

  it("stays what it was before where no patch speaks, or near it where it may not move", () => {
    expect(fitCameraMatrix([], model.typicalCamera, 0.3)).toBe(model.typicalCamera);
    const held = fitCameraMatrix(patches, model.typicalCamera, 1e-5);
    held.forEach((value, i) => {
      expect(value).toBeCloseTo(model.typicalCamera[i]!, 3);
    });
  });
});
