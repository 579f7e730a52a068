import { describe, expect, it } from "vitest";
import type { Vector3 } from "../../../analysis/algebra/matrix3.ts";
import { chart24Spectra } from "../../../analysis/colour/chart24-spectra.ts";
import { dot, type Spectrum, wavelengths } from "../../../analysis/colour/spectra.ts";
import { type Curves, drawResponse, seenSpectrum } from "../../../analysis/solve/camera-response.ts";
import { departure, typicalResponse } from "../../../analysis/solve/typical-camera.ts";
import { usualWood } from "../../../analysis/solve/wood-spectra.ts";

const ofSumOne = (curve: Spectrum): Spectrum => {
  const sum = curve.reduce((a, b) => a + b, 0);
  return curve.map((value) => value / sum);
};

/** The typical camera under a reddish lamp. */
const other = typicalResponse.map((curve) =>
  ofSumOne(curve.map((value, i) => value * (1 + 0.25 * Math.sin((wavelengths[i]! - 400) / 60)))),
) as unknown as Curves;

const patches = chart24Spectra.map((spectrum) => ({
  ...seenSpectrum(departure, spectrum),
  camera: [dot(other[0], spectrum), dot(other[1], spectrum), dot(other[2], spectrum)] as const,
}));
const brown = seenSpectrum(departure, usualWood);

describe("the response of a camera", () => {
  it("departs in nothing for white", () => {
    const white = seenSpectrum(
      departure,
      wavelengths.map(() => 1),
    );
    expect(dot(white.departure, brown.spectrum)).toBeCloseTo(0, 12);
  });

  it("stays what it was where no patch speaks, its error as great as the departures", () => {
    const { curves, covariance } = drawResponse(typicalResponse, [], { own: 0.1, noise: 0.02 });
    expect(curves).toBe(typicalResponse);
    expect(covariance(brown, brown)).toBeCloseTo(0.01 * dot(brown.departure, brown.spectrum), 12);
  });

  it("learns from a chart what a camera makes of a wood it has not seen", () => {
    const { curves, covariance } = drawResponse(typicalResponse, patches, { own: 0.15, noise: 0.005 });
    for (const k of [0, 1, 2] as const) {
      const [before, after] = [typicalResponse[k], curves[k]].map((curve) =>
        Math.abs(dot(curve, usualWood) - dot(other[k], usualWood)),
      );
      expect(after).toBeLessThan(0.3 * before! + 1e-4);
      expect(after).toBeLessThan(3 * Math.sqrt(covariance(brown, brown)));
    }
    expect(covariance(brown, brown)).toBeLessThan(0.05 * 0.15 ** 2 * dot(brown.departure, brown.spectrum));
  });

  it("has a covariance that two reflectances share, positive for one with itself", () => {
    const { covariance } = drawResponse(typicalResponse, patches, { own: 0.1, noise: 0.02 });
    const [a, b] = [seenSpectrum(departure, chart24Spectra[0]!), seenSpectrum(departure, chart24Spectra[12]!)];
    expect(covariance(a, b)).toBeCloseTo(covariance(b, a), 14);
    expect(covariance(a, a)).toBeGreaterThan(0);
    expect(covariance(a, a) * covariance(b, b)).toBeGreaterThan(covariance(a, b) ** 2);
  });

  it("tells how far left-out patches come out, and is less sure where they do not agree", () => {
    const good = drawResponse(typicalResponse, patches, { own: 0.15, noise: 0.02 });
    const spoilt = patches.map((patch, i) => ({
      ...patch,
      camera: patch.camera.map((value, k) => value * (1 + 0.1 * Math.sin(7 * i + k))) as unknown as Vector3,
    }));
    const bad = drawResponse(typicalResponse, spoilt, { own: 0.15, noise: 0.02 });
    expect(good.leftOut).toBeLessThan(0.02);
    expect(bad.leftOut).toBeGreaterThan(0.05);
    expect(bad.covariance(brown, brown)).toBeGreaterThan(3 * good.covariance(brown, brown));
    expect(drawResponse(typicalResponse, [], { own: 0.15, noise: 0.02 }).leftOut).toBeNull();
  });
});
