import { normalFrom } from "../../../analysis/algebra/seeded-random.ts";
import type { FaceLayout } from "../../../analysis/leaf-parts.ts";
import type { FaceGrid } from "../../../analysis/rectify/resample.ts";

/** A flush leaf 300 x 800 mm, grain upright. */
export const flushLayout: FaceLayout = {
  widthMm: 300,
  heightMm: 800,
  parts: [{ name: "face", kind: "face", grain: "v", rectMm: [0, 0, 300, 800] }],
};

/**
 * A face made up of streaks of known wander, light falling off to the right and down, and noise; cells of 1 mm. `paint` says by what
 * share red, green and blue grow at a place (mm). Not made by any code under test.
 */
export const grainedFace = (
  seed: number,
  paint: (x: number, y: number) => readonly [number, number, number] = () => [0, 0, 0],
  light: readonly [number, number, number] = [1, 1, 1],
): FaceGrid => {
  const normal = normalFrom(seed);
  const [width, height] = [300, 800];
  const streaks = Array.from({ length: width + 40 }, () => 0.04 * normal());
  const data = new Float32Array(width * height * 3);
  const wood = [0.42, 0.32, 0.2];
  for (let row = 0; row < height; row++)
    for (let column = 0; column < width; column++) {
      const at = column + 20 + 6 * Math.sin(row / 150);
      const k = Math.floor(at);
      const streak = streaks[k]! + (streaks[k + 1]! - streaks[k]!) * (at - k);
      const fallOff = 1 - 0.0004 * column - 0.0001 * row;
      const noise = 0.01 * normal();
      const marks = paint(column + 0.5, row + 0.5);
      for (let c = 0; c < 3; c++)
        data[3 * (row * width + column) + c] =
          wood[c]! * light[c]! * fallOff * (1 + streak + noise + 0.004 * normal()) * (1 + marks[c]!);
    }
  return { data, usable: new Uint8Array(width * height).fill(1), width, height, mmPerCell: 1 };
};

/** Paint inside an ellipse, mm. */
export const ellipse =
  (cx: number, cy: number, rx: number, ry: number, share: readonly [number, number, number]) =>
  (x: number, y: number): readonly [number, number, number] =>
    ((x - cx) / rx) ** 2 + ((y - cy) / ry) ** 2 <= 1 ? share : [0, 0, 0];
