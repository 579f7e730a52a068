import type { Reply } from "../contract/calls.ts";
import type { PhotoState } from "../contract/photo.ts";
import { chartChoices, lab65OfChart } from "../rules/chart-editions.ts";
import { swatch } from "../rules/swatch.ts";
import type { Site } from "../site.ts";

const failsItsChart = (state: PhotoState): boolean =>
  state.kind === "retake" && state.gates.some(({ gate, passed }) => gate === "wrong-chart" && !passed);

/** The editions of the chart to choose from, with their values, and how the photos stand to the chosen one. */
export const viewCharts = (site: Site, deliveryId: string): Reply<"charts"> => {
  const delivery = site.store.open(deliveryId).read();
  const measured = site.measuring.measured(deliveryId);
  const { chosen, all } = chartChoices(delivery);
  const states = delivery.photos.map(({ id }) => measured.state(id));
  return {
    chosen: chosen.id,
    seq: site.store.open(deliveryId).head().seq,
    editions: all.map((choice) => {
      const seen = lab65OfChart(choice);
      return {
        id: choice.id,
        title: choice.title,
        enteredBy: choice.enteredBy,
        white: choice.white,
        patches: choice.lab.map(([l, a, b], i) => ({ lab: [l, a, b], swatch: swatch(seen[i] ?? [l, a, b]) })),
      };
    }),
    photos: {
      measured: states.filter((state) => state.kind === "measured" && state.references.includes(chosen.title)).length,
      sentBack: states.filter(failsItsChart).length,
    },
  };
};
