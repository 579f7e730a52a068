import { type Lab, lab65OfRgb, type Rgb, rgbOfLab65 } from "./colour.ts";
import type { DemoLeaf, FaceName } from "./demo-leaves.ts";
import { type LayoutPart, mouldingMm, partsOf } from "./leaf-layout.ts";
import { paintMark } from "./mark.ts";
import { blankRaster, meanOver, type Raster, type RectMm } from "./raster.ts";
import { between, seeded, seedOf } from "./seeded.ts";
import { channelGain, type Figure } from "./wood.ts";

/** A part with the colour it was cut to: linear light whose mean over the part the painting keeps. */
export interface ColouredPart extends LayoutPart {
  readonly target: Rgb;
  readonly seed: number;
}

/** Parts of one face with their colours; those of a panelled leaf lie about 0.5 round the leaf, their mean by area is the leaf's. */
const colouredParts = (leaf: DemoLeaf, face: FaceName): ColouredPart[] => {
  const lab = leaf.faces[face].lab;
  const parts = partsOf(leaf.pattern, leaf.widthMm, leaf.heightMm);
  const random = seeded(seedOf(`${leaf.id}/${face}`));
  const spread = parts.length > 1 ? 1 : 0;
  const off = parts.map(
    (): Lab => [
      between(random, -0.6, 0.6) * spread,
      between(random, -0.35, 0.35) * spread,
      between(random, -0.45, 0.45) * spread,
    ],
  );
  const areas = parts.map(({ rectMm }) => rectMm[2] * rectMm[3]);
  const area = areas.reduce((sum, v) => sum + v, 0);
  const mean = [0, 1, 2].map((k) => off.reduce((sum, v, i) => sum + v[k]! * areas[i]!, 0) / area);
  return parts.map((part, i) => ({
    ...part,
    target: rgbOfLab65([0, 1, 2].map((k) => lab[k]! + off[i]![k]! - mean[k]!) as unknown as Lab),
    seed: seedOf(`${leaf.id}/${face}/${part.part}`),
  }));
};

const inside = ([x, y, w, h]: RectMm, px: number, py: number): boolean =>
  px >= x && px < x + w && py >= y && py < y + h;

const grain = (figure: Figure, part: ColouredPart, x: number, y: number): number =>
  part.grain === "v" ? figure(x, y, part.seed) : figure(y, x, part.seed);

/** Paints one part so that the mean of linear light over its whole rectangle is the target, whatever piece of it the raster shows. */
const paintPart = (raster: Raster, figure: Figure, part: ColouredPart): void => {
  const [x, y, w, h] = part.rectMm;
  const step = 2;
  const sums = [0, 0, 0];
  let count = 0;
  for (let v = y + step / 2; v < y + h; v += step)
    for (let u = x + step / 2; u < x + w; u += step, count++) {
      const g = grain(figure, part, u, v);
      for (let k = 0; k < 3; k++) sums[k]! += Math.exp(channelGain[k]! * g);
    }
  const gain = part.target.map((t, k) => (t * count) / sums[k]!);
  const s = raster.pxPerMm;
  for (let py = 0; py < raster.height; py++)
    for (let px = 0; px < raster.width; px++) {
      const u = raster.windowMm[0] + (px + 0.5) / s;
      const v = raster.windowMm[1] + (py + 0.5) / s;
      if (!inside(part.rectMm, u, v)) continue;
      const g = grain(figure, part, u, v);
      const i = (py * raster.width + px) * 3;
      for (let k = 0; k < 3; k++) raster.data[i + k] = gain[k]! * Math.exp(channelGain[k]! * g);
    }
};

