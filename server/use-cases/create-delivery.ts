import type { Body, Reply, Signed } from "../contract/calls.ts";
import type { Delivery } from "../contract/delivery.ts";
import type { Site } from "../site.ts";
import { readOrder } from "./read-order.ts";
import { readSchedule } from "./read-schedule.ts";

/** The document a delivery begins with. Throws a Refusal that names every fault of the two files. */
export const newDelivery = (id: string, { job, terms, order, schedule }: Body<"createDelivery">): Delivery => {
  const { lines, patterns } = readOrder(order);
  const read = readSchedule(schedule, lines);
  const known = new Set(patterns.map((pattern) => pattern.id));
  return {
    version: 2,
    id,
    job,
    terms,
    patterns: [...patterns, ...read.patterns.filter((pattern) => !known.has(pattern.id))],
    lines,
    spaces: read.spaces,
    openings: read.openings,
    leaves: read.existing,
    photos: [],
    marks: [],
    readings: [],
    allotment: { locks: [], bans: [], plan: [], plannedAt: null, figures: null },
    records: [],
    conflicts: [],
  };
};

const idFor = (site: Site, name: string): string => {
  const plain = name
    .toLowerCase()
    .replace(/[^a-z0-9]/g, "")
    .slice(0, 24);
  const taken = plain.length < 3 || site.store.list().includes(plain);
  return taken ? `${plain}${site.newId().slice(-8).toLowerCase()}` : plain;
};

/** Begins a delivery from the order, the door schedule and the supplier's terms. */
export const createDelivery = async (site: Site, body: Signed<"createDelivery">): Promise<Reply<"createDelivery">> => {
  const { id } = await site.store.create(body.by, newDelivery(idFor(site, body.job.name), body));
  return { id };
};
