import type { Reply, Signed } from "../contract/calls.ts";
import { Refusal } from "../problem.ts";
import { usualChart } from "../rules/chart-editions.ts";
import type { Site } from "../site.ts";
import { readChart } from "./read-chart.ts";

const mostCharts = 50;

/** Takes in the values of a chart and measures the delivery's photos by them. Refused with every fault of the text named. */
export const addChart = async (
  site: Site,
  deliveryId: string,
  { by, name, edition, white, text }: Signed<"addChart">,
): Promise<Reply<"addChart">> => {
  const values = readChart(text, white);
  const { seq } = await site.store.open(deliveryId).change(by, `Took in the values of ${name}`, (delivery) => {
    delivery.charts ??= { own: [], chosen: usualChart };
    const { own } = delivery.charts;
    if (own.length >= mostCharts) throw new Refusal(`There are ${mostCharts} charts already: choose one of them.`);
    const id = `CHART-${own.length + 1}`;
    own.push({ id, name, edition, ...values, by: by.name, at: site.now() });
    delivery.charts.chosen = id;
  });
  site.measuring.wake(deliveryId);
  return { seq };
};
