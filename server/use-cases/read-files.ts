import type { OrderLine } from "../contract/delivery.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";
import { readOrder } from "./read-order.ts";
import { readSchedule, type Schedule } from "./read-schedule.ts";

/** A CSV file to read: an order, or a door schedule with the lines of the order that it belongs to. */
export type FileToRead =
  | { readonly file: "order"; readonly csv: string }
  | { readonly file: "schedule"; readonly csv: string; readonly lines: readonly OrderLine[] };

type Order = ReturnType<typeof readOrder>;

/** What a file held, or why it was refused, as plain data that can come out of a child process. */
export type FileRead =
  | { readonly kind: "read"; readonly held: Order | Schedule }
  | { readonly kind: "refused"; readonly says: string; readonly status: number; readonly faults: Refusal["faults"] };

/** Reads a file. One of 2 MB takes a tenth of a second and is better read in a child process. */
export const readFileText = (reading: FileToRead): FileRead => {
  try {
    const held = reading.file === "order" ? readOrder(reading.csv) : readSchedule(reading.csv, reading.lines);
    return { kind: "read", held };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { kind: "refused", says: error.message, status: error.status, faults: error.faults };
  }
};

const heldBy = async (site: Site, reading: FileToRead): Promise<Order | Schedule> => {
  const read = await site.readFile(reading);
  if (read.kind === "refused") throw new Refusal(read.says, read.status, read.faults);
  return read.held;
};

/** The lines and patterns of an order. Refused with every fault of the file named. */
export const orderIn = async (site: Site, csv: string): Promise<Order> =>
  (await heldBy(site, { file: "order", csv })) as Order;

/** What a door schedule holds, by the lines of its order. Refused with every fault of the file named. */
export const scheduleIn = async (site: Site, csv: string, lines: readonly OrderLine[]): Promise<Schedule> =>
  (await heldBy(site, { file: "schedule", csv, lines })) as Schedule;
