import { leastSquares } from "../../analysis/algebra/least-squares.ts";
import { apply3, inverse3, type Matrix3, multiply3, type Vector3 } from "../../analysis/algebra/matrix3.ts";
import { normalFrom, uniformFrom } from "../../analysis/algebra/seeded-random.ts";
import { chart24Spectra } from "../../analysis/colour/chart24-spectra.ts";
import { chart24LabD50 } from "../../analysis/colour/chart24-values.ts";
import { toSrgbPrimaries, xyzToSrgb } from "../../analysis/colour/encoding.ts";
import { type Lab65, lab65FromLab50, xyzToLab65 } from "../../analysis/colour/lab.ts";
import { daylightD50, daylightD65, dot, type Spectrum, wavelengths, xyzInD65 } from "../../analysis/colour/spectra.ts";
import type { Encoding } from "../../analysis/pixels.ts";
import type { CellSample, PhotoSample, ReferenceSample } from "../../analysis/sample/photo-sample.ts";
import { spectrumOf } from "../../analysis/solve/chart-spectra.ts";
import { undoTone } from "../../analysis/solve/tone.ts";

/**
 * Invented deliveries as the photos' samples, without pictures: woods, sensors and lamps drawn at random over the spectrum, by
 * other formulas than the adjustment takes for granted. They show how right its colours and its intervals are on what it was
 * not made for.
 */
export interface Invented {
  readonly photos: readonly PhotoSample[];
  /** True colour of "leaf/face/part". */
  readonly truth: ReadonlyMap<string, Lab65>;
}

export type Scene =
  | "line-ups"
  | "line-ups with chart"
  | "line-ups with card"
  | "one stand, chart"
  | "one stand, card"
  | "mixed";

const partNames = ["stile-left", "rail-top", "panel"] as const;
const partGrid = { "stile-left": [2, 30], "rail-top": [9, 2], panel: [8, 26] } as const;
const partAt = {
  "stile-left": [0, 0, 0.15, 1],
  "rail-top": [0.2, 0, 0.6, 0.07],
  panel: [0.2, 0.1, 0.6, 0.85],
} as const;

/** Low and high end of reflectance, middle and width (nm) of the rise between. */
const species = {
  ash: [0.3, 0.7, 480, 55],
  oak: [0.13, 0.55, 525, 62],
  walnut: [0.06, 0.24, 590, 75],
  sapele: [0.05, 0.36, 585, 45],
} as const;

export type Species = keyof typeof species;

const hump = (peak: number, blueSide: number, redSide: number) => (nm: number) =>
  Math.exp(-0.5 * ((nm - peak) / (nm < peak ? blueSide : redSide)) ** 2);

const sum3 = (of: (k: 0 | 1 | 2) => number): Vector3 => [of(0), of(1), of(2)];

