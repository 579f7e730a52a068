import type { Matrix3, Vector3 } from "../algebra/matrix3.ts";
import type { Part, PartKind } from "../leaf-parts.ts";
import type { FaceGrid } from "../rectify/resample.ts";
import { fieldOf, labPerShare, meanLight, type PartField } from "./part-field.ts";
import { bandsOf, pitchOf } from "./pitch.ts";
import { smooth } from "./smooth.ts";
import { apart, axisOf, contrastOf, quieted, spreadAround, windowsOf } from "./windows.ts";

/**
 * The figure of the grain of one part. `directionDeg`: of the grain from the leaf's height, 0 upright, positive leaning right, in
 * -90..90. `pitchMm`: distance from line to line across the grain, null when none repeats. `contrastL`: standard deviation of L* across
 * the grain after what is wider than 40 mm. `spreadDeg`: how much the direction varies over the part.
 */
export interface GrainFigure {
  readonly part: string;
  readonly kind: PartKind;
  readonly directionDeg: number;
  readonly pitchMm: number | null;
  readonly contrastL: number;
  readonly spreadDeg: number;
  readonly figure: "straight" | "crown" | "plain";
  readonly u95: FigureUncertainty;
}

/**
 * How far each figure would be off, 95 %, were the part as long again of the same wood: from how its six pieces along the grain
 * differ. Null where too few pieces show one.
 */
export interface FigureUncertainty {
  readonly directionDeg: number | null;
  readonly pitchMm: number | null;
  readonly contrastL: number | null;
  readonly spreadDeg: number | null;
}

/** Spread of direction above which arches or cathedrals show, degrees; contrast in L* below which no figure shows. Set by eye on rendered oak. */
const limits = { crownDeg: 6, plainL: 0.6 } as const;

/** Pieces that a part is cut into along the grain: of a stile some 340 mm each, of a rail 100 mm. */
const pieces = 6;

/** Student's t for 95 % both sides by the number of values, six to four. From memory. */
const studentT: Readonly<Record<number, number>> = { 6: 2.57, 5: 2.78, 4: 3.18 };

/** 95 % uncertainty of a mean of the pieces; null where fewer than four show a value. */
const uncertaintyOf = (values: readonly (number | null)[]): number | null => {
  const seen = values.filter((value) => value !== null);
  const t = studentT[seen.length];
  if (t === undefined) return null;
  const mean = seen.reduce((sum, value) => sum + value, 0) / seen.length;
  const squares = seen.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return t * Math.sqrt(squares / (seen.length - 1) / seen.length);
};

/**
 * Figure of one part on a grid of cells of about 1 mm. Null when too little of the part is seen. `toXyz` takes the photo's linear light
 * to XYZ. Direction by the structure tensor: the axis along which light changes least, summed over the part (Bigün and Granlund 1987,
 * from memory); spread from the same axis in windows of 40 mm, each counting as much as its lines are strong.
 */
export const grainFigure = (grid: FaceGrid, part: Part, toXyz: Matrix3): GrainFigure | null => {
  const field = fieldOf(grid, part, () => 4);
  const mean = field && meanLight(field);
  if (!field || !mean) return null;
  const detail = detailOf(field, labPerShare(mean, toXyz), mean);
  const windows = quieted(windowsOf(field, detail));
  const bands = bandsOf(field, detail);
  const whole = axisOf(windows);
  const spreadDeg = spreadAround(whole.angle, windows);
  const contrastL = contrastOf(windows);
  const inPieces = Array.from({ length: pieces }, (_, i) => {
    const inPiece = ({ place }: { readonly place: number }) => Math.floor(place * pieces) === i;
    const own = windows.filter(inPiece);
    const axis = axisOf(own);
    return {
      direction: axis.strength > 0 ? apart(axis.angle, whole.angle) : null,
      pitch: pitchOf(field, bands.filter(inPiece)),
      contrast: own.length > 0 ? contrastOf(own) : null,
      spread: axis.strength > 0 ? spreadAround(axis.angle, own) : null,
    };
  });
  // In the field the grain runs along the rows: upright, a row goes down the leaf; lying, it goes to the right.
  const turned = part.grain === "v" ? -whole.angle : 90 + whole.angle;
  return {
    part: part.name,
    kind: part.kind,
    directionDeg: turned > 90 ? turned - 180 : turned,
    pitchMm: pitchOf(field, bands),
    contrastL,
    spreadDeg,
    figure: contrastL < limits.plainL ? "plain" : spreadDeg > limits.crownDeg ? "crown" : "straight",
    u95: {
      directionDeg: uncertaintyOf(inPieces.map(({ direction }) => direction)),
      pitchMm: uncertaintyOf(inPieces.map(({ pitch }) => pitch)),
      contrastL: uncertaintyOf(inPieces.map(({ contrast }) => contrast)),
      spreadDeg: uncertaintyOf(inPieces.map(({ spread }) => spread)),
    },
  };
};

/** L* of each cell less that of the 40 mm round it; 0 where not usable. */
const detailOf = (
  { along, across, mmPerCell, light, usable }: PartField,
  toLab: Matrix3,
  mean: Vector3,
): Float32Array => {
  const L = new Float32Array(usable.length);
  for (let i = 0; i < L.length; i++)
    if (usable[i]) for (const c of [0, 1, 2] as const) L[i]! += toLab[c] * (light[c][i]! / mean[c] - 1);
  const around = smooth({ along, across }, L, Math.round(40 / mmPerCell));
  return L.map((value, i) => (usable[i] ? value - around[i]! : 0));
};
