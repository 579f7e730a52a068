import type { Reply, Signed } from "../contract/calls.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";

/** Adds a reading of the store's air. A reading of a time still to come is refused. */
export const logReading = async (
  site: Site,
  deliveryId: string,
  { by, reading }: Signed<"logReading">,
): Promise<Reply<"logReading">> => {
  const minuteMs = 60_000;
  if (Date.parse(reading.at) > Date.parse(site.now()) + minuteMs)
    throw new Refusal("This reading is of a time still to come: check date and time.", 422);
  const what = `Reading ${reading.temperatureC} °C, ${reading.humidityPercent} %`;
  const { seq } = await site.store.open(deliveryId).change(by, what, (delivery) => {
    delivery.readings.push({ id: site.newId(), ...reading, by: by.name });
  });
  return { seq };
};
