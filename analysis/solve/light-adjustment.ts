import { apply3, type Matrix3, type Vector3 } from "../algebra/matrix3.ts";
import type { Lab65 } from "../colour/lab.ts";
import type { PartKind } from "../leaf-parts.ts";
import type { PhotoSample } from "../sample/photo-sample.ts";
import { fitCameraMatrix, type SeenColour } from "./camera-matrix.ts";
import { type Component, connect } from "./connections.ts";
import { buildEquations, type Equations } from "./equations.ts";
import type { KnownReferences } from "./known-references.ts";
import { lightTermsAt } from "./light-field.ts";
import { toCameraChannels } from "./log-channels.ts";
import { model } from "./model-constants.ts";
import { orderUnknowns } from "./order-unknowns.ts";
import { type CovarianceBetween, covarianceBetween, ownCovariances, reckonPart } from "./part-colours.ts";
import { type Channels, lightAt } from "./photo-light.ts";
import { solveChannel } from "./solve-channel.ts";
import { findStands } from "./stands.ts";
import { undoToneOfRgb } from "./tone.ts";
import { estimateTones, type Tones } from "./tone-estimate.ts";

/** The colour of one part of a face, from all photos that show it. */
export interface PartColour {
  readonly leaf: string;
  readonly face: string;
  readonly part: string;
  readonly kind: PartKind;
  readonly lab: Lab65;
  /** Covariance of L, a, b, not counting what a camera's matrix is off. */
  readonly covariance: Matrix3;
  readonly photos: number;
  /** How many cells it was measured on: its area, about. */
  readonly cells: number;
  /** Which component the face belongs to. */
  readonly component: number;
  /** A chart or grey card stands behind it: the colour is a true one. Else only its differences within the component are. */
  readonly known: boolean;
}

/** All photos of a delivery, solved at once. */
export interface Adjustment {
  readonly parts: readonly PartColour[];
  /** Covariance of the errors of two parts, by their place in `parts`. */
  readonly between: CovarianceBetween;
  /** What hangs together, the largest first: photos of the others are tied neither to it nor, unless known, to a true colour. */
  readonly components: readonly Component[];
  readonly tones: Tones;
  /** Photos found or said to share one stand. */
  readonly standOf: ReadonlyMap<string, string>;
}

/**
 * One weighted least-squares adjustment over all photos of a delivery: the colours of parts, the light of every photo, its
 * fall-off, references known and unknown, tone and matrix of every camera. The three channels (lightness and two
 * colours, in logarithms of light) are solved one by one. Swapping photos changes nothing.
 */
export const adjust = (samples: readonly PhotoSample[], known: KnownReferences): Adjustment => {
  const photos = [...samples].sort((one, other) => (one.photo < other.photo ? -1 : 1));
  const tones = estimateTones(photos, known);
  const standOf = findStands(photos, known, tones);
  const equations = buildEquations(photos, known, tones, standOf);
  const order = orderUnknowns(equations);
  const channels: Channels = [
    solveChannel(equations, order, 0),
    solveChannel(equations, order, 1),
    solveChannel(equations, order, 2),
  ];
  const matrices = cameraMatrices(photos, known, tones, equations, channels);
  const reckoned = equations.parts.flatMap((part) => reckonPart(part, equations, channels, matrices) ?? []);
  const own = ownCovariances(reckoned, channels);
  const components = connect(photos, known);
  const componentOf = new Map(components.flatMap(({ faces }, i) => faces.map((face) => [face, i] as const)));
  return {
    parts: reckoned.map(({ part: { leaf, face, name, kind, cells }, lab, photos: count }, i) => {
      const component = componentOf.get(`${leaf}/${face}`) ?? -1;
      return {
        leaf,
        face,
        part: name,
        kind,
        lab,
        covariance: own[i]!,
        photos: count,
        cells: cells.length,
        component,
        known: components[component]?.known ?? false,
      };
    }),
    between: covarianceBetween(reckoned, channels, own),
    components,
    tones,
    standOf,
  };
};

/** The matrix of every photo: the typical one, drawn to its camera's charts, drawn a little further to its own. */
const cameraMatrices = (
  photos: readonly PhotoSample[],
  known: KnownReferences,
  tones: Tones,
  equations: Equations,
  channels: Channels,
): Matrix3[] => {
  const colours = photos.map((photo, j) =>
    seenColours(photo, known, tones, (at) => lightAt(equations, channels, j, lightTermsAt(...at))),
  );
  const ofCamera = new Map<string, Matrix3>();
  for (const { camera } of photos) {
    if (ofCamera.has(camera)) continue;
    const all = colours.filter((_, j) => photos[j]!.camera === camera).flat();
    ofCamera.set(camera, fitCameraMatrix(all, model.typicalCamera, model.cameraMatrix));
  }
  return photos.map(({ camera }, j) => fitCameraMatrix(colours[j]!, ofCamera.get(camera)!, model.photoMatrix));
};

const seenColours = (
  { camera, encoding, references }: PhotoSample,
  known: KnownReferences,
  tones: Tones,
  lightOf: (at: readonly [number, number]) => Vector3,
): SeenColour[] => {
  const strength = tones.get(camera)?.strength ?? 0;
  const toCamera = toCameraChannels(encoding);
  return references.flatMap(({ kind, id, patches }) =>
    patches.flatMap(({ name, rgb, spread, at, lost }) => {
      const lab = known[id]?.[name];
      if (kind !== "chart" || !lab || lost > model.lostPatch) return [];
      const light = lightOf(at);
      const [red, green, blue] = apply3(toCamera, undoToneOfRgb(rgb, spread, strength));
      return [{ camera: [red / light[0], green / light[1], blue / light[2]] as const, lab }];
    }),
  );
};
