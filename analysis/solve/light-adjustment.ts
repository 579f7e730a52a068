import { combine3, type Matrix3 } from "../algebra/matrix3.ts";
import type { Lab65 } from "../colour/lab.ts";
import type { PartKind } from "../leaf-parts.ts";
import type { PhotoSample } from "../sample/photo-sample.ts";
import { cameraErrors } from "./camera-errors.ts";
import { type Component, connect } from "./connections.ts";
import { buildEquations, piecesOf } from "./equations.ts";
import type { KnownReferences } from "./known-references.ts";
import { orderUnknowns } from "./order-unknowns.ts";
import { type Channels, type CovarianceBetween, lightErrors, reckonPart } from "./part-colours.ts";
import { solveChannel } from "./solve-channel.ts";
import { findStands } from "./stands.ts";
import { estimateTones, type Tones } from "./tone-estimate.ts";
import { woodAsSeen } from "./wood-in-photo.ts";

/** The colour of one part of a face, from all photos that show it. */
export interface PartColour {
  readonly leaf: string;
  readonly face: string;
  readonly part: string;
  readonly kind: PartKind;
  readonly lab: Lab65;
  /** Covariance of L, a, b. */
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
  /** Photos with a chart: how far each patch of it is, on the average, from what the others say of the camera, as a share of its light. */
  readonly charts: readonly { readonly photo: string; readonly leftOut: number }[];
  /** Photos found or said to share one stand. */
  readonly standOf: ReadonlyMap<string, string>;
}

/**
 * One weighted least-squares adjustment over all photos of a delivery: the colours of parts, the light of every photo, its
 * fall-off, references known and unknown, tone and response of every camera. The three channels (lightness, warmth and
 * tint, in logarithms of light) are solved one by one. Swapping photos changes nothing.
 */
export const adjust = (samples: readonly PhotoSample[], known: KnownReferences): Adjustment => {
  const photos = [...samples].sort((one, other) => (one.photo < other.photo ? -1 : 1));
  const tones = estimateTones(photos, known);
  const asSeen = woodAsSeen(photos, known, tones);
  const standOf = findStands(photos, known, tones, asSeen.photos);
  const equations = buildEquations(photos, known, tones, standOf, asSeen.photos);
  const order = orderUnknowns(equations);
  const channels: Channels = [
    solveChannel(equations, order, 0),
    solveChannel(equations, order, 1),
    solveChannel(equations, order, 2),
  ];
  const reckoned = equations.parts.flatMap((part) => reckonPart(part, equations, channels) ?? []);
  const fromLight = lightErrors(reckoned, channels);
  const fromCamera = cameraErrors(reckoned, photos, tones, asSeen);
  const between: CovarianceBetween = (one, other) => combine3(fromLight(one, other), fromCamera(one, other), 1);
  const components = connect(photos, known);
  const componentOf = new Map(components.flatMap(({ faces }, i) => faces.map((face) => [face, i] as const)));
  return {
    parts: reckoned.map(({ part, lab, photos: shares }, i) => {
      const { leaf, face, name, kind } = part;
      const component = componentOf.get(`${leaf}/${face}`) ?? -1;
      return {
        leaf,
        face,
        part: name,
        kind,
        lab,
        covariance: between(i, i),
        photos: shares.size,
        cells: piecesOf(part),
        component,
        known: components[component]?.known ?? false,
      };
    }),
    between,
    components,
    tones,
    charts: photos.flatMap(({ photo }, j) => {
      const leftOut = asSeen.photos[j]?.leftOut ?? null;
      return leftOut === null ? [] : [{ photo, leftOut }];
    }),
    standOf,
  };
};
