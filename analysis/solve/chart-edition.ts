import type { Lab65 } from "../colour/lab.ts";
import type { ReferenceSample } from "../sample/photo-sample.ts";
import { type ChartPatch, fitChartCamera } from "./chart-camera.ts";
import { editionEvidence, editionSpectra } from "./edition-evidence.ts";

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
    number: Number(name.replace("patch-", "")) - 1,
    rgb,
    spread,
    at: [at[0] - middle[0]!, at[1] - middle[1]!] as const,
  }));
};

/**
 * Judges charts in photos: how far each lies from the edition it is said to be, and how much likelier another edition is. Each is given
 * the camera that suits it best, then weighed by its spectra. Null when too little of a chart is seen.
 */
export const editionJudge = (
  chosen: ChartEdition,
  others: readonly ChartEdition[],
): ((chart: ReferenceSample) => EditionJudgement | null) => {
  const [own, ...known] = [chosen, ...others].map((edition) => ({ ...edition, spectra: editionSpectra(edition.lab) }));
  return (chart) => {
    const seen = patchesOf(chart);
    if (!own || seen.length < fewestPatches) return null;
    const fitOf = ({ lab, spectra }: typeof own) => {
      const { squares, light } = fitChartCamera(
        seen.map(({ number, ...patch }): ChartPatch => ({ ...patch, lab: lab[number]! })),
      );
      const numbers = seen.map(({ number }) => number);
      return { squares, evidence: editionEvidence(spectra, numbers, light) };
    };
    const { squares, evidence } = fitOf(own);
    const [best] = known
      .map((edition) => ({ name: edition.name, logOdds: fitOf(edition).evidence - evidence }))
      .toSorted((one, other) => other.logOdds - one.logOdds);
    return { misfit: Math.sqrt(squares / seen.length), other: best ?? null };
  };
};
