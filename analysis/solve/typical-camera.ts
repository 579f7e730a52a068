import { apply3, inverse3, multiply3, type Vector3 } from "../algebra/matrix3.ts";
import { chart24Spectra } from "../colour/chart24-spectra.ts";
import { xyzToSrgb } from "../colour/encoding.ts";
import { daylightD50, daylightD65, type Spectrum, wavelengths, xyzInD65 } from "../colour/spectra.ts";
import { type Curves, departures, drawResponse, seenSpectrum } from "./camera-response.ts";
import { model } from "./model-constants.ts";

/** A channel's sensitivity: a hump, steeper to the blue side, on a low floor where filters leak. */
const hump = (peakNm: number, blueSideNm: number, redSideNm: number, floor: number): Spectrum =>
  wavelengths.map((nm) => floor + Math.exp(-0.5 * ((nm - peakNm) / (nm < peakNm ? blueSideNm : redSideNm)) ** 2));

const inDaylight = (sensitivity: Spectrum): Spectrum => {
  const curve = sensitivity.map((value, i) => value * (daylightD50[i]! + daylightD65[i]!));
  const sum = curve.reduce((a, b) => a + b, 0);
  return curve.map((value) => value / sum);
};

/** Peaks and widths usual in phones (from memory). */
const sensor: Curves = [
  inDaylight(hump(600, 22, 38, 0.03)),
  inDaylight(hump(532, 38, 38, 0.02)),
  inDaylight(hump(458, 28, 28, 0.01)),
];

/** How a camera's response departs from the typical one: as a share of itself, smooth over some 20 nm. */
export const departure = departures(sensor, 20);

const toCamera = multiply3(inverse3(model.typicalCamera), xyzToSrgb);
const chartAsItIs = (spectrum: Spectrum): Vector3 => apply3(toCamera, xyzInD65(spectrum));

/**
 * What a typical camera's channels make of a reflectance in daylight: sums over the spectrum, 1 for white. The sensor's own
 * curves, drawn to a chart's colours as they are, since makers tune a phone until a chart comes out right.
 */
export const typicalResponse: Curves = drawResponse(
  sensor,
  chart24Spectra.map((spectrum) => ({ ...seenSpectrum(departure, spectrum), camera: chartAsItIs(spectrum) })),
  { own: model.tuning, noise: model.tuningMiss },
).curves;

/** Light of a white lamp: blue of the diode and yellow of its phosphor (from memory). */
const lamp: Spectrum = wavelengths.map(
  (nm) => 0.4 * Math.exp(-0.5 * ((nm - 450) / 9) ** 2) + Math.exp(-0.5 * ((nm - 600) / 57) ** 2),
);

const at560 = (light: Spectrum) => light[wavelengths.indexOf(560)]!;
const daylight = wavelengths.map((_, i) => daylightD50[i]! + daylightD65[i]!);

/** Daylight and lamps in equal parts over daylight alone. */
const indoors = daylight.map((value, i) => 0.5 + (0.5 * lamp[i]! * at560(daylight)) / (value * at560(lamp)));

const ofSumOne = (curve: Spectrum): Spectrum => {
  const sum = curve.reduce((a, b) => a + b, 0);
  return curve.map((value) => value / sum);
};

const underIndoorLight = (curve: Spectrum): Spectrum => ofSumOne(curve.map((value, i) => value * indoors[i]!));

/** The same camera on a site, where daylight and lamps mix: what a photo without a chart is taken for. */
export const responseIndoors: Curves = [
  underIndoorLight(typicalResponse[0]),
  underIndoorLight(typicalResponse[1]),
  underIndoorLight(typicalResponse[2]),
];
