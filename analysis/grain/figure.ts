import type { Matrix3, Vector3 } from "../algebra/matrix3.ts";
import type { Part } from "../leaf-parts.ts";
import type { FaceGrid } from "../rectify/resample.ts";
import { fieldOf, labPerShare, meanLight, type PartField } from "./part-field.ts";
import { smooth } from "./smooth.ts";

/**
 * The figure of the grain of one part. `directionDeg`: of the grain from the leaf's height, 0 upright, positive leaning right, in
 * -90..90. `pitchMm`: distance from line to line across the grain, null when none repeats. `contrastL`: standard deviation of L* across
 * the grain after what is wider than 40 mm. `spreadDeg`: how much the direction varies over the part.
 */
export interface GrainFigure {
  readonly part: string;
  readonly directionDeg: number;
  readonly pitchMm: number | null;
  readonly contrastL: number;
  readonly spreadDeg: number;
  readonly figure: "straight" | "crown" | "plain";
}

/** Spread of direction above which arches or cathedrals show, degrees; contrast in L* below which no figure shows. Set by eye on rendered oak. */
const limits = { crownDeg: 6, plainL: 0.6 } as const;

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
  const axes = windowAxes(field, detail);
  const whole = axisOf(
    axes.reduce<Vector3>((sum, one) => [sum[0] + one[0], sum[1] + one[1], sum[2] + one[2]], [0, 0, 0]),
  );
  const spread = spreadAround(whole.angle, axes);
  const contrastL = contrastOf(detail, field.usable);
  // In the field the grain runs along the rows: upright, a row goes down the leaf; lying, it goes to the right.
  const turned = part.grain === "v" ? -whole.angle : 90 + whole.angle;
  return {
    part: part.name,
    directionDeg: turned > 90 ? turned - 180 : turned,
    pitchMm: pitchOf(field, detail),
    contrastL,
    spreadDeg: spread,
    figure: contrastL < limits.plainL ? "plain" : spread > limits.crownDeg ? "crown" : "straight",
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

/** Structure tensor (xx, xy, yy; x along the rows) of the detail, smoothed over 8 mm, in windows of 40 mm. */
const windowAxes = ({ along, across, mmPerCell, usable }: PartField, detail: Float32Array): Vector3[] => {
  const plane = smooth({ along, across }, detail, Math.max(1, Math.round(8 / mmPerCell)));
  const side = Math.round(40 / mmPerCell);
  const columns = Math.max(1, Math.floor(along / side));
  const rows = Math.max(1, Math.floor(across / side));
  const xx = new Float64Array(columns * rows);
  const xy = new Float64Array(columns * rows);
  const yy = new Float64Array(columns * rows);
  for (let row = 1; row < across - 1; row++)
    for (let i = 1; i < along - 1; i++) {
      const cell = row * along + i;
      if (!(usable[cell] && usable[cell - 1] && usable[cell + 1] && usable[cell - along] && usable[cell + along]))
        continue;
      const gx = plane[cell + 1]! - plane[cell - 1]!;
      const gy = plane[cell + along]! - plane[cell - along]!;
      const window = Math.min(rows - 1, Math.floor(row / side)) * columns + Math.min(columns - 1, Math.floor(i / side));
      xx[window]! += gx * gx;
      xy[window]! += gx * gy;
      yy[window]! += gy * gy;
    }
  return Array.from(xx, (value, window): Vector3 => [value, xy[window]!, yy[window]!]);
};

/** Angle of least change from the rows, degrees in -90..90, and how strongly the lines run one way (0..trace). */
const axisOf = ([xx, xy, yy]: Vector3): { readonly angle: number; readonly strength: number } => ({
  angle: (Math.atan2(-2 * xy, yy - xx) / 2) * (180 / Math.PI),
  strength: Math.hypot(yy - xx, 2 * xy),
});

const spreadAround = (angle: number, axes: readonly Vector3[]): number => {
  let sum = 0;
  let weight = 0;
  for (const one of axes.map(axisOf)) {
    const off = ((one.angle - angle + 270) % 180) - 90;
    sum += one.strength * off * off;
    weight += one.strength;
  }
  return weight > 0 ? Math.sqrt(sum / weight) : 0;
};

const contrastOf = (detail: Float32Array, usable: Uint8Array): number => {
  let squares = 0;
  let counted = 0;
  for (let i = 0; i < detail.length; i++)
    if (usable[i]) {
      squares += detail[i]! * detail[i]!;
      counted++;
    }
  return Math.sqrt(squares / Math.max(1, counted));
};

/** Least correlation with itself, one pitch on, for lines to count as repeating. */
const leastRepeat = 0.1;

/** First lag across the grain, up to 40 mm, at which the profile across bands of 12 mm is like itself again (autocorrelation). */
const pitchOf = ({ along, across, mmPerCell }: PartField, detail: Float32Array): number | null => {
  const band = Math.max(1, Math.round(12 / mmPerCell));
  const most = Math.min(Math.round(40 / mmPerCell), across - 2);
  const like = new Float64Array(most + 1);
  const profile = new Float64Array(across);
  for (let from = 0; from + band <= along; from += band) {
    profile.fill(0);
    for (let row = 0; row < across; row++)
      for (let i = from; i < from + band; i++) profile[row]! += detail[row * along + i]!;
    for (let lag = 0; lag <= most; lag++) {
      let sum = 0;
      for (let row = 0; row + lag < across; row++) sum += profile[row]! * profile[row + lag]!;
      like[lag]! += sum / (across - lag);
    }
  }
  let lag = 1;
  while (lag < most && like[lag]! > like[lag + 1]!) lag++;
  while (lag < most && like[lag]! <= like[lag + 1]!) lag++;
  if (lag >= most || like[lag]! < leastRepeat * like[0]!) return null;
  const [before, peak, after] = [like[lag - 1]!, like[lag]!, like[lag + 1]!];
  return (lag + (before - after) / (2 * (before - 2 * peak + after))) * mmPerCell;
};
