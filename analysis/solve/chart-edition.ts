import type { Lab65 } from "../colour/lab.ts";
import type { ReferenceSample } from "../sample/photo-sample.ts";
import { type ChartPatch, chartMisfit, freedomLeft } from "./chart-camera.ts";

/** A 24-patch chart of one edition: the colours of its patches, row by row from the brown one. */
export interface ChartEdition {
  readonly name: string;
  readonly lab: readonly Lab65[];
}

/** How a photo's chart stands to the edition it is said to be. */
export interface EditionJudgement {
  /** Root mean square of what is left between the patches and the edition, CIELAB units. */
  readonly misfit: number;
  /** The other edition that fits best, and the natural logarithm of how much likelier it is (below 0: less likely). */
  readonly other: { readonly name: string; readonly logOdds: number } | null;
}

/** Below this light a channel of a saturated patch is cut off by the photo's gamut: code 13 of 255 or less. */
const leastLight = 0.004;

/** A patch of which more than this was clipped is left out. */
const mostLost = 0.1;

/** Three columns of four: with fewer patches the camera takes most of what they say. */
const fewestPatches = 12;

const patchesOf = ({ patches }: ReferenceSample) => {
  const good = patches.filter(({ rgb, lost }) => lost <= mostLost && Math.min(...rgb) > leastLight);
  const middle = [0, 1].map((k) => good.reduce((sum, { at }) => sum + at[k]!, 0) / good.length);
  return good.map(({ name, rgb, spread, at }) => ({
    index: Number(name.replace("patch-", "")) - 1,
    rgb,
    spread,
    at: [at[0] - middle[0]!, at[1] - middle[1]!] as const,
  }));
};

/**
 * Holds the chart of one photo against the edition it is said to be and against the others. Each edition is given the camera that
 * suits it best; with noise of an unknown size their likelihoods are as their sums of squares to the power of half the
 * numbers left. Null when too little of the chart is seen.
 */
export const judgeEdition = (
  chart: ReferenceSample,
  chosen: ChartEdition,
  others: readonly ChartEdition[],
): EditionJudgement | null => {
  const seen = patchesOf(chart);
  if (seen.length < fewestPatches) return null;
  const misfitOf = ({ lab }: ChartEdition) =>
    chartMisfit(
      seen.flatMap(({ index, ...patch }): ChartPatch[] => (lab[index] ? [{ ...patch, lab: lab[index] }] : [])),
    );
  const own = misfitOf(chosen);
  const logOdds = (edition: ChartEdition) => (freedomLeft(seen.length) / 2) * Math.log(own / misfitOf(edition));
  const [best] = others
    .map((edition) => ({ name: edition.name, logOdds: logOdds(edition) }))
    .toSorted((one, other) => other.logOdds - one.logOdds);
  return { misfit: Math.sqrt(own / seen.length), other: best ?? null };
};
