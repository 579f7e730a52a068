import { inspectPhotos } from "../use-cases/inspect-photos.ts";
import { tieSentence } from "../use-cases/tie-sentence.ts";
import { progressBar } from "./progress-bar.ts";
import { say } from "./say.ts";

/** Measures a folder of photos without keeping anything. */
export const inspect = async (folder: string, { json }: { readonly json: boolean }): Promise<void> => {
  const result = await inspectPhotos(folder, progressBar("Measuring photos"));
  say(json, result, () =>
    [
      `${result.faces.length} faces measured, ${result.pairs.length} differences, ${result.marks.length} places to look at.`,
      ...(result.cuts.length === 0 ? [] : [`Cuts differ in ${result.cuts.length} pairs of faces; --json names them.`]),
      ...result.refused.map(({ photo, advice }) => `${photo}: ${advice.join(" ")}`),
      ...(result.chart === null ? [] : [`Charts were read by the values of: ${result.chart}.`]),
      ...result.charts.map(
        ({ photo, leftOut }) =>
          `${photo}: each patch of the chart comes out ${(100 * leftOut).toFixed(1)} % from what the others say.`,
      ),
      ...result.untied.map((photos) => `Compares with no other photo: ${photos.join(", ")}.`),
      ...result.ties.map(tieSentence),
    ].join("\n"),
  );
};
