import type { Vector3 } from "../algebra/matrix3.ts";
import type { PartKind } from "../leaf-parts.ts";
import type { CellSample, PatchSample, PhotoSample, ReferenceSample } from "../sample/photo-sample.ts";
import { meanLight } from "./camera-errors.ts";
import { connect } from "./connections.ts";
import { isGrey, type KnownReferences, logOfLab, printedTones } from "./known-references.ts";
import { type LightTerms, lightTermsAt } from "./light-field.ts";
import { type FieldPrior, model, type Spreads } from "./model-constants.ts";
import { lightOf } from "./observed-light.ts";
import type { Tones } from "./tone-estimate.ts";
import { estimateWood } from "./wood-figure.ts";
import type { WoodInPhoto } from "./wood-in-photo.ts";

/** One unknown less another (or less nothing) is `mean`, within `spread`. */
interface Tie {
  readonly one: number;
  readonly other: number | null;
  readonly mean: Vector3;
  readonly spread: Spreads;
}

/** A cell or a grey patch as one photo shows it. */
export interface Seen {
  readonly photo: number;
  /** Number of the part, or -1 for a patch. */
  readonly part: number;
  /** Colour of the part in this photo, or of the patch. */
  readonly colour: number;
  /** Sheen of the grain, or what the reference is off in this photo. */
  readonly extra: number;
  readonly extraFactor: number;
  readonly terms: LightTerms;
  /** Lightness and two colours, logarithms of light. */
  readonly log: Vector3;
  readonly noise: Spreads;
  readonly share: number;
}

export interface SeenPart {
  readonly number: number;
  readonly leaf: string;
  readonly face: string;
  readonly name: string;
  readonly kind: PartKind;
  readonly colour: number;
  /** Variance of a cell by the figure of the wood: lightness and two colours. */
  readonly wood: Vector3;
  /** By cell number: the places in `seen` that show that piece of wood. */
  readonly cells: readonly (readonly number[])[];
}

/** All that was seen and all that is taken for granted, as linear equations in logarithms of light. */
export interface Equations {
  readonly unknowns: readonly string[];
  /** Unknowns shared by many photos. */
  readonly hubs: ReadonlySet<number>;
  readonly ties: readonly Tie[];
  readonly seen: readonly Seen[];
  readonly parts: readonly SeenPart[];
  /** Seen patches, each by itself. */
  readonly patches: readonly number[];
  /** First of each photo's light unknowns: its gain; the other light terms follow. */
  readonly light: readonly number[];
}

const none: Vector3 = [0, 0, 0];

const scaled = ({ lightness, warmth, tint }: Spreads, by: number): Spreads => ({
  lightness: lightness * by,
  warmth: warmth * by,
  tint: tint * by,
});

