import type { ReferenceSample } from "./photo-sample.ts";

/** Name of the patch that samples the printed card's window. */
export const windowPatch = "window";

/** Light of an 18 % grey card over that of office paper (80 to 90 %): a fifth, with room for flare and for both to vary. */
const greyOverPaper = { from: 0.14, to: 0.32 } as const;

/** How far a channel's ratio to paper may lie from the mean of the three: a grey card is neutral, office paper nearly so. */
const neutralWithin = 0.15;

/** Texture of an even card; a chart or a finger in the window is rougher. */
const evenWithin = 0.06;

/**
 * Tells whether a grey card was clipped into the window of a printed card: even, neutral, and a fifth as light as the
 * sheet's own paper. Gives the card without its window, and the grey card as a reference of its own under `greyId`.
 */
export const splitWindow = (card: ReferenceSample, greyId: string): ReferenceSample[] => {
  const window = card.patches.find(({ name }) => name === windowPatch);
  const sheet = { ...card, patches: card.patches.filter((patch) => patch !== window) };
  const paper = sheet.patches.filter(({ name, lost }) => name.startsWith("paper") && lost < 0.1);
  if (!window || paper.length === 0) return [sheet];
  const ratios = window.rgb.map(
    (light, k) => light / (paper.reduce((sum, { rgb }) => sum + (rgb[k] ?? 0), 0) / paper.length),
  );
  const mean = ratios.reduce((sum, ratio) => sum + ratio, 0) / 3;
  const neutral = ratios.every((ratio) => Math.abs(ratio / mean - 1) < neutralWithin);
  const isGrey = mean > greyOverPaper.from && mean < greyOverPaper.to && neutral && window.spread < evenWithin;
  if (!isGrey) return [sheet];
  return [sheet, { kind: "grey", id: greyId, patches: [{ ...window, name: "grey" }] }];
};
