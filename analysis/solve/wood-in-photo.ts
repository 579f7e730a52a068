import { apply3, type Matrix3, type Vector3 } from "../algebra/matrix3.ts";
import { dot } from "../colour/spectra.ts";
import type { PhotoSample } from "../sample/photo-sample.ts";
import {
  type Curves,
  drawResponse,
  type Response,
  type SeenPatch,
  type SeenSpectrum,
  seenSpectrum,
} from "./camera-response.ts";
import { lightFromGreys, type SeenGrey } from "./chart-light.ts";
import { spectrumOf } from "./chart-spectra.ts";
import { isGrey, type KnownReferences, logOfLab, printedTones } from "./known-references.ts";
import { cameraLogs, fromCameraLogs, logOfLight, toCameraChannels } from "./log-channels.ts";
import { model } from "./model-constants.ts";
import { undoToneOfRgb } from "./tone.ts";
import type { Tones } from "./tone-estimate.ts";
import { departure, responseIndoors, typicalResponse } from "./typical-camera.ts";
import { usualWood, woodBasis } from "./wood-spectra.ts";

/** How one photo shows wood. */
export interface WoodInPhoto {
  /** A wood of this mean light (linear RGB of the photo, and spread). */
  readonly wood: (
    rgb: Vector3,
    spread: number,
  ) => {
    /** What it has too much of, in lightness, warmth and tint, against how the typical camera sees it in daylight, both against grey. */
    readonly against: Vector3;
    readonly warmth: number;
  };
  /** Share of the usual uncertainty of wood against grey that a chart in the photo leaves. */
  readonly left: number;
  /** How far patches of its chart come out from what the others say of the camera, as a share of light; null without a chart. */
  readonly leftOut: number | null;
}

/** How cameras and photos show wood, as their charts tell it. */
export interface WoodAsSeen {
  readonly photos: readonly WoodInPhoto[];
  /** What is left unsure of each camera. */
  readonly cameras: ReadonlyMap<string, Response>;
}

/** A photo's chart, its light taken off. */
interface View {
  readonly camera: string;
  readonly toLight: (rgb: Vector3, spread: number) => Vector3;
  /** About the light of the photo, by its greys, known or printed; else what is usual. */
  readonly light: Vector3;
  readonly seen: readonly (SeenPatch & { readonly name: string })[];
}

/**
 * Camera and light see wood and grey differently, and no grey shows how. The patches of a chart do: they give the response of
 * the camera under that light over the whole spectrum, and so what it makes of wood. Each camera's response is drawn from
 * the typical one by the mean of its charts, each photo's from its camera's by its own.
 */
export const woodAsSeen = (photos: readonly PhotoSample[], known: KnownReferences, tones: Tones): WoodAsSeen => {
  const spectra = spectraOf(known);
  const views = photos.map((photo) => viewOf(photo, known, spectra, tones));
  const cameras = new Map(
    [...new Set(views.map(({ camera }) => camera))].map((camera) => {
      const charts = views.filter((view) => view.camera === camera && view.seen.length > 0);
      const lights = model.lightDeparture / Math.sqrt(Math.max(1, charts.length));
      const size = { own: Math.hypot(model.cameraDeparture, lights), noise: model.patchColour };
      return [camera, drawResponse(responseIndoors, meanPatches(charts), size)] as const;
    }),
  );
  const brown = seenSpectrum(departure, usualWood);
  const size = { own: model.lightDeparture, noise: model.patchColour };
  const unknown = drawResponse(responseIndoors, [], size).covariance(brown, brown);
  return {
    cameras,
    photos: views.map((view) => {
      const response = drawResponse(cameras.get(view.camera)!.curves, view.seen, size);
      const seenHere = woodSeenBy(response.curves);
      return {
        left: Math.sqrt(Math.max(0, response.covariance(brown, brown) / unknown)),
        leftOut: response.leftOut,
        wood: (rgb, spread) => againstTypical(view, seenHere, rgb, spread),
      };
    }),
  };
};