/** `standOf` names the stand of the photos that share one; the others each have a field of their own. */
export const buildEquations = (
  photos: readonly PhotoSample[],
  known: KnownReferences,
  tones: Tones,
  standOf: ReadonlyMap<string, string>,
  asSeen: readonly WoodInPhoto[],
): Equations => {
  const unknowns: string[] = [];
  const index = new Map<string, number>();
  const hubs = new Set<number>();
  const ties: Tie[] = [];
  const seen: Seen[] = [];
  const patches: number[] = [];
  const light: number[] = [];
  const parts = new Map<string, SeenPart & { cells: number[][] }>();

  const unknown = (name: string, other: number | null, spread: Spreads, mean: Vector3 = none): number => {
    const there = index.get(name);
    if (there !== undefined) return there;
    const one = unknowns.push(name) - 1;
    index.set(name, one);
    ties.push({ one, other, mean, spread });
    return one;
  };
  const hub = (...named: Parameters<typeof unknown>): number => {
    const one = unknown(...named);
    hubs.add(one);
    return one;
  };
  const field = (
    name: string,
    { mean, lightness, warmth, tint }: FieldPrior,
    kindOfLight: Spreads,
    stand: number | null,
    make: typeof unknown,
  ): number => {
    const first = unknowns.length;
    mean.forEach((value, k) => {
      const spread = { lightness: lightness[k]!, warmth: warmth[k]!, tint: tint[k]! };
      make(`${name} field ${k}`, stand === null ? null : stand + k, spread, [value, 0, 0]);
    });
    make(`${name} kind of light`, stand === null ? null : stand + mean.length, kindOfLight);
    return first;
  };

  const woods = new Map(
    connect(photos, known).flatMap(({ faces }, i) => faces.map((face) => [face, `wood ${i}`] as const)),
  );
  const meanGain = hub("mean gain", null, model.meanGain, model.usualGain);
  const stands = new Map<string, number>();
  const standField = (stand: string, left: number): number => {
    const first = stands.get(stand) ?? field(`stand ${stand}`, model.field, scaled(model.kindOfLight, left), null, hub);
    stands.set(stand, first);
    return first;
  };

  const figure = estimateWood(photos, tones);
  photos.forEach((photo, j) => {
    const stand = standOf.get(photo.photo);
    const standFirst = stand === undefined ? null : standField(stand, asSeen[j]!.left);
    light[j] = unknown(`${photo.photo} gain`, meanGain, model.photoGain);
    const { left } = asSeen[j]!;
    if (standFirst === null) field(photo.photo, model.field, scaled(model.kindOfLight, left), null, unknown);
    else field(photo.photo, model.fieldAtStand, scaled(model.kindAtStand, left), standFirst, unknown);
    const grain = unknown(`${photo.photo} grain`, null, model.grain);
    const strength = tones.get(photo.camera)?.strength ?? 0;
    const observe = lightOf(photo.encoding, strength);

    for (const { leaf, face, parts: sampled } of photo.faces) {
      const wood = hub(woods.get(`${leaf}/${face}`) ?? "wood", null, model.delivery, model.usualWood);
      const leafColour = unknown(`leaf ${leaf}`, wood, model.leaf);
      const faceColour = unknown(`face ${leaf}/${face}`, leafColour, model.face);
      for (const sample of sampled) {
        const key = `${leaf}/${face}/${sample.name}`;
        const colour = unknown(`part ${key}`, faceColour, model.part);
        const number = parts.get(key)?.number ?? parts.size;
        const there = parts.get(key) ?? {
          number,
          leaf,
          face,
          name: sample.name,
          kind: sample.kind,
          colour,
          wood: figure(sample.kind),
          cells: [],
        };
        parts.set(key, there);
        const here = unknown(`part ${key} in ${photo.photo}`, colour, model.partInPhoto);
        const mean = meanLight(sample);
        const { against, warmth } = asSeen[j]!.wood(...mean);
        const observeWood = (rgb: Vector3, spread: number): Vector3 => {
          const log = observe(rgb, spread);
          return [log[0] - against[0], log[1] - against[1], log[2] - against[2]];
        };
        for (const cell of sample.cells) {
          const at =
            seen.push(seenCell(cell, observeWood, warmth, j, number, here, grain, sample.grain === "v" ? 1 : -1)) - 1;
          const same = there.cells[cell[0]];
          if (same) same.push(at);
          else there.cells[cell[0]] = [at];
        }
      }
    }
    if (photo.brightest !== undefined && photo.brightest < model.cutOff) {
      const light = photo.brightest;
      patches.push(
        seen.push({
          photo: j,
          part: -1,
          colour: hub("white", null, model.whiteInPhoto, [Math.log(model.white), 0, 0]),
          extra: grain,
          extraFactor: 0,
          terms: lightTermsAt(0, 0, 0),
          log: observe([light, light, light], 0),
          noise: model.whiteInPhoto,
          share: 1,
        }) - 1,
      );
    }
    for (const reference of photo.references) {
      const off = unknown(`${reference.id} in ${photo.photo}`, null, model.referenceInPhoto);
      for (const patch of reference.patches) {
        const prior = patchPrior(reference, patch, known);
        if (!prior) continue;
        const sheet = prior.printed ? hub(`sheet ${reference.id}`, null, model.printedSheet) : null;
        const colour = hub(`${reference.id}/${patch.name}`, sheet, prior.spread, prior.log);
        patches.push(
          seen.push({
            photo: j,
            part: -1,
            colour,
            extra: off,
            extraFactor: 1,
            terms: lightTermsAt(...patch.at, 0),
            log: observe(patch.rgb, patch.spread),
            noise: model.patchNoise,
            share: 1,
          }) - 1,
        );
      }
    }
  });
  return { unknowns, hubs, ties, seen, parts: [...parts.values()].map(dense), patches, light };
};

const seenCell = (
  [, red, green, blue, spread, right, down, share]: CellSample,
  observe: ReturnType<typeof lightOf>,
  warmth: number,
  photo: number,
  part: number,
  colour: number,
  extra: number,
  extraFactor: number,
): Seen => ({
  photo,
  part,
  colour,
  extra,
  extraFactor,
  terms: lightTermsAt(right, down, warmth),
  log: observe([red, green, blue], spread),
  noise: model.cellNoise,
  share,
});

/** What is known of a patch before any photo; null for a patch that says nothing of the light. */
const patchPrior = (
  { kind, id }: ReferenceSample,
  { name, lost }: PatchSample,
  known: KnownReferences,
): { printed: boolean; spread: Spreads; log: Vector3 } | null => {
  if (lost > model.lostPatch) return null;
  const lab = known[id]?.[name];
  if (lab && !isGrey(lab)) return null;
  if (lab) return { printed: false, spread: kind === "grey" ? model.greyCard : model.chartPatch, log: logOfLab(lab) };
  const nominal = kind === "card" ? printedTones[name] : undefined;
  return nominal === undefined ? null : { printed: true, spread: model.printedPatch, log: [Math.log(nominal), 0, 0] };
};

const dense = <Part extends { cells: number[][] }>(part: Part): Part => ({
  ...part,
  cells: part.cells.filter((places) => places !== undefined),
});
