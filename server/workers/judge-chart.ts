import { judge } from "../../analysis/intake/gate-limits.ts";
import type { PhotoSample } from "../../analysis/sample/photo-sample.ts";
import { editionJudge } from "../../analysis/solve/chart-edition.ts";
import type { Gate } from "../contract/photo.ts";
import type { SolveRequest } from "./solved.ts";

/** Tells the gate at which a photo's chart fails: another known edition fits it clearly better, or none fits; null when it passes. */
export const chartJudge = ({
  chart,
  otherCharts,
}: Pick<SolveRequest, "chart" | "otherCharts">): ((photo: PhotoSample) => Gate | null) => {
  const fitOf = editionJudge(chart, otherCharts);
  return ({ references }) => {
    for (const reference of references) {
      const fit = reference.kind === "chart" ? fitOf(reference) : null;
      if (!fit) continue;
      const rather = fit.other && judge("wrong-chart", fit.other.logOdds);
      if (fit.other && rather && !rather.passed)
        return {
          ...rather,
          advice: `The chart in the picture is rather the ${fit.other.name} than the ${chart.name}. ${rather.advice}`,
        };
      const far = judge("chart-misfit", fit.misfit);
      if (!far.passed) return far;
    }
    return null;
  };
};
