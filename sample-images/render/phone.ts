import { encode, p3OfRgb, type Rgb } from "./colour.ts";
import { gaussians, seeded } from "./seeded.ts";
import type { Filters } from "./sensor.ts";
import type { GlareSpot } from "./shot.ts";
import type { Exposure } from "./trace.ts";

/** A phone as far as its photos show it; both makers are invented. */
export interface Phone {
  readonly make: string;
  readonly model: string;
  readonly filters: Filters;
  readonly k1: number;
  /** Strength of its S-shaped tone curve on code values; 0 for none. */
  readonly sCurve: number;
  /** Light lost at the corners of the picture. */
  readonly vignette: number;
}

export const phones = {
  brannoch: {
    make: "Brannoch",
    model: "P1",
    filters: {
      redEdgeNm: 582,
      green: { peakNm: 533, widthNm: 50 },
      blue: { peakNm: 459, widthNm: 41 },
      leaks: [0.06, 0.04, 0.03],
      infraredCutNm: 638,
    },
    k1: 0.012,
    sCurve: 0,
    vignette: 0.05,
  },
  tarnside: {
    make: "Tarnside",
    model: "T4",
    filters: {
      redEdgeNm: 576,
      green: { peakNm: 527, widthNm: 46 },
      blue: { peakNm: 453, widthNm: 37 },
      leaks: [0.04, 0.06, 0.02],
      infraredCutNm: 650,
    },
    k1: -0.007,
    sCurve: 0.12,
    vignette: 0.04,
  },
} as const satisfies Record<string, Phone>;

export type Encoding = "srgb" | "display-p3";

/** Spreads the light a little, as lens and sensor do: `sigmaPx` is the standard deviation of a Gaussian. */
export const soften = ({ data, width, height }: Exposure, sigmaPx: number): Exposure => {
  const reach = Math.max(1, Math.ceil(sigmaPx * 3));
  const raw = Array.from({ length: 2 * reach + 1 }, (_, i) => Math.exp(-0.5 * ((i - reach) / sigmaPx) ** 2));
  const total = raw.reduce((sum, v) => sum + v, 0);
  const kernel = Float64Array.from(raw, (v) => v / total);
  const pass = (from: Float32Array, step: number, count: number, lines: number, lineStep: number): Float32Array => {
    const out = new Float32Array(from.length);
    for (let line = 0; line < lines; line++)
      for (let i = 0; i < count; i++)
        for (let k = 0; k < 3; k++) {
          let sum = 0;
          for (let j = -reach; j <= reach; j++) {
            const at = Math.min(count - 1, Math.max(0, i + j));
            sum += kernel[j + reach]! * from[line * lineStep + at * step + k]!;
          }
          out[line * lineStep + i * step + k] = sum;
        }
    return out;
  };
  const across = pass(data, 3, width, height, width * 3);
  return { data: pass(across, width * 3, height, width, 3), width, height };
};

/** Lays the image of a lamp, mirrored in the lacquer, over the light. `greyShown` is what the phone makes of a white. */
export const addGlare = (exposure: Exposure, spots: readonly GlareSpot[], greyShown: Rgb): void => {
  const { data, width, height } = exposure;
  for (const { xPx, yPx, sizePx, strength } of spots)
    for (let y = 0; y < height; y++)
      for (let x = 0; x < width; x++) {
        const r2 = ((x - xPx) / sizePx) ** 2 + ((y - yPx) / (sizePx * 1.7)) ** 2;
        if (r2 > 16) continue;
        const add = strength * (Math.exp(-r2) + 0.16 * Math.exp(-r2 / 4));
        for (let k = 0; k < 3; k++) data[(y * width + x) * 3 + k]! += add * greyShown[k]!;
      }
};

export interface Settings {
  readonly gain: number;
  readonly encoding: Encoding;
  readonly noise: number;
  readonly seed: number;
}

const curved = (code: number, s: number): number => code - s * code * (1 - code) * (1 - 2 * code);

/** From light to the code values of the photo: vignette, noise of the sensor, tone curve, encoding, rounding. */
export const develop = (exposure: Exposure, phone: Phone, settings: Settings): Uint8Array => {
  const { data, width, height } = exposure;
  const { gain, encoding, noise, seed } = settings;
  const random = seeded(seed);
  const grains = gaussians(random, 1 << 16);
  const codes = new Uint8Array(4097);
  for (let i = 0; i <= 4096; i++)
    codes[i] = Math.round(255 * Math.min(1, Math.max(0, curved(encode((i / 4096) ** 2), phone.sCurve))));
  const table = (v: number): number => codes[Math.round(4096 * Math.sqrt(Math.min(1, Math.max(0, v))))]!;
  const out = new Uint8Array(width * height * 3);
  const half = Math.hypot(width, height) / 2;
  const seen: [number, number, number] = [0, 0, 0];
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const i = (y * width + x) * 3;
      const r2 = ((x + 0.5 - width / 2) / half) ** 2 + ((y + 0.5 - height / 2) / half) ** 2;
      const level = gain * (1 - phone.vignette * r2);
      const grain = (random() * 65533) | 0;
      for (let k = 0; k < 3; k++) {
        const v = data[i + k]! * level;
        seen[k] = v + grains[grain + k]! * noise * Math.sqrt(6e-6 * Math.max(0, v) + 3e-7);
      }
      const light = encoding === "display-p3" ? p3OfRgb(seen) : seen;
      for (let k = 0; k < 3; k++) out[i + k] = table(light[k]!);
    }
  return out;
};