/** Paints the moulding round a panel: the side under the light is bright, the one that faces down is dark. */
const paintMoulding = (raster: Raster, figure: Figure, panel: ColouredPart): void => {
  const [x, y, w, h] = panel.rectMm;
  const m = mouldingMm;
  const s = raster.pxPerMm;
  for (let py = 0; py < raster.height; py++)
    for (let px = 0; px < raster.width; px++) {
      const u = raster.windowMm[0] + (px + 0.5) / s;
      const v = raster.windowMm[1] + (py + 0.5) / s;
      if (!inside([x - m, y - m, w + 2 * m, h + 2 * m], u, v) || inside(panel.rectMm, u, v)) continue;
      const depths = [v - (y - m), x + w + m - u, y + h + m - v, u - (x - m)];
      const side = depths.indexOf(Math.min(...depths));
      const depth = depths[side]! / m;
      const bend = Math.sin(depth * Math.PI * 2);
      const facing = [-1, 0.35, 1, -0.35][side]!;
      const level =
        1 +
        0.17 * facing * (0.55 + 0.45 * bend) -
        (0.34 * Math.max(0, depth - 0.9)) / 0.1 -
        (0.2 * Math.max(0, 0.06 - depth)) / 0.06;
      const g = side % 2 === 1 ? figure(u, v, panel.seed + side) : figure(v, u, panel.seed + side);
      const i = (py * raster.width + px) * 3;
      for (let k = 0; k < 3; k++) raster.data[i + k] = panel.target[k]! * level * Math.exp(channelGain[k]! * g);
    }
};

/** Thin dark lines where a stile meets a rail or a rail a muntin. */
const paintJoints = (raster: Raster, parts: readonly ColouredPart[]): void => {
  for (const { kind, rectMm } of parts) {
    if (kind !== "rail" && kind !== "muntin") continue;
    const [x, y, w, h] = rectMm;
    const lines: RectMm[] =
      kind === "rail"
        ? [
            [x - 0.2, y, 0.4, h],
            [x + w - 0.2, y, 0.4, h],
          ]
        : [
            [x, y - 0.2, w, 0.4],
            [x, y + h - 0.2, w, 0.4],
          ];
    for (const line of lines) shade(raster, line, 0.72);
  }
};

const shade = (raster: Raster, rectMm: RectMm, level: number): void => {
  const s = raster.pxPerMm;
  const [left, top] = [(rectMm[0] - raster.windowMm[0]) * s, (rectMm[1] - raster.windowMm[1]) * s];
  const [right, bottom] = [left + rectMm[2] * s, top + rectMm[3] * s];
  for (let y = Math.max(0, Math.floor(top)); y < Math.min(raster.height, Math.ceil(bottom)); y++)
    for (let x = Math.max(0, Math.floor(left)); x < Math.min(raster.width, Math.ceil(right)); x++) {
      const cover = (Math.min(x + 1, right) - Math.max(x, left)) * (Math.min(y + 1, bottom) - Math.max(y, top));
      const i = (y * raster.width + x) * 3;
      for (let k = 0; k < 3; k++) raster.data[i + k]! *= 1 - cover * (1 - level);
    }
};

/** The clean face, or a window of it, without label and marks. */
export const paintFace = (
  leaf: DemoLeaf,
  face: FaceName,
  figure: Figure,
  pxPerMm: number,
  windowMm: RectMm,
): Raster => {
  const parts = colouredParts(leaf, face);
  const raster = blankRaster(windowMm, pxPerMm, [0, 0, 0]);
  for (const part of parts) paintPart(raster, figure, part);
  for (const part of parts) if (part.kind === "panel") paintMoulding(raster, figure, part);
  paintJoints(raster, parts);
  return raster;
};

/** Marks that are on the face on a day, painted over it. */
export const paintMarks = (raster: Raster, leaf: DemoLeaf, face: FaceName, taken: string): void => {
  for (const mark of leaf.faces[face].marks)
    if ((mark.from === undefined || taken >= mark.from) && (mark.until === undefined || taken < mark.until))
      paintMark(raster, mark);
};

/** True colour of every part of a clean face: Lab under D65 of the mean of linear light over its rectangle. */
export const truePartColours = (raster: Raster, leaf: DemoLeaf, face: FaceName) =>
  colouredParts(leaf, face).map(({ part, kind, grain, rectMm }) => ({
    part,
    kind,
    grain,
    rectMm,
    lab: lab65OfRgb(meanOver(raster, rectMm)),
  }));
