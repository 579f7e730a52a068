import { chart24LabD50, chart24Since2014LabD50 } from "../../analysis/colour/chart24-values.ts";
import { type Lab65, lab65FromLab50 } from "../../analysis/colour/lab.ts";
import type { ChartEdition } from "../../analysis/solve/chart-edition.ts";
import type { Delivery } from "../contract/delivery.ts";

/** A chart to choose: the values as they were given, in the white they were given in. */
export interface ChartChoice {
  readonly id: string;
  readonly title: string;
  readonly enteredBy: string | null;
  readonly white: "D50" | "D65";
  readonly lab: readonly (readonly [number, number, number])[];
}

/** The edition that counts until somebody chooses. */
export const usualChart = "BEFORE-2014";

const before2014: ChartChoice = {
  id: usualChart,
  title: "24-patch chart, made before November 2014",
  enteredBy: null,
  white: "D50",
  lab: chart24LabD50,
};

const since2014: ChartChoice = {
  id: "SINCE-2014",
  title: "24-patch chart, made since November 2014",
  enteredBy: null,
  white: "D50",
  lab: chart24Since2014LabD50,
};

/** Editions that need not be entered. */
export const builtInCharts: readonly ChartChoice[] = [before2014, since2014];

/** Every edition a delivery may choose from; the chosen one is the older built-in until somebody chooses. */
export const chartChoices = ({ charts }: Pick<Delivery, "charts">): { chosen: ChartChoice; all: ChartChoice[] } => {
  const own = (charts?.own ?? []).map(({ id, name, edition, white, lab, by }) => ({
    id,
    title: edition === "" ? name : `${name}, ${edition}`,
    enteredBy: by,
    white,
    lab,
  }));
  const all = [...builtInCharts, ...own];
  return { chosen: all.find(({ id }) => id === charts?.chosen) ?? before2014, all };
};

/** Patches as seen in D65, whatever white they were stated in. */
export const lab65OfChart = ({ white, lab }: Pick<ChartChoice, "white" | "lab">): readonly Lab65[] =>
  white === "D65" ? lab : lab.map((one) => lab65FromLab50(one));

const measuredEdition = (choice: ChartChoice): ChartEdition => ({ name: choice.title, lab: lab65OfChart(choice) });

/** The chart by which photos are measured, and the others it might be. */
export const measuredCharts = (chosen: ChartChoice, all: readonly ChartChoice[]) => ({
  chart: measuredEdition(chosen),
  otherCharts: all.filter((one) => one !== chosen).map(measuredEdition),
});
