import type { RectMm } from "./raster.ts";

type PartKind = "face" | "stile" | "rail" | "muntin" | "panel";

/** A piece of a face cut from one sheet, as the joiner names it. */
export interface LayoutPart {
  readonly part: string;
  readonly kind: PartKind;
  readonly grain: "v" | "h";
  readonly rectMm: RectMm;
}

/** Width of the moulding round a panel, mm. */
export const mouldingMm = 16;

const flush = (width: number, height: number): LayoutPart[] => [
  { part: "face", kind: "face", grain: "v", rectMm: [0, 0, width, height] },
];

/** Two tall panels over two short ones; the rectangle of a panel is its flat, inside the moulding. */
const fourPanel = (width: number, height: number): LayoutPart[] => {
  const stile = 105;
  const muntin = 100;
  const top = 105;
  const lock = 190;
  const bottom = 205;
  const lockAt = Math.round(height * 0.48);
  const inner = width - 2 * stile;
  const bay = (inner - muntin) / 2;
  const right = stile + bay + muntin;
  const low = lockAt + lock;
  const panel = (part: string, x: number, y: number, h: number): LayoutPart => ({
    part,
    kind: "panel",
    grain: "v",
    rectMm: [x + mouldingMm, y + mouldingMm, bay - 2 * mouldingMm, h - 2 * mouldingMm],
  });
  const rail = (part: string, y: number, h: number): LayoutPart => ({
    part,
    kind: "rail",
    grain: "h",
    rectMm: [stile, y, inner, h],
  });
  const upright = (part: string, kind: PartKind, rectMm: RectMm): LayoutPart => ({ part, kind, grain: "v", rectMm });
  const tall = lockAt - top;
  const short = height - bottom - low;
  return [
    upright("stile-left", "stile", [0, 0, stile, height]),
    upright("stile-right", "stile", [width - stile, 0, stile, height]),
    rail("rail-top", 0, top),
    rail("rail-mid", lockAt, lock),
    rail("rail-bottom", height - bottom, bottom),
    upright("muntin-top", "muntin", [stile + bay, top, muntin, tall]),
    panel("panel-top-left", stile, top, tall),
    panel("panel-top-right", right, top, tall),
    upright("muntin-bottom", "muntin", [stile + bay, low, muntin, short]),
    panel("panel-bottom-left", stile, low, short),
    panel("panel-bottom-right", right, low, short),
  ];
};

export type Pattern = "flush" | "4-panel";

/** The parts of a face, as seen, in mm from its top left corner. */
export const partsOf = (pattern: Pattern, width: number, height: number): readonly LayoutPart[] =>
  pattern === "flush" ? flush(width, height) : fourPanel(width, height);
