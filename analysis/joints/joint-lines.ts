import type { FaceLayout, Part, RectMm } from "../leaf-parts.ts";

/** "x": a line runs up the face and is told by how far right it lies; "y": it runs across and is told by how far down. */
export type Axis = "x" | "y";

/** One side of a part that keeps to a line: its left or top side (start) or its right or bottom side (end), `insetMm` inside its part's side of the line. */
export interface PartSide {
  readonly part: string;
  readonly kind: Part["kind"];
  readonly end: "start" | "end";
  readonly insetMm: number;
}

/** A straight line of joints: all sides of stiles, rails, muntins and boards that lie on it, and the panels framed by these. */
export interface JointLine {
  readonly axis: Axis;
  readonly atMm: number;
  /** The stretch along the line where parts border on it, mm. */
  readonly fromMm: number;
  readonly toMm: number;
  readonly sides: readonly PartSide[];
}

/** Sides this near each other, or to the edge of the leaf, are one line, mm: drawn apart by less they could not be told. */
const sameMm = 2;

/** A panel's flat begins at most this far inside its frame, mm: moulding and the bevel of a fielded panel. From memory. */
const broadestMouldingMm = 70;

interface LaidSide extends PartSide {
  readonly axis: Axis;
  readonly atMm: number;
  readonly fromMm: number;
  readonly toMm: number;
}

/** Start and length of a part along the axis, then across it, mm. */
const spans = ([x, y, width, height]: RectMm, axis: Axis): readonly [number, number, number, number] =>
  axis === "x" ? [x, width, y, height] : [y, height, x, width];

const sidesOf = ({ name, kind, rectMm }: Part): LaidSide[] =>
  (["x", "y"] as const).flatMap((axis) => {
    const [start, length, fromMm, run] = spans(rectMm, axis);
    const side = { part: name, kind, axis, fromMm, toMm: fromMm + run, insetMm: 0 };
    return [
      { ...side, end: "start" as const, atMm: start },
      { ...side, end: "end" as const, atMm: start + length },
    ];
  });

/** The side of the frame that a panel's side lies inside of: the nearest that faces it along a common stretch. */
const frameSide = (panel: LaidSide, frame: readonly LaidSide[]): LaidSide | undefined => {
  const inside = ({ atMm }: LaidSide): number => (panel.end === "start" ? panel.atMm - atMm : atMm - panel.atMm);
  return frame
    .filter(
      (side) =>
        side.axis === panel.axis &&
        side.end !== panel.end &&
        Math.min(side.toMm, panel.toMm) > Math.max(side.fromMm, panel.fromMm) &&
        inside(side) > -sameMm &&
        inside(side) <= broadestMouldingMm,
    )
    .toSorted((one, other) => inside(one) - inside(other))[0];
};

/**
 * The lines on which the parts of a face meet, those up the face first, each direction in order. Panels keep to the lines of their
 * frame at their distance; the edge of the leaf is no line. A flush face has none.
 */
export const jointLines = ({ widthMm, heightMm, parts }: FaceLayout): readonly JointLine[] => {
  const all = parts.flatMap(sidesOf);
  const frame = all.filter(({ kind }) => kind !== "panel");
  const lines: { axis: Axis; atMm: number; fromMm: number; toMm: number; sides: PartSide[] }[] = [];
  const lineAt = (axis: Axis, atMm: number, from: LaidSide) => {
    const known = lines.find((line) => line.axis === axis && Math.abs(line.atMm - atMm) < sameMm);
    if (known) return known;
    const line = { axis, atMm, fromMm: from.fromMm, toMm: from.toMm, sides: [] };
    lines.push(line);
    return line;
  };
  const own = all.filter((side) => side.kind !== "panel" || !frameSide(side, frame));
  for (const side of own) {
    if (side.atMm < sameMm || side.atMm > (side.axis === "x" ? widthMm : heightMm) - sameMm) continue;
    const line = lineAt(side.axis, side.atMm, side);
    line.fromMm = Math.min(line.fromMm, side.fromMm);
    line.toMm = Math.max(line.toMm, side.toMm);
    line.sides.push(hung(side, line.atMm));
  }
  for (const side of all) {
    const held = side.kind === "panel" ? frameSide(side, frame) : undefined;
    if (!held) continue;
    const line = lineAt(held.axis, held.atMm, held);
    line.sides.push(hung(side, line.atMm));
  }
  return lines.toSorted((one, other) => one.axis.localeCompare(other.axis) || one.atMm - other.atMm);
};

const hung = ({ part, kind, end, atMm }: LaidSide, lineMm: number): PartSide => ({
  part,
  kind,
  end,
  insetMm: end === "start" ? atMm - lineMm : lineMm - atMm,
});

/** How far the panels' flats lie inside their frames, mm: the usual one of their sides; null without framed panels. */
export const mouldingOf = (lines: readonly JointLine[]): number | null => {
  const insets = lines
    .flatMap(({ sides }) => sides.filter(({ kind }) => kind === "panel").map(({ insetMm }) => insetMm))
    .toSorted((one, other) => one - other);
  return insets[insets.length >> 1] ?? null;
};

/** Where a person has put the lines, in the order of `jointLines`, and the moulding, mm; a moulding of null leaves each as it is. */
export interface JointPlaces {
  readonly linesMm: readonly number[];
  readonly mouldingMm: number | null;
}

/** The face with its lines put elsewhere: every part's sides go with their lines. Lines may be put wrongly; `layoutFault` tells. */
export const laidOnLines = (layout: FaceLayout, lines: readonly JointLine[], places: JointPlaces): FaceLayout => {
  const parts = layout.parts.map((part): Part => {
    const side = (axis: Axis, end: PartSide["end"], otherwise: number): number => {
      for (const [index, line] of lines.entries()) {
        const held = line.axis === axis && line.sides.find((one) => one.part === part.name && one.end === end);
        if (!held) continue;
        const inset = held.kind === "panel" && places.mouldingMm !== null ? places.mouldingMm : held.insetMm;
        return (places.linesMm[index] ?? line.atMm) + (end === "start" ? inset : -inset);
      }
      return otherwise;
    };
    const [x, y, width, height] = part.rectMm;
    const left = side("x", "start", x);
    const top = side("y", "start", y);
    return {
      ...part,
      rectMm: [left, top, side("x", "end", x + width) - left, side("y", "end", y + height) - top],
    };
  });
  return { ...layout, parts };
};
