import type { Reply, Signed } from "../contract/calls.ts";
import type { Delivery } from "../contract/delivery.ts";
import { Refusal } from "../problem.ts";
import { chartChoices, usualChart } from "../rules/chart-editions.ts";
import type { Site } from "../site.ts";
import { overwrite } from "./overwrite.ts";

/** Says which edition of the chart stands in the photos; all colours are solved anew by its values. */
export const chooseChart = async (
  site: Site,
  deliveryId: string,
  body: Signed<"chooseChart">,
): Promise<Reply<"chooseChart">> => {
  const { chart } = body;
  const { all } = chartChoices(site.store.open(deliveryId).read());
  const choice = all.find(({ id }) => id === chart);
  if (!choice) throw new Refusal(`There is no chart ${chart} in this delivery. Enter its values first.`, 404);
  const what = `Chose the ${choice.title}`;
  const thing = {
    what: "which chart stands in the photos",
    leaf: null,
    read: (delivery: Delivery) => delivery.charts?.chosen ?? usualChart,
    mine: chart,
    says: (value: string) => all.find(({ id }) => id === value)?.title ?? value,
  };
  const chosen = await overwrite(
    site,
    deliveryId,
    { call: "chooseChart", params: {}, body },
    thing,
    what,
    (delivery) => {
      delivery.charts ??= { own: [], chosen: usualChart };
      delivery.charts.chosen = chart;
    },
  );
  site.measuring.wake(deliveryId);
  return chosen;
};
