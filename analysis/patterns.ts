import type { FaceLayout, Part, PartKind, RectMm } from "./leaf-parts.ts";

/** Patterns that joiners order by name. Makers vary: the parts they give are a start to be drawn right. */
export const patternNames = [
  "flush",
  "one-panel",
  "two-panel",
  "three-panel",
  "four-panel",
  "six-panel",
  "five-horizontal",
  "boarded",
  "ladder",
  "glazed",
] as const;
export type PatternName = (typeof patternNames)[number];

/** Widths in mm of the members of a panelled leaf. Typical joinery proportions, from memory. */
const member = {
  stile: 105,
  muntin: 100,
  topRail: 105,
  midRail: 190,
  slimRail: 105,
  bottomRail: 205,
  moulding: 16,
  board: 115,
};

/** Rows of panels from the top: how high each is in proportion, how many panels stand beside each other, how deep the rails between. */
interface Panelling {
  readonly rows: readonly number[];
  readonly columns: 1 | 2;
  readonly midRail: number;
  readonly panels: boolean;
}

const panellings: Record<Exclude<PatternName, "flush" | "boarded">, Panelling> = {
  "one-panel": { rows: [1], columns: 1, midRail: 0, panels: true },
  "two-panel": { rows: [1], columns: 2, midRail: 0, panels: true },
  "three-panel": { rows: [1, 1, 1], columns: 1, midRail: member.slimRail, panels: true },
  "four-panel": { rows: [4, 3], columns: 2, midRail: member.midRail, panels: true },
  "six-panel": { rows: [2, 6, 5], columns: 2, midRail: member.slimRail, panels: true },
  "five-horizontal": { rows: [1, 1, 1, 1, 1], columns: 1, midRail: member.slimRail, panels: true },
  ladder: { rows: [1, 1, 1, 1], columns: 1, midRail: member.slimRail, panels: true },
  glazed: { rows: [1], columns: 1, midRail: 0, panels: false },
};

const part = (name: string, kind: PartKind, grain: "v" | "h", rectMm: RectMm): Part => ({ name, kind, grain, rectMm });

const rowNames = (count: number): readonly string[] => {
  if (count === 1) return [""];
  if (count === 2) return ["top", "bottom"];
  return count === 3 ? ["top", "mid", "bottom"] : Array.from({ length: count }, (_, index) => String(index + 1));
};

const joined = (...words: string[]): string => words.filter((word) => word !== "").join("-");

const panelled = (width: number, height: number, { rows, columns, midRail, panels }: Panelling): Part[] => {
  const { stile, muntin, topRail, bottomRail, moulding } = member;
  const inner = width - 2 * stile;
  const bay = columns === 1 ? inner : (inner - muntin) / 2;
  const free = height - topRail - bottomRail - (rows.length - 1) * midRail;
  const whole = rows.reduce((sum, row) => sum + row, 0);
  const names = rowNames(rows.length);
  const parts: Part[] = [
    part("stile-left", "stile", "v", [0, 0, stile, height]),
    part("stile-right", "stile", "v", [width - stile, 0, stile, height]),
    part("rail-top", "rail", "h", [stile, 0, inner, topRail]),
  ];
  let top = topRail;
  rows.forEach((row, index) => {
    const rowHeight = (free * row) / whole;
    const name = names[index] ?? "";
    if (index > 0) {
      const rail = rows.length === 2 ? "rail-mid" : `rail-mid-${index}`;
      parts.push(part(rail, "rail", "h", [stile, top - midRail, inner, midRail]));
    }
    if (columns === 2) parts.push(part(joined("muntin", name), "muntin", "v", [stile + bay, top, muntin, rowHeight]));
    for (let column = 0; panels && column < columns; column++) {
      const side = columns === 1 ? "" : column === 0 ? "left" : "right";
      const left = stile + column * (bay + muntin);
      const flat: RectMm = [left + moulding, top + moulding, bay - 2 * moulding, rowHeight - 2 * moulding];
      parts.push(part(joined("panel", name, side), "panel", "v", flat));
    }
    top += rowHeight + midRail;
  });
  parts.push(part("rail-bottom", "rail", "h", [stile, height - bottomRail, inner, bottomRail]));
  return parts;
};

const boarded = (width: number, height: number): Part[] => {
  const count = Math.max(3, Math.round(width / member.board));
  const board = width / count;
  return Array.from({ length: count }, (_, index) =>
    part(`board-${index + 1}`, "board", "v", [index * board, 0, board, height]),
  );
};

/**
 * The parts of one face of a leaf ordered by pattern name, mm from its top left corner; null when the leaf is too small
 * for the pattern. A panel's rectangle is its flat, inside the moulding; glass is no part.
 */
export const layoutOf = (name: PatternName, widthMm: number, heightMm: number): FaceLayout | null => {
  const parts =
    name === "flush"
      ? [part("face", "face", "v", [0, 0, widthMm, heightMm])]
      : name === "boarded"
        ? boarded(widthMm, heightMm)
        : panelled(widthMm, heightMm, panellings[name]);
  const fits = parts.every(({ rectMm: [, , width, height] }) => width > 0 && height > 0);
  return fits ? { widthMm, heightMm, parts } : null;
};
