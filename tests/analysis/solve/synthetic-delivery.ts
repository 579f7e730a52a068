import { apply3, inverse3, type Vector3 } from "../../../analysis/algebra/matrix3.ts";
import { normalFrom } from "../../../analysis/algebra/seeded-random.ts";
import { type Lab65, lab65FromLab50, lab65ToXyz } from "../../../analysis/colour/lab.ts";
import { dot, type Spectrum } from "../../../analysis/colour/spectra.ts";
import type { PartKind } from "../../../analysis/leaf-parts.ts";
import type { CellSample, FaceSample, PhotoSample, ReferenceSample } from "../../../analysis/sample/photo-sample.ts";
import { spectrumOf } from "../../../analysis/solve/chart-spectra.ts";
import type { KnownReferences } from "../../../analysis/solve/known-references.ts";
import { model } from "../../../analysis/solve/model-constants.ts";
import { undoTone } from "../../../analysis/solve/tone.ts";
import { responseIndoors } from "../../../analysis/solve/typical-camera.ts";
import { woodSeenAs, woodToXyz } from "../../../analysis/solve/wood-spectra.ts";
import { chart24 } from "../../published/chart24.ts";

/** Light of one photo: a factor on each of the camera's channels and slopes over the photo, in logarithms. */
interface Light {
  readonly gain: Vector3;
  readonly right: number;
  readonly down: number;
}

export interface Shown {
  readonly photo: string;
  readonly faces: readonly string[];
  readonly reference?: "chart" | "card" | "grey";
  readonly light?: Partial<Light>;
}

export const knownChart: KnownReferences = {
  chart: Object.fromEntries(chart24.map(({ labD50 }, i) => [`patch-${i + 1}`, lab65FromLab50(labD50)])),
  grey: { grey: [116 * Math.cbrt(0.18) - 16, 0, 0] },
};

/** What the printed card of these tests sends back: it is unknown to the adjustment. */
const card: Readonly<Record<string, Lab65>> = {
  "paper-left": [93, 0.5, -3],
  "paper-right": [93, 0.5, -3],
  "grey-25": [79, 0.2, -1.5],
  "grey-50": [62, 0, -1],
  "grey-75": [42, 0, -0.5],
};

const fromXyz = inverse3(woodToXyz);

/** The test's camera, in a room: what it makes of a wood, and of a patch, of a known colour. */
const seenIndoors = (spectrum: Spectrum): Vector3 => [
  dot(responseIndoors[0], spectrum),
  dot(responseIndoors[1], spectrum),
  dot(responseIndoors[2], spectrum),
];
const woodOf = (lab: Lab65) => seenIndoors(woodSeenAs(apply3(fromXyz, lab65ToXyz(lab))));
const patchOf = (lab: Lab65) => seenIndoors(spectrumOf(lab));

/** A phone's tone curve pressed on: the light that `undoTone` takes back. By Newton's method. */
const pressTone = (linear: number, strength: number): number => {
  let light = linear;
  for (let i = 0; i < 8; i++) {
    const [back, ahead] = [undoTone(light, strength), undoTone(light * 1.001, strength)];
    light -= ((back - linear) * light * 0.001) / (ahead - back);
  }
  return light;
};

export interface Delivery {
  readonly photos: readonly PhotoSample[];
  /** True colour of "leaf/face/part". */
  readonly truth: ReadonlyMap<string, Lab65>;
}

/** A part of the faces made, with the cells across and down it. */
export interface PartShape {
  readonly name: string;
  readonly kind: PartKind;
  readonly columns: number;
  readonly rows: number;
}

const stileAndPanel: readonly PartShape[] = [
  { name: "stile-left", kind: "stile", columns: 2, rows: 12 },
  { name: "panel", kind: "panel", columns: 2, rows: 12 },
];

