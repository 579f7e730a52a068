import type { Vector3 } from "../algebra/matrix3.ts";
import type { PartKind } from "../leaf-parts.ts";
import type { PatchSample, PhotoSample, ReferenceSample } from "../sample/photo-sample.ts";
import { meanLight } from "./camera-errors.ts";
import { connect } from "./connections.ts";
import { isGrey, type KnownReferences, logOfLab, printedTones } from "./known-references.ts";
import { placeTerms, writeTerms } from "./light-field.ts";
import { type FieldPrior, model, type Spreads } from "./model-constants.ts";
import { type LogColumns, type ObservedPart, observeCells } from "./observed-cells.ts";
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

/** A part, or a grey patch, as one photo shows it: cells in columns, a patch being one cell. */
export interface View {
  /** Its place among all views. */
  readonly number: number;
  readonly photo: number;
  /** Unknown: colour of the part in this photo, or of the patch. */
  readonly colour: number;
  /** Unknown: sheen of the grain, or what the reference is off in this photo; it counts `extraFactor` times. */
  readonly extra: number;
  readonly extraFactor: number;
  /** Warmth of the wood, 0 for a grey: so much of the kind of light tells on it. */
  readonly warmth: number;
  /** `placeTerms` a cell. */
  readonly terms: Float64Array;
  readonly logs: LogColumns;
  readonly shares: Float64Array;
}

/** What several photos may show of one thing. */
export interface Clump {
  readonly views: readonly View[];
  /** For each piece of wood, view by view, the cell that shows it; -1 where none does. */
  readonly cellOf: Int32Array;
  readonly noise: Spreads;
  /** Variance that a piece adds to all its views alike, by the figure of the wood: lightness and two colours. */
  readonly wood: Vector3;
}

export interface SeenPart extends Clump {
  readonly leaf: string;
  readonly face: string;
  readonly name: string;
  readonly kind: PartKind;
}

/** How many pieces of wood a part was seen in. */
export const piecesOf = ({ cellOf, views }: Clump): number => cellOf.length / views.length;

/** All that was seen and all that is taken for granted, as linear equations in logarithms of light. */
export interface Equations {
  readonly unknowns: number;
  /** Unknowns shared by many photos. */
  readonly hubs: ReadonlySet<number>;
  readonly ties: readonly Tie[];
  readonly parts: readonly SeenPart[];
  /** Seen patches, each by itself. */
  readonly patches: readonly Clump[];
  readonly views: number;
  /** First of each photo's light unknowns: its gain; the other light terms follow, then the sheen of its grain. */
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
  const index = new Map<string, number>();
  const hubs = new Set<number>();
  const ties: Tie[] = [];
  const patches: Clump[] = [];
  const light: number[] = [];
  const parts = new Map<string, ViewedPart>();
  let views = 0;

  const unknown = (name: string, other: number | null, spread: Spreads, mean: Vector3 = none): number => {
    const there = index.get(name);
    if (there !== undefined) return there;
    const one = index.size;
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
    const first = index.size;
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

  const patch = (at: readonly [number, number], log: Vector3, noise: Spreads, seen: SeenAs): void => {
    const terms = new Float64Array(placeTerms);
    writeTerms(terms, 0, ...at);
    const logs = [Float64Array.of(log[0]), Float64Array.of(log[1]), Float64Array.of(log[2])] as const;
    const view = { ...seen, number: views++, warmth: 0, terms, logs, shares: Float64Array.of(1) };
    patches.push({ views: [view], cellOf: Int32Array.of(0), noise, wood: none });
  };

  const observed = observeCells(photos, tones);
  const figure = estimateWood(observed);
  const partsOf = photos.map((): ObservedPart[] => []);
  for (const part of observed.parts) partsOf[part.photo]!.push(part);
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

    for (const { leaf, face, sample, from, to } of partsOf[j]!) {
      const wood = hub(woods.get(`${leaf}/${face}`) ?? "wood", null, model.delivery, model.usualWood);
      const leafColour = unknown(`leaf ${leaf}`, wood, model.leaf);
      const faceColour = unknown(`face ${leaf}/${face}`, leafColour, model.face);
      const key = `${leaf}/${face}/${sample.name}`;
      const colour = unknown(`part ${key}`, faceColour, model.part);
      const { name, kind } = sample;
      const there = parts.get(key) ?? { leaf, face, name, kind, wood: figure(kind), views: [], pieces: [] };
      parts.set(key, there);
      const { against, warmth } = asSeen[j]!.wood(...meanLight(sample));
      const lessOwn = (channel: 0 | 1 | 2) =>
        observed.logs[channel].subarray(from, to).map((log) => log - against[channel]);
      there.pieces.push(observed.pieces.subarray(from, to));
      there.views.push({
        number: views++,
        photo: j,
        colour: unknown(`part ${key} in ${photo.photo}`, colour, model.partInPhoto),
        extra: grain,
        extraFactor: sample.grain === "v" ? 1 : -1,
        warmth,
        terms: observed.terms.subarray(placeTerms * from, placeTerms * to),
        logs: [lessOwn(0), lessOwn(1), lessOwn(2)],
        shares: observed.shares.subarray(from, to),
      });
    }
    if (photo.brightest !== undefined && photo.brightest < model.cutOff) {
      const colour = hub(`white of ${photo.camera}`, null, model.whiteInPhoto, [Math.log(model.white), 0, 0]);
      const log = observe([photo.brightest, photo.brightest, photo.brightest], 0);
      patch([0, 0], log, model.whiteInPhoto, { photo: j, colour, extra: grain, extraFactor: 0 });
    }
    for (const reference of photo.references) {
      const off = unknown(`${reference.id} in ${photo.photo}`, null, model.referenceInPhoto);
      for (const sample of reference.patches) {
        const prior = patchPrior(reference, sample, known);
        if (!prior) continue;
        const sheet = prior.printed ? hub(`sheet ${reference.id}`, null, model.printedSheet) : null;
        const colour = hub(`${reference.id}/${sample.name}`, sheet, prior.spread, prior.log);
        const log = observe(sample.rgb, sample.spread);
        patch(sample.at, log, model.patchNoise, { photo: j, colour, extra: off, extraFactor: 1 });
      }
    }
  });
  return { unknowns: index.size, hubs, ties, parts: [...parts.values()].map(clump), patches, views, light };
};

type SeenAs = Pick<View, "photo" | "colour" | "extra" | "extraFactor">;

/** A part whose views are being gathered, with the numbers of the pieces that each shows. */
type ViewedPart = Omit<SeenPart, "views" | "cellOf" | "noise"> & {
  readonly views: View[];
  readonly pieces: Int32Array[];
};

const clump = ({ pieces, ...part }: ViewedPart): SeenPart => {
  const rowOf = new Map<number, number>();
  for (const shown of pieces) for (const piece of shown) if (!rowOf.has(piece)) rowOf.set(piece, rowOf.size);
  const cellOf = new Int32Array(rowOf.size * pieces.length).fill(-1);
  pieces.forEach((shown, view) => {
    shown.forEach((piece, cell) => {
      cellOf[rowOf.get(piece)! * pieces.length + view] = cell;
    });
  });
  return { ...part, cellOf, noise: model.cellNoise };
};

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
