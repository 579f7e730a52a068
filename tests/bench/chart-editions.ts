/**
 * npx tsx tests/bench/chart-editions.ts [DELIVERIES]: invented photos of a chart, by sensors and lamps drawn at random over the
 * spectrum, held against the edition it is and against the other one. Prints how many of right charts would be sent back, and
 * how many of wrong ones.
 */
import { judge } from "../../analysis/intake/gate-limits.ts";
import { editionJudge } from "../../analysis/solve/chart-edition.ts";
import { builtInCharts, measuredCharts } from "../../server/rules/chart-editions.ts";
import { inventPhotos } from "./invented-photos.ts";

const deliveries = Number(process.argv[2] ?? 40);
const [before, since] = builtInCharts;
if (!before || !since) throw new Error("two editions are needed");

const photos = Array.from({ length: deliveries }, (_, seed) =>
  (["line-ups with chart", "one stand, chart", "mixed"] as const).flatMap(
    (scene) => inventPhotos(scene, "oak", 1000 + seed).photos,
  ),
).flat();
const charts = photos.flatMap(({ references }) => references.filter(({ kind }) => kind === "chart"));

/** The photos show the edition before: chosen, it is right; with the other chosen, it is wrong. */
for (const [says, chosen] of [
  ["the right edition chosen", before],
  ["the wrong edition chosen", since],
] as const) {
  const { chart, otherCharts } = measuredCharts(chosen, builtInCharts);
  const judgeOne = editionJudge(chart, otherCharts);
  const fits = charts.flatMap((one) => judgeOne(one) ?? []);
  const odds = fits.map(({ other }) => other?.logOdds ?? Number.NaN).toSorted((a, b) => a - b);
  const misfits = fits.map(({ misfit }) => misfit).toSorted((a, b) => a - b);
  const back = fits.filter(
    ({ misfit, other }) =>
      !judge("chart-misfit", misfit).passed || (other !== null && !judge("wrong-chart", other.logOdds).passed),
  );
  const at = (values: readonly number[], share: number) =>
    (values[Math.round(share * (values.length - 1))] ?? Number.NaN).toFixed(1);
  console.log(
    `${says}: ${back.length} of ${fits.length} photos sent back; log odds for the other ${at(odds, 0)} to ${at(odds, 1)}, middle ${at(odds, 0.5)}; misfit up to ${at(misfits, 1)}`,
  );
}
