import type { Vector3 } from "../algebra/matrix3.ts";
import { d50White, d65White } from "./lab.ts";

/**
 * Spectra at 400 to 700 nm in steps of 10 nm. Sums over them stand for integrals; a white is the same sum over the light alone.
 * The observer (CIE 1931, 2 degrees) and the daylights D50 and D65 are those of CIE 15 as carried by colour-science/colour (BSD-3).
 */
export type Spectrum = readonly number[];

export const wavelengths: Spectrum = Array.from({ length: 31 }, (_, i) => 400 + 10 * i);

export const observer = {
  x: [
    0.01431, 0.04351, 0.13438, 0.2839, 0.34828, 0.3362, 0.2908, 0.19536, 0.09564, 0.03201, 0.0049, 0.0093, 0.06327,
    0.1655, 0.2904, 0.43345, 0.5945, 0.7621, 0.9163, 1.0263, 1.0622, 1.0026, 0.85445, 0.6424, 0.4479, 0.2835, 0.1649,
    0.0874, 0.04677, 0.0227, 0.011359,
  ],
  y: [
    0.000396, 0.00121, 0.004, 0.0116, 0.023, 0.038, 0.06, 0.09098, 0.13902, 0.20802, 0.323, 0.503, 0.71, 0.862, 0.954,
    0.99495, 0.995, 0.952, 0.87, 0.757, 0.631, 0.503, 0.381, 0.265, 0.175, 0.107, 0.061, 0.032, 0.017, 0.00821,
    0.004102,
  ],
  z: [
    0.06785, 0.2074, 0.6456, 1.3856, 1.74706, 1.77211, 1.6692, 1.28764, 0.81295, 0.46518, 0.272, 0.1582, 0.07825,
    0.04216, 0.0203, 0.00875, 0.0039, 0.0021, 0.00165, 0.0011, 0.0008, 0.00034, 0.00019, 5e-5, 2e-5, 0, 0, 0, 0, 0, 0,
  ],
} as const;

export const daylightD50: Spectrum = [
  49.308, 56.513, 60.034, 57.818, 74.825, 87.247, 90.612, 91.368, 95.109, 91.963, 95.724, 96.613, 97.129, 102.099,
  100.755, 102.317, 100, 97.735, 98.918, 93.499, 97.688, 99.269, 99.042, 95.722, 98.857, 95.667, 98.19, 103.003, 99.133,
  87.381, 91.604,
];

export const daylightD65: Spectrum = [
  82.7549, 91.486, 93.4318, 86.6823, 104.865, 117.008, 117.812, 114.861, 115.923, 108.811, 109.354, 107.802, 104.79,
  107.689, 104.405, 104.046, 100, 96.3342, 95.788, 88.6856, 90.0062, 89.5991, 87.6987, 83.2886, 83.6992, 80.0268,
  80.2146, 82.2778, 78.2842, 69.7213, 71.6091,
];

export const dot = (one: Spectrum, other: Spectrum): number =>
  one.reduce((sum, value, i) => sum + value * other[i]!, 0);

/** XYZ, Y = 1 for a perfect white, of a reflectance in a daylight whose white is given. */
const xyzIn =
  (daylight: Spectrum, white: Vector3) =>
  (reflectance: Spectrum): Vector3 => {
    const share = (curve: Spectrum) => {
      const seen = curve.map((value, i) => value * daylight[i]!);
      return dot(seen, reflectance) / seen.reduce((sum, value) => sum + value, 0);
    };
    return [white[0] * share(observer.x), white[1] * share(observer.y), white[2] * share(observer.z)];
  };

export const xyzInD65 = xyzIn(daylightD65, d65White);
export const xyzInD50 = xyzIn(daylightD50, d50White);