const spectraOf = (known: KnownReferences): ReadonlyMap<string, SeenSpectrum> =>
  new Map(
    Object.entries(known).flatMap(([id, labs]) =>
      Object.entries(labs).map(([name, lab]) => [`${id}/${name}`, seenSpectrum(departure, spectrumOf(lab))] as const),
    ),
  );

const viewOf = (
  { camera, encoding, references }: PhotoSample,
  known: KnownReferences,
  spectra: ReadonlyMap<string, SeenSpectrum>,
  tones: Tones,
): View => {
  const toCamera = toCameraChannels(encoding);
  const strength = tones.get(camera)?.strength ?? 0;
  const toLight = (rgb: Vector3, spread: number) => apply3(toCamera, undoToneOfRgb(rgb, spread, strength));
  const patches = references.flatMap(({ kind, id, patches: sampled }) =>
    sampled
      .filter(({ lost }) => lost <= model.lostPatch)
      .map(({ name, rgb, spread, at }) => {
        const lab = known[id]?.[name];
        return { kind, name, key: `${id}/${name}`, lab, at, camera: toLight(rgb, spread) };
      }),
  );
  const greys = patches.flatMap(({ lab, at, camera: seen }) =>
    lab && isGrey(lab) ? [greyAs(at, seen, cameraLogs(logOfLab(lab)))] : [],
  );
  const printed = patches.flatMap(({ kind, name, at, camera: seen }) => {
    const tone = kind === "card" ? printedTones[name] : undefined;
    return tone === undefined ? [] : [greyAs(at, seen, [Math.log(tone), Math.log(tone), Math.log(tone)])];
  });
  const light = lightFromGreys(greys);
  const seen = light
    ? patches.flatMap(({ kind, key, at, camera: own }) => {
        const spectrum = kind === "chart" ? spectra.get(key) : undefined;
        return spectrum ? [{ ...spectrum, name: key, camera: over(own, light(at)) }] : [];
      })
    : [];
  const about = light ?? lightFromGreys(printed);
  const place = (greys[0] ?? printed[0])?.at;
  return { camera, toLight, light: about && place ? about(place) : usualLight, seen };
};

const greyAs = (at: SeenGrey["at"], [red, green, blue]: Vector3, own: Vector3): SeenGrey => ({
  at,
  light: [logOfLight(red) - own[0], logOfLight(green) - own[1], logOfLight(blue) - own[2]],
});

/** Light of a photo in which nothing tells it. */
const usualLight = cameraLogs(model.usualGain).map(Math.exp) as unknown as Vector3;

const over = (one: Vector3, other: Vector3): Vector3 => [one[0] / other[0], one[1] / other[1], one[2] / other[2]];

const meanPatches = (charts: readonly View[]): SeenPatch[] => {
  const all = charts.flatMap(({ seen }) => seen);
  return [...new Set(all.map(({ name }) => name))].map((name) => {
    const same = all.filter((one) => one.name === name);
    const mean = (k: 0 | 1 | 2) => same.reduce((sum, { camera }) => sum + camera[k], 0) / same.length;
    return { ...same[0]!, camera: [mean(0), mean(1), mean(2)] };
  });
};

/** What a camera of these curves sees of the wood that the typical camera sees as a colour: times that colour. */
const woodSeenBy = (curves: Curves): Matrix3 =>
  curves.flatMap((curve) => woodBasis.map((spectrum) => dot(curve, spectrum))) as unknown as Matrix3;

const woodSeenByTypical = woodSeenBy(typicalResponse);

const logsOf = (camera: Vector3): Vector3 =>
  fromCameraLogs([logOfLight(camera[0]), logOfLight(camera[1]), logOfLight(camera[2])]);

const againstTypical = ({ light, toLight }: View, seenHere: Matrix3, rgb: Vector3, spread: number) => {
  const camera = over(toLight(rgb, spread), light);
  const [here, typical] = [logsOf(apply3(seenHere, camera)), logsOf(apply3(woodSeenByTypical, camera))];
  const against: Vector3 = [here[0] - typical[0], here[1] - typical[1], here[2] - typical[2]];
  return { against, warmth: typical[1] };
};
