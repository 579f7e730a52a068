import { patchMaterial } from "./chart-patch.ts";
import { chartBefore2014, chartSince2014 } from "./chart-values.ts";
import { type Lab, lab65OfRgb, rgbOfLab50, rgbOfLab65 } from "./colour.ts";
import { write } from "./letters.ts";
import type { Material } from "./material.ts";
import { paintQr } from "./qr.ts";
import { blankRaster, fillRect, type Raster, type RectMm, strokeRect } from "./raster.ts";

/** What a joiner may hold into the frame: the card printed from the tool (with a grey card clipped in), a chart, a grey card. */
export type ReferenceKind = "card" | "card-with-grey" | "chart" | "other-chart" | "grey";

interface Patch {
  readonly name: string;
  readonly rectMm: RectMm;
  readonly lab: Lab;
  /** What it is made of where that is not paper and ink of the picture. */
  readonly material?: Material;
}

/** A flat reference: its picture, and the patches with the colours they were painted in (Lab, D65). Patches of a material of their own are not in the picture. */
export interface Reference {
  readonly kind: "card" | "chart" | "grey";
  readonly sizeMm: readonly [width: number, height: number];
  readonly raster: Raster;
  readonly patches: readonly Patch[];
}

export const cardId = "7K3QD";

/** The A4 card as one office printer made it: paper and greys are slightly coloured. Invented. */
const cardInk = {
  paper: [94, 0.5, -2],
  grey25: [78.2, 0.9, -2.9],
  grey50: [60.1, 1.3, -3.4],
  grey75: [41.6, 1.1, -2.4],
  black: [18.7, 0.6, 0.4],
} as const satisfies Record<string, Lab>;

const cardCodes = [
  [12, 12],
  [144, 12],
  [144, 231],
  [12, 231],
] as const;
const cardCodeMm = 54;
const cardWindow: RectMm = [56, 85, 98, 127];
/** 18 % of a perfect white, no tint. */
const greyLab: Lab = [49.496, 0, 0];

const cardPatches: readonly Patch[] = [
  { name: "paper-left", rectMm: [12, 85.5, 36, 36], lab: cardInk.paper },
  { name: "grey-25", rectMm: [12, 130.5, 36, 36], lab: cardInk.grey25 },
  { name: "grey-50", rectMm: [12, 175.5, 36, 36], lab: cardInk.grey50 },
  { name: "grey-75", rectMm: [162, 85.5, 36, 36], lab: cardInk.grey75 },
  { name: "black", rectMm: [162, 130.5, 36, 36], lab: cardInk.black },
  { name: "paper-right", rectMm: [162, 175.5, 36, 36], lab: cardInk.paper },
];

const printedCard = (withGrey: boolean): Reference => {
  const black = rgbOfLab65(cardInk.black);
  const raster = blankRaster([0, 0, 210, 297], 4, rgbOfLab65(cardInk.paper));
  cardCodes.forEach(([x, y], i) => {
    paintQr(raster, `LL/${cardId}/${i + 1}`, x, y, cardCodeMm, black);
  });
  for (const { name, rectMm, lab } of cardPatches) {
    fillRect(raster, rectMm, rgbOfLab65(lab));
    if (name.startsWith("paper")) strokeRect(raster, rectMm, 0.5, black);
  }
  strokeRect(raster, cardWindow, 0.3, black);
  if (withGrey) fillRect(raster, cardWindow, rgbOfLab65(greyLab));
  write(raster, "LEAF", 81, 22, 14, black);
  write(raster, "LEDGER", 74, 44, 11, black);
  write(raster, cardId, 76, 246, 13, black);
  const grey: Patch = { name: "grey-card", rectMm: cardWindow, lab: greyLab };
  return { kind: "card", sizeMm: [210, 297], raster, patches: withGrey ? [...cardPatches, grey] : cardPatches };
};

const chart = (labs: readonly Lab[]): Reference => {
  const raster = blankRaster([0, 0, 278, 190], 4, rgbOfLab65([14, 0, 0]));
  const patches = labs.map((stated, i): Patch => {
    const rectMm: RectMm = [10 + 44 * (i % 6), 10 + 44 * Math.floor(i / 6), 38, 38];
    const lab = lab65OfRgb(rgbOfLab50(stated));
    return { name: `patch-${i + 1}`, rectMm, lab, material: patchMaterial(i, stated) };
  });
  return { kind: "chart", sizeMm: [278, 190], raster, patches };
};

const greyCard = (): Reference => {
  const rectMm: RectMm = [0, 0, 200, 250];
  const raster = blankRaster(rectMm, 2, rgbOfLab65(greyLab));
  return { kind: "grey", sizeMm: [200, 250], raster, patches: [{ name: "grey-card", rectMm, lab: greyLab }] };
};

/** The reference as it lies in the frame, painted at 2 to 4 px a mm. */
export const makeReference = (kind: ReferenceKind): Reference => {
  switch (kind) {
    case "card":
      return printedCard(false);
    case "card-with-grey":
      return printedCard(true);
    case "chart":
      return chart(chartBefore2014);
    case "other-chart":
      return chart(chartSince2014);
    case "grey":
      return greyCard();
  }
};
