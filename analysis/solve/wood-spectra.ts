import { inverse3, type Matrix3, multiply3, type Vector3 } from "../algebra/matrix3.ts";
import { dot, type Spectrum, wavelengths, xyzInD65 } from "../colour/spectra.ts";
import { typicalResponse } from "./typical-camera.ts";

/**
 * Reflectance of wood: its absorption falls off exponentially from blue to red (lignin and extractives), on top of an even
 * part (pores, dirt, dark stain). Kubelka and Munk's opaque layer: R = 1 + K/S - sqrt((K/S)^2 + 2 K/S) (from memory).
 */
const woodSpectrum = (strength: number, fallOffNm: number, even: number): Spectrum =>
  wavelengths.map((nm) => {
    const ks = strength * (Math.exp(-(nm - 400) / fallOffNm) + even);
    return 1 + ks - Math.sqrt(ks * ks + 2 * ks);
  });

interface Wood {
  readonly spectrum: Spectrum;
  readonly xyz: Vector3;
  /** As the typical camera sees it in daylight. */
  readonly camera: Vector3;
}

/** From pale maple to wenge, yellow, red and grey: CIELAB from L 86 to 31, a -1 to 16, b 14 to 43; each as if of luminance 1. */
const woods: readonly Wood[] = [1, 2, 4, 8, 16].flatMap((strength) =>
  [60, 90, 130].flatMap((fallOff) =>
    [0, 0.03, 0.1].map((even) => {
      const plain = woodSpectrum(strength, fallOff, even);
      const spectrum = plain.map((value) => value / xyzInD65(plain)[1]);
      return { spectrum, xyz: xyzInD65(spectrum), camera: seenBy(spectrum) };
    }),
  ),
);

function seenBy(spectrum: Spectrum): Vector3 {
  const [red, green, blue] = typicalResponse;
  return [dot(red, spectrum), dot(green, spectrum), dot(blue, spectrum)];
}

/** Sum over the woods of y x^T. */
const products = (of: (wood: Wood) => readonly [y: Vector3, x: Vector3]): Matrix3 => {
  const sum = new Float64Array(9);
  for (const wood of woods) {
    const [y, x] = of(wood);
    for (let i = 0; i < 9; i++) sum[i]! += y[Math.floor(i / 3)]! * x[i % 3]!;
  }
  return [...sum] as unknown as Matrix3;
};

const inverseSquares = inverse3(products(({ camera }) => [camera, camera]));

/** From the typical camera's channels to XYZ (D65): least squares over woods, not over all colours. */
export const woodToXyz: Matrix3 = multiply3(
  products(({ xyz, camera }) => [xyz, camera]),
  inverseSquares,
);

/**
 * Spectra by which a wood follows from what the typical camera's red, green and blue see of it: of all mixtures of woods that are
 * seen so, the one with the least shares.
 */
export const woodBasis: readonly [red: Spectrum, green: Spectrum, blue: Spectrum] = (() => {
  const column = (k: 0 | 1 | 2): Spectrum => {
    const pull: Vector3 = [inverseSquares[k]!, inverseSquares[k + 3]!, inverseSquares[k + 6]!];
    return wavelengths.map((_, n) =>
      woods.reduce(
        (sum, { spectrum, camera: [r, g, b] }) => sum + (pull[0] * r + pull[1] * g + pull[2] * b) * spectrum[n]!,
        0,
      ),
    );
  };
  return [column(0), column(1), column(2)];
})();

/** The spectrum of a wood that the typical camera sees so. */
export const woodSeenAs = ([red, green, blue]: Vector3): Spectrum => {
  const [r, g, b] = woodBasis;
  return r.map((value, n) => red * value + green * g[n]! + blue * b[n]!);
};

/** A brown of middling depth, for a photo in which nothing tells the colour of its light. */
export const usualWood: Spectrum = woodSpectrum(4, 90, 0.03);