export const inventPhotos = (scene: Scene, kind: Species, seed: number): Invented => {
  const uniform = uniformFrom(seed);
  const normal = normalFrom(seed + 1);
  const between = (low: number, high: number) => low + (high - low) * uniform();

  const wood = (base: readonly number[], spread: number) => {
    const [low, high, middle, width] = base;
    const moved = [
      low! * Math.exp(spread * normal()),
      high! * Math.exp(0.6 * spread * normal()),
      middle! + 60 * spread * normal(),
      width! * Math.exp(0.4 * spread * normal()),
    ];
    return moved;
  };
  const reflectance = ([low, high, middle, width]: readonly number[]): Spectrum =>
    wavelengths.map((nm) => low! + (high! - low!) / (1 + Math.exp(-(nm - middle!) / width!)));

  const cameras = (["srgb", "display-p3"] as const).map((encoding) => makeCamera(encoding));
  function makeCamera(encoding: Encoding) {
    const curves = [
      hump(between(588, 610), between(18, 28), between(30, 45)),
      hump(between(522, 545), between(30, 44), between(32, 46)),
      hump(between(448, 468), between(20, 32), between(24, 36)),
    ].map((curve) => {
      const leak = between(0.005, 0.05);
      return wavelengths.map((nm) => curve(nm) + leak);
    });
    const light = wavelengths.map((_, i) => daylightD50[i]! + daylightD65[i]!);
    const seen = chart24Spectra.map((spectrum) => white(curves, light, spectrum));
    const target = chart24Spectra.map((spectrum) => apply3(xyzToSrgb, xyzInD65(spectrum)));
    // Rows that sum to one keep white white: red and blue against green.
    const rows = ([0, 1, 2] as const).map((row) => {
      const weights = target.map((value) => 1 / (value[1] + 0.05));
      const design = Float64Array.from(seen.flatMap(([r, g, b], i) => [(r - g) * weights[i]!, (b - g) * weights[i]!]));
      const fit = leastSquares(
        design,
        2,
        target.map((value, i) => (value[row] - seen[i]![1]) * weights[i]!),
      );
      if (fit.kind !== "fitted") throw new Error("a sensor without colours");
      const [red, blue] = fit.estimate;
      return [red!, 1 - red! - blue!, blue!];
    });
    const toOut = multiply3(inverse3(toSrgbPrimaries(encoding)), rows.flat() as unknown as Matrix3);
    return { encoding, curves, toOut, tone: between(-0.02, 0.35) };
  }
  const lamp = () => {
    const [peak, blue] = [between(580, 618), between(0.25, 0.6)];
    const [width, diode] = [between(48, 66), hump(between(446, 456), 9, 11)];
    return wavelengths.map((nm) => blue * diode(nm) + hump(peak, width, width)(nm));
  };
  const daylight = () => {
    const warm = between(-0.2, 1.2);
    return wavelengths.map((_, i) => daylightD50[i]! * (1 - warm) + daylightD65[i]! * warm);
  };
  const unit = (light: Spectrum): Spectrum => light.map((value) => value / light[16]!);

  const makeLight = () => ({
    day: unit(daylight()),
    lamp: unit(lamp()),
    share: between(0.1, 0.95),
    shareSlope: [0.03 * normal(), 0.03 * normal()],
    slope: [0.09 * normal(), 0.09 * normal()],
    bend: [0.02 * normal(), 0.02 * normal(), 0.02 * normal()],
    balance: [Math.exp(0.08 * normal()), 1, Math.exp(0.08 * normal())],
    exposure: Math.exp(-0.25 + 0.2 * normal()),
    vignette: between(0.03, 0.12),
    glint: 0.003,
  });
  type Light = ReturnType<typeof makeLight>;
  const near = (light: Light): Light => ({
    ...light,
    slope: light.slope.map((value) => value + 0.012 * normal()),
    share: Math.min(0.98, Math.max(0.02, light.share + 0.03 * normal())),
    balance: [light.balance[0]! * Math.exp(0.04 * normal()), 1, light.balance[2]! * Math.exp(0.04 * normal())],
    exposure: light.exposure * Math.exp(0.1 * normal()),
  });

  const press = (linear: number, strength: number): number => {
    let [low, high] = [0, 1];
    for (let i = 0; i < 30; i++) {
      const middle = (low + high) / 2;
      if (undoTone(middle, strength) < linear) low = middle;
      else high = middle;
    }
    return (low + high) / 2;
  };

  type Camera = ReturnType<typeof makeCamera>;
  const shoot = (camera: Camera, light: Light) => {
    const spd = (share: number) => wavelengths.map((_, i) => share * light.day[i]! + (1 - share) * light.lamp[i]!);
    const centre = spd(light.share);
    const grey = camera.curves.map((curve) => dot(curve, centre));
    return (spectrum: Spectrum, x: number, y: number, relative: number, extra: number) => {
      const share = Math.min(1, Math.max(0, light.share + light.shareSlope[0]! * x + light.shareSlope[1]! * y));
      const here = spd(share);
      const strength = Math.exp(
        light.slope[0]! * x +
          light.slope[1]! * y +
          light.bend[0]! * (x * x - 0.2) +
          light.bend[1]! * (y * y - 0.2) +
          light.bend[2]! * x * y -
          light.vignette * (x * x + y * y) +
          extra,
      );
      const raw = sum3(
        (k) =>
          (light.balance[k]! * camera.curves[k]!.reduce((sum, value, i) => sum + value * here[i]! * spectrum[i]!, 0)) /
          grey[k]!,
      );
      const out = apply3(camera.toOut, raw);
      const level = light.exposure * strength;
      const at = (scale: number) => sum3((k) => press(Math.max(0, Math.min(1, level * scale * out[k])), camera.tone));
      const [low, high] = [at(1 - relative), at(1 + relative)];
      const noise = () => 1 + 0.002 * normal();
      return sum3((k) => ((low[k] + high[k]) / 2) * noise());
    };
  };

  // The wood.
  const leaves = Array.from({ length: 10 }, (_, i) => `L${i + 1}`);
  const batches = [0, 1, 2].map(() => wood(species[kind], 0.1));
  const truth = new Map<string, Lab65>();
  const cells = new Map<string, readonly { spectrum: Spectrum }[]>();
  for (const leaf of leaves) {
    const ofLeaf = wood(batches[Math.floor(3 * uniform())]!, 0.05);
    for (const face of ["A", "B"]) {
      const ofFace = wood(ofLeaf, 0.03);
      for (const part of partNames) {
        const plain = reflectance(wood(ofFace, 0.015));
        const [columns, rows] = partGrid[part];
        const stripes = Array.from({ length: columns }, () => 0.02 * normal());
        const bands = Array.from({ length: rows }, () => 0.008 * normal());
        const made = Array.from({ length: columns * rows }, (_, cell) => {
          const figure = stripes[cell % columns]! + bands[Math.floor(cell / columns)]! + 0.01 * normal();
          return { spectrum: plain.map((value, i) => value * Math.exp(figure * (1.25 - (0.5 * i) / 30))) };
        });
        cells.set(`${leaf}/${face}/${part}`, made);
        const mean = wavelengths.map((_, i) => made.reduce((sum, { spectrum }) => sum + spectrum[i]!, 0) / made.length);
        truth.set(`${leaf}/${face}/${part}`, xyzToLab65(xyzInD65(mean)));
      }
    }
  }

  const chart = chart24LabD50.map((lab) => {
    const error = Math.exp(0.008 * normal());
    return spectrumOf(lab65FromLab50(lab)).map((value) => value * error);
  });
  const greyCard = wavelengths.map((_, i) => 0.18 * (1 + 0.03 * (i / 15 - 1) * uniform()));
  const paper = { white: between(0.8, 0.92), blue: between(-0.06, 0.02) };
  const printed = { "paper-left": 1, "paper-right": 1, "grey-25": 0.62, "grey-50": 0.33, "grey-75": 0.13 };
  const card = Object.entries(printed).map(([name, tone]) => {
    const own = tone * paper.white * Math.exp(tone === 1 ? 0 : 0.1 * normal());
    return [name, wavelengths.map((_, i) => own * (1 - paper.blue * (1 - i / 15)))] as const;
  });

  const photoOf = (
    photo: string,
    faces: readonly string[],
    reference: "chart" | "grey" | "card" | null,
    camera: Camera,
    light: Light,
  ): PhotoSample => {
    const see = shoot(camera, light);
    const width = faces.length === 1 ? 0.5 : 1.5 / faces.length;
    const left = (-width * faces.length) / 2;
    const place =
      reference === null
        ? null
        : [faces.length === 1 ? between(-0.45, 0.45) : between(-0.7, 0.7), between(-0.25, 0.25)];
    const off = Math.exp(0.004 * normal());
    const patch = (name: string, spectrum: Spectrum, at: readonly [number, number]) => {
      const rgb = see(spectrum, at[0], at[1], 0, Math.log(off));
      return { name, rgb, spread: 0.01, at, lost: Math.max(...rgb) > 0.99 ? 1 : 0 };
    };
    const references: ReferenceSample[] = [];
    if (place && reference) {
      const [x, y] = place as [number, number];
      const size = faces.length === 1 ? 0.045 : 0.02;
      if (reference === "chart")
        references.push({
          kind: "chart",
          id: "chart",
          patches: chart.map((spectrum, i) =>
            patch(`patch-${i + 1}`, spectrum, [x + size * (i % 6), y + size * Math.floor(i / 6)]),
          ),
        });
      if (reference === "grey")
        references.push({ kind: "grey", id: "grey", patches: [patch("grey", greyCard, [x, y])] });
      if (reference === "card")
        references.push({
          kind: "card",
          id: "card-1",
          patches: card.map(([name, spectrum], i) => patch(name, spectrum, [x + size * i, y])),
        });
    }
    return {
      photo,
      camera: `phone ${camera.encoding}`,
      encoding: camera.encoding,
      faces: faces.map((name, i) => {
        const [leaf, face] = name.split("/") as [string, string];
        return {
          leaf,
          face,
          parts: partNames.map((part) => {
            const [columns, rows] = partGrid[part];
            const [px, py, pw, ph] = partAt[part];
            const sheen = 0.0025 * normal();
            return {
              name: part,
              kind: part === "panel" ? "panel" : part === "rail-top" ? "rail" : "stile",
              grain: part === "rail-top" ? "h" : "v",
              columns,
              cells: cells.get(`${name}/${part}`)!.map(({ spectrum }, cell): CellSample => {
                const x = left + width * (i + 0.05 + 0.9 * (px + (pw * ((cell % columns) + 0.5)) / columns));
                const y = -0.65 + 1.3 * (py + (ph * (Math.floor(cell / columns) + 0.5)) / rows);
                return [cell, ...see(spectrum, x, y, 0.06, sheen), 0.06, x, y, 1];
              }),
            };
          }),
        };
      }),
      references,
    };
  };

  const faceNames = leaves.flatMap((leaf) => [`${leaf}/A`, `${leaf}/B`]);
  const mixedUp = faceNames
    .map((name) => [uniform(), name] as const)
    .toSorted((a, b) => a[0] - b[0])
    .map(([, name]) => name);
  const photos: PhotoSample[] = [];
  if (scene.startsWith("line-ups")) {
    const reference = scene.endsWith("chart") ? "chart" : scene.endsWith("card") ? "card" : null;
    for (let at = 0, n = 0; at < mixedUp.length; n++) {
      const count = 3 + Math.floor(3 * uniform());
      const faces = Array.from({ length: count }, (_, k) => mixedUp[(at + k) % mixedUp.length]!);
      photos.push(
        photoOf(`p${String(n).padStart(2, "0")}`, faces, reference, cameras[uniform() < 0.7 ? 0 : 1]!, makeLight()),
      );
      at += count - (uniform() < 0.5 ? 1 : 2);
    }
  } else {
    const stand = makeLight();
    faceNames.forEach((name, i) => {
      const reference = scene === "one stand, card" ? "card" : scene === "mixed" && i % 2 === 1 ? "grey" : "chart";
      const light = scene === "mixed" ? makeLight() : near(stand);
      photos.push(
        photoOf(`p${String(i).padStart(2, "0")}`, [name], reference, cameras[uniform() < 0.7 ? 0 : 1]!, light),
      );
    });
  }
  return { photos, truth };
};

const white = (curves: readonly Spectrum[], light: Spectrum, spectrum: Spectrum): Vector3 =>
  sum3((k) => {
    const seen = curves[k]!.map((value, i) => value * light[i]!);
    return dot(seen, spectrum) / seen.reduce((a, b) => a + b, 0);
  });
