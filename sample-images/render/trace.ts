import type { Camera } from "./camera.ts";
import type { Matrix } from "./colour.ts";
import { type Light, lightAt } from "./light.ts";
import { type Material, smoothMaterial } from "./material.ts";
import type { Sight } from "./sight.ts";
import { type Aim, aimAt, type Surface } from "./surface.ts";

/** Linear sRGB as the phone shows it before exposure and tone, three channels interleaved, row by row of the upright photo. */
export interface Exposure {
  readonly data: Float32Array;
  readonly width: number;
  readonly height: number;
}

interface Target extends Aim {
  readonly surface: Surface;
  readonly sight: Sight;
}

/** Adds light of a strength from a surface of this true colour. */
const add = (data: Float32Array, at: number, matrix: Matrix, colour: Float64Array, strength: number): void => {
  for (let k = 0; k < 3; k++) {
    const row = matrix[k]!;
    data[at + k]! += strength * (row[0] * colour[0]! + row[1] * colour[1]! + row[2] * colour[2]!);
  }
};

/** Four rays a pixel, each to the first surface it meets: surfaces stand in the order front to back. Throws when a ray meets none. */
export const trace = (
  camera: Camera,
  surfaces: readonly Surface[],
  light: Light,
  sightOf: (material: Material) => Sight,
): Exposure => {
  const { widthPx: width, heightPx: height, focalPx, k1 } = camera;
  const targets = surfaces.map((surface): Target => {
    const sight = sightOf(surface.material ?? smoothMaterial);
    return { surface, sight, ...aimAt(camera, surface) };
  });
  const data = new Float32Array(width * height * 3);
  const colour = new Float64Array(3);
  const strength = new Float64Array(2);
  for (let py = 0; py < height; py++) {
    const row = targets.filter(({ box }) => py + 1 >= box[1] && py <= box[3]);
    for (let px = 0; px < width; px++) {
      const at = (py * width + px) * 3;
      let before: Surface | null = null;
      for (let ray = 0; ray < 4; ray++) {
        const dx = (px + 0.25 + 0.5 * (ray & 1) - width / 2) / focalPx;
        const dy = (py + 0.25 + 0.5 * (ray >> 1) - height / 2) / focalPx;
        const straight = 1 + k1 * (dx * dx + dy * dy);
        const x = dx * straight;
        const y = dy * straight;
        let met = false;
        for (const { a, b, c, t, box, surface, sight } of row) {
          if (px + 1 < box[0] || px > box[2]) continue;
          const depth = c[0] * x + c[1] * y + c[2];
          if (t / depth <= 0) continue;
          const u = (a[0] * x + a[1] * y + a[2]) / depth;
          const v = (b[0] * x + b[1] * y + b[2]) / depth;
          if (u < 0 || v < 0 || u > surface.widthMm || v > surface.heightMm) continue;
          const shared = before === surface && surface.smooth === true;
          if (!shared && !surface.paint(u, v, colour)) continue;
          before = surface;
          const { origin, along, down } = surface;
          if (!shared)
            lightAt(light, origin[0] + u * along[0] + v * down[0], origin[1] + u * along[1] + v * down[1], strength);
          add(data, at, sight.daylight, colour, 0.25 * strength[0]!);
          add(data, at, sight.lamps, colour, 0.25 * strength[1]!);
          met = true;
          break;
        }
        if (!met) throw new Error(`the ray at ${px}, ${py} leaves the room: make wall, floor or ceiling larger`);
      }
    }
  }
  return { data, width, height };
};
