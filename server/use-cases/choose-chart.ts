import type { Body, Reply } from "../contract/calls.ts";
import { Refusal } from "../problem.ts";
import { chartChoices, usualChart } from "../rules/chart-editions.ts";
import type { Site } from "../site.ts";

/** Says which edition of the chart stands in the photos; all colours are solved anew by its values. */
export const chooseChart = async (
  site: Site,
  deliveryId: string,
  { by, chart }: Body<"chooseChart">,
): Promise<Reply<"chooseChart">> => {
  const store = site.store.open(deliveryId);
  const choice = chartChoices(store.read()).all.find(({ id }) => id === chart);
  if (!choice) throw new Refusal(`There is no chart ${chart} in this delivery. Enter its values first.`, 404);
  const { seq } = await store.change(by, `Chose the ${choice.title}`, (delivery) => {
    delivery.charts ??= { own: [], chosen: usualChart };
    delivery.charts.chosen = chart;
  });
  site.measuring.wake(deliveryId);
  return { seq };
};