/**
 * Photos of faces, two small parts each if nothing else is asked for, made by the model itself: known colours, figure that is the same in every photo of
 * a face, light with slopes, noise. Faces are named "leaf/face". The same seed gives the same delivery.
 */
export const makeDelivery = (
  shows: readonly Shown[],
  seed: number,
  tone = 0.15,
  partsOf: (face: string) => readonly PartShape[] = () => stileAndPanel,
): Delivery => {
  const normal = normalFrom(seed);
  const colours = new Map<string, { lab: Lab65; cells: number[][] }>();
  for (const name of new Set(shows.flatMap(({ faces }) => faces)))
    for (const { name: part, columns, rows } of partsOf(name)) {
      const lab: Lab65 = [62 + 2 * normal(), 9 + normal(), 24 + 1.5 * normal()];
      const cells = Array.from({ length: columns * rows }, () => {
        const figure = 0.02 * normal();
        return [figure, figure + 0.004 * normal(), figure + 0.004 * normal()];
      });
      const mean = [0, 1, 2].map((k) => Math.log(cells.reduce((sum, c) => sum + Math.exp(c[k]!), 0) / cells.length));
      colours.set(`${name}/${part}`, { lab, cells: cells.map((c) => c.map((v, k) => v - mean[k]!)) });
    }
  const photos = shows.map(({ photo, faces, reference, light: set }): PhotoSample => {
    const light: Light = {
      gain: [-0.6 + 0.15 * normal(), -0.5 + 0.1 * normal(), -0.4 + 0.15 * normal()],
      right: 0.1 * normal(),
      down: 0.1 * normal(),
      ...set,
    };
    const see = (plain: Vector3, figure: readonly number[], x: number, y: number, noise: number): Vector3 => {
      const camera = plain.map(
        (v, k) => v * Math.exp(figure[k]! + light.gain[k]! + light.right * x + light.down * y + noise * normal()),
      );
      const rgb = apply3(model.typicalCamera, [camera[0]!, camera[1]!, camera[2]!]);
      return [pressTone(rgb[0], tone), pressTone(rgb[1], tone), pressTone(rgb[2], tone)];
    };
    const width = 1.4 / faces.length;
    const sampled = faces.map((name, i): FaceSample => {
      const [leaf, face] = name.split("/") as [string, string];
      return {
        leaf,
        face,
        parts: partsOf(name).map(({ name: part, kind, columns, rows }, p, all) => ({
          name: part,
          kind,
          grain: "v",
          columns,
          cells: colours.get(`${name}/${part}`)!.cells.map((figure, cell): CellSample => {
            const x = -0.7 + width * (i + 0.15 + (0.8 / all.length) * (p + (cell % columns) / columns));
            const y = -0.5 + Math.floor(cell / columns) / rows;
            return [cell, ...see(woodOf(colours.get(`${name}/${part}`)!.lab), figure, x, y, 0.003), 0, x, y, 1];
          }),
        })),
      };
    });
    return {
      photo,
      camera: "test",
      encoding: "srgb",
      faces: sampled,
      references: reference ? [makeReference(reference, see)] : [],
    };
  });
  return { photos, truth: new Map([...colours].map(([name, { lab }]) => [name, lab])) };
};

const none = [0, 0, 0];

const makeReference = (
  kind: "chart" | "card" | "grey",
  see: (plain: Vector3, figure: readonly number[], x: number, y: number, noise: number) => Vector3,
): ReferenceSample => {
  const patches = Object.entries(kind === "card" ? card : knownChart[kind]!);
  return {
    kind,
    id: kind === "card" ? "card-7" : kind,
    patches: patches.map(([name, lab], i) => {
      const at = [0.1 + 0.03 * (i % 6), 0.03 * Math.floor(i / 6)] as const;
      const rgb = see(patchOf(lab), none, at[0], at[1], 0.002);
      return { name, rgb, spread: 0, at, lost: Math.max(...rgb) < 0.99 ? 0 : 1 };
    }),
  };
};
