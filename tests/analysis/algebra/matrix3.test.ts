import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  apply3,
  identity3,
  inverse3,
  type Matrix3,
  multiply3,
  propagate3,
  type Vector3,
} from "../../../analysis/algebra/matrix3.ts";
import { gumH2 } from "../../published/uncertainty.ts";

const mean = (values: readonly number[]) => values.reduce((sum, v) => sum + v, 0) / values.length;

/** Covariance of the means of readings taken together. */
const covarianceOfMeans = (...series: readonly (readonly number[])[]): number[] =>
  series.flatMap((x) =>
    series.map((y) => {
      const n = x.length;
      return x.reduce((sum, v, i) => sum + (v - mean(x)) * (y[i]! - mean(y)), 0) / (n * (n - 1));
    }),
  );

describe("3 x 3 matrices", () => {
  it("carries the covariance of GUM H.2 into resistance, reactance and impedance", () => {
    const amps = gumH2.milliamps.map((i) => i / 1000);
    const [V, I, phi] = [mean(gumH2.volts), mean(amps), mean(gumH2.phase)];
    const inputs = covarianceOfMeans(gumH2.volts, amps, gumH2.phase) as unknown as Matrix3;
    const R = (V / I) * Math.cos(phi);
    const X = (V / I) * Math.sin(phi);
    const Z = V / I;
    const slopes: Matrix3 = [R / V, -R / I, -X, X / V, -X / I, R, Z / V, -Z / I, 0];
    const c = propagate3(slopes, inputs);
    const u = [Math.sqrt(c[0]), Math.sqrt(c[4]), Math.sqrt(c[8])] as const;
    [R, X, Z].forEach((value, i) => {
      expect(Math.abs(value - gumH2.full.value[i]!)).toBeLessThan(1e-4);
    });
    u.forEach((value, i) => {
      expect(Math.abs(value / gumH2.full.uncertainty[i]! - 1)).toBeLessThan(1e-4);
    });
    expect(c[1] / (u[0] * u[1])).toBeCloseTo(gumH2.full.rRX, 4);
    expect(c[2] / (u[0] * u[2])).toBeCloseTo(gumH2.full.rRZ, 4);
    expect(c[5] / (u[1] * u[2])).toBeCloseTo(gumH2.full.rXZ, 4);
  });

  it("undoes by the inverse what the matrix did", () => {
    const entry = fc.double({ min: -0.3, max: 0.3, noNaN: true });
    fc.assert(
      fc.property(fc.array(entry, { minLength: 9, maxLength: 9 }), fc.tuple(entry, entry, entry), (off, v) => {
        const m = off.map((value, i) => value + identity3[i]! * 2) as unknown as Matrix3;
        const back = apply3(inverse3(m), apply3(m, v as Vector3));
        v.forEach((value, i) => {
          expect(back[i]).toBeCloseTo(value, 10);
        });
        multiply3(m, inverse3(m)).forEach((value, i) => {
          expect(value).toBeCloseTo(identity3[i]!, 10);
        });
      }),
      { seed: 4 },
    );
  });
});
