import { solveLinear } from "./solve-linear.ts";

/** One value for each of `wavelengths`. */
export type Spectrum = readonly number[];

/** 380 to 780 nm in steps of 5 nm; sums over them stand for integrals. */
export const wavelengths: Spectrum = Array.from({ length: 81 }, (_, i) => 380 + 5 * i);

export const dot = (one: Spectrum, other: Spectrum): number =>
  one.reduce((sum, value, i) => sum + value * other[i]!, 0);

export const perfectWhite: Spectrum = wavelengths.map(() => 1);

/**
 * Of all spectra whose sums with `curves` are `sums`, the one whose squared steps from wavelength to wavelength are least.
 * Source: S. A. Burns, least slope squared reflectances (from memory); Lagrange's multipliers make it one linear system.
 */
export const smoothest = (curves: readonly Spectrum[], sums: readonly number[]): Spectrum => {
  const count = wavelengths.length;
  const rows = wavelengths.map((_, i) => {
    const row = Array.from({ length: count + curves.length }, () => 0);
    row[i] = i === 0 || i === count - 1 ? 1 : 2;
    if (i > 0) row[i - 1] = -1;
    if (i < count - 1) row[i + 1] = -1;
    curves.forEach((curve, k) => {
      row[count + k] = curve[i]!;
    });
    return row;
  });
  const held = curves.map((curve) => [...curve, ...curves.map(() => 0)]);
  return solveLinear([...rows, ...held], [...wavelengths.map(() => 0), ...sums]).slice(0, count);
};
