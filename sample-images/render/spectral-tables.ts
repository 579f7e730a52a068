import { readFileSync } from "node:fs";
import { dot, type Spectrum, wavelengths } from "./spectrum.ts";

/** The columns of a table in `spectra/`, in its order. Throws when it is not at the wavelengths of `spectrum.ts`. */
const columnsOf = (file: string): readonly Spectrum[] => {
  const lines = readFileSync(new URL(`spectra/${file}`, import.meta.url), "utf8")
    .trim()
    .split("\n")
    .slice(1);
  const rows = lines.map((line) => line.split(",").map(Number));
  if (rows.length !== wavelengths.length || rows.some(([nm], i) => nm !== wavelengths[i]))
    throw new Error(`spectra/${file}: make it ${wavelengths[0]} to ${wavelengths.at(-1)} nm in steps of 5`);
  return (rows[0] ?? []).slice(1).map((_, k) => rows.map((row) => row[k + 1]!));
};

const [xBar, yBar, zBar, d50, d65] = columnsOf("observer-and-daylight.csv") as [
  Spectrum,
  Spectrum,
  Spectrum,
  Spectrum,
  Spectrum,
];

/** Daylights of CIE 15, relative power. */
export const daylight = { d50, d65 };
/** Reflectance of the 24 patches of the common chart, row by row from the brown one. */
export const publishedPatches = columnsOf("chart-patches.csv");

/** Curves whose sums with a reflectance are its X, Y and Z under a light, Y of white being 1. CIE 1931, 2 degrees. */
export const observerUnder = (light: Spectrum): readonly [x: Spectrum, y: Spectrum, z: Spectrum] => {
  const white = dot(light, yBar);
  const weighed = (bar: Spectrum): Spectrum => bar.map((value, i) => (value * light[i]!) / white);
  return [weighed(xBar), weighed(yBar), weighed(zBar)];
};
