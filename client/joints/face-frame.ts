import type { JointLine } from "../../analysis/joints/joint-lines.ts";
import type { Pattern } from "../../server/contract/leaf.ts";

type Face = Pick<Pattern, "widthMm" | "heightMm">;

/** Room round the face for the knobs, in px of the page: a thumb's breadth, so that a thumb hides nothing of the face. */
const marginPx = 46;

/** Side of what a loupe shows, mm: a joint and what may be taken for it. */
export const loupeMm = 40;

/** How a face is drawn on a picture of some width: `mmPerPx` is mm on the face a px of the page. */
export interface FaceFrame {
  readonly mmPerPx: number;
  readonly marginMm: number;
  readonly viewBox: string;
}

export const faceFrame = ({ widthMm, heightMm }: Face, widthPx: number): FaceFrame => {
  const mmPerPx = widthMm / Math.max(1, widthPx - 2 * marginPx);
  const marginMm = marginPx * mmPerPx;
  const viewBox = [-marginMm, -marginMm, widthMm + 2 * marginMm, heightMm + 2 * marginMm].join(" ");
  return { mmPerPx, marginMm, viewBox };
};

/** The middle of each line's knob, mm: beside the face, by turns on one side and the other, so that knobs of near lines are apart. */
export const knobPlaces = (
  lines: readonly JointLine[],
  placesMm: readonly number[],
  { widthMm, heightMm }: Face,
  marginMm: number,
): readonly (readonly [x: number, y: number])[] => {
  const count = { x: 0, y: 0 };
  return lines.map(({ axis, atMm }, index) => {
    const at = placesMm[index] ?? atMm;
    const nearSide = count[axis]++ % 2 === 0;
    const beside = nearSide ? -marginMm / 2 : (axis === "x" ? heightMm : widthMm) + marginMm / 2;
    return axis === "x" ? [at, beside] : [beside, at];
  });
};

/** The place on a line that a loupe shows: beside the pointer when that is on the stretch of the line, else its middle. */
export const lookedAt = (
  { axis, fromMm, toMm }: JointLine,
  atMm: number,
  pointer: readonly [x: number, y: number] | null,
): readonly [x: number, y: number] => {
  const beside = pointer && (axis === "x" ? pointer[1] : pointer[0]);
  const along = beside !== null && beside >= fromMm && beside <= toMm ? beside : (fromMm + toMm) / 2;
  return axis === "x" ? [atMm, along] : [along, atMm];
};

/** How far a line may be dragged, mm: over the whole face. */
export const ontoFace = ({ axis }: JointLine, atMm: number, { widthMm, heightMm }: Face): number =>
  Math.max(0, Math.min(axis === "x" ? widthMm : heightMm, atMm));
