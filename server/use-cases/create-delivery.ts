import type { Body, Reply, Signed } from "../contract/calls.ts";
import type { Delivery } from "../contract/delivery.ts";
import type { Site } from "../site.ts";
import { orderIn, scheduleIn } from "./read-files.ts";
import { readOrder } from "./read-order.ts";
import { readSchedule, type Schedule } from "./read-schedule.ts";

type Begun = Body<"createDelivery">;

const deliveryOf = (
  id: string,
  { job, terms }: Pick<Begun, "job" | "terms">,
  { lines, patterns }: ReturnType<typeof readOrder>,
  read: Schedule,
): Delivery => {
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

/** The document a delivery begins with. Throws a Refusal that names every fault of the two files. */
export const newDelivery = (id: string, begun: Begun): Delivery => {
  const order = readOrder(begun.order);
  return deliveryOf(id, begun, order, readSchedule(begun.schedule, order.lines));
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
  const order = await orderIn(site, body.order);
  const schedule = await scheduleIn(site, body.schedule, order.lines);
  const { id } = await site.store.create(body.by, deliveryOf(idFor(site, body.job.name), body, order, schedule));
  return { id };
};
