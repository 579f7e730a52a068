import { Refusal } from "../problem.ts";
import type { DeliveryStore, Site } from "../site.ts";

const issued = (site: Site, deliveryId: string, number: string): { store: DeliveryStore; number: number } => {
  const store = site.store.open(deliveryId);
  const record = store.read().records.find((one) => String(one.number) === number);
  if (!record) throw new Refusal("There is no such record.", 404);
  return { store, number: record.number };
};

/** The PDF of an issued record, as it was issued. */
export const issuedPdf = (site: Site, deliveryId: string, of: string): Promise<Buffer> => {
  const { store, number } = issued(site, deliveryId, of);
  return store.records.pdf(number);
};

/** The canonical JSON of an issued record, as it was issued. */
export const issuedJson = (site: Site, deliveryId: string, of: string): Promise<string> => {
  const { store, number } = issued(site, deliveryId, of);
  return store.records.json(number);
};
