import type { OrderLine } from "../contract/delivery.ts";
import type { Leaf, Pattern } from "../contract/leaf.ts";

/** Lowest and highest density of a solid engineered leaf, kg/m³. Common practice, no source; the label's mass wins. */
const densities = [450, 640] as const;

/** Above this mass a lift by one person is to be assessed (UK HSE guideline figure at best posture; no safe limit). */
const oneLiftKg = 25;

/** Estimated mass of a leaf in kg, from the lightest to the heaviest usual build. */
export const massRange = (pattern: Pattern, thicknessMm: number): readonly [number, number] => {
  const volume = (pattern.widthMm * pattern.heightMm * thicknessMm) / 1e9;
  return [Math.round(volume * densities[0]), Math.round(volume * densities[1])];
};

/**
 * What to mind before a leaf is lifted, opened or trimmed, a sentence each, the weightiest first. General: the maker's
 * sheet, the local code and certified practice come first.
 */
export const cautions = (leaf: Leaf, pattern: Pattern, line: OrderLine | null): string[] => {
  const thicknessMm = leaf.thicknessMm ?? line?.thicknessMm ?? null;
  const range = thicknessMm === null ? null : massRange(pattern, thicknessMm);
  const heaviest = leaf.massKg ?? range?.[1] ?? null;
  const mass = leaf.massKg !== null ? `${leaf.massKg} kg by its label` : range && `about ${range[0]} to ${range[1]} kg`;
  const glazed = pattern.name.includes("glazed");
  return [
    mass &&
      `${mass}: ${heaviest !== null && heaviest > oneLiftKg ? "two people lift it" : "one person can lift it with care"}.`,
    line?.fireRating &&
      `${line.fireRating}: nothing off the top, sides and bottom only as this leaf's own sheet allows, the label stays on.`,
    glazed && "Glass: gloves, carry it upright, look for the safety mark.",
  ].filter((sentence): sentence is string => typeof sentence === "string");
};
