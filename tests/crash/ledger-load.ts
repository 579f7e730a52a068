import { setTimeout as wait } from "node:timers/promises";
import { openStore } from "../../server/store/store.ts";
import type { BuiltServer } from "../support/built-server.ts";
import { aLeaf, decided } from "../support/leaves.ts";
import { brownJpeg, withJpegSegment } from "../support/photo-files.ts";
import { by, smallDelivery } from "../support/small-delivery.ts";
import { testNow, writeDelivery, writtenId } from "../support/written-delivery.ts";
import { sendInParts } from "./send-in-parts.ts";

/** What a client was told is kept: the only judge of what may not be lost. */
export interface Acked {
  readonly photos: Set<string>;
  /** Places of readings; each reading has one of its own. */
  readonly readings: Set<string>;
  /** Numbers of records. */
  readonly records: Set<number>;
  /** Deliveries that were begun. */
  readonly deliveries: Set<string>;
}

export const nothingAcked = (): Acked => ({
  photos: new Set(),
  readings: new Set(),
  records: new Set(),
  deliveries: new Set(),
});

/** What is acknowledged by now, for when more may come. */
export const asOfNow = ({ photos, readings, records, deliveries }: Acked): Acked => ({
  photos: new Set(photos),
  readings: new Set(readings),
  records: new Set(records),
  deliveries: new Set(deliveries),
});

export const countOf = ({ photos, readings, records, deliveries }: Acked): number =>
  photos.size + readings.size + records.size + deliveries.size;

/** Random numbers from 0 to 1 that are the same for the same seed (mulberry32, public domain). */
export const randomOf = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
};

/** A data folder with one delivery whose leaf W01 is accepted, so that records of it can be issued. */
export const writeDecided = async (data: string): Promise<void> => {
  await writeDelivery(data, 1);
  const store = await openStore(data, testNow);
  await store.open(writtenId).change(by, "Leaf W01", (delivery) => {
    delivery.leaves.push(aLeaf({ code: "W01", pattern: delivery.patterns[0]?.id ?? "", decision: decided("accept") }));
  });
  await store.close();
};

let made = 0;
const plainJpeg = await brownJpeg();

/** A photo of 10 kB that no other is equal to. */
export const anotherPhoto = (): Buffer =>
  withJpegSegment(plainJpeg, 0xfe, Buffer.from(`photo ${process.pid} ${Date.now()} ${made++}`));

/** One thing that a client does; what was acknowledged is noted. Throws when the connection breaks. Gives the answer's status. */
export type Activity = (server: BuiltServer, acked: Acked) => Promise<number>;

export const sendPhoto: Activity = async (server, { photos }) => {
  const { status, body } = await server.upload(writtenId, anotherPhoto());
  if (status === 200) photos.add(body.id);
  return status;
};

export const sendPhotoInParts: Activity = async (server, { photos }) => {
  const { status, body } = await sendInParts(server, writtenId, anotherPhoto());
  if (status === 200) photos.add(body.id);
  return status;
};

export const enterReading: Activity = async (server, { readings }) => {
  const place = `place ${process.pid} ${made++}`;
  const reading = { at: testNow(), temperatureC: 20, humidityPercent: 50, place, instrument: "", event: "" };
  const { status } = await server.call("logReading", { delivery: writtenId }, { reading });
  if (status === 200) readings.add(place);
  return status;
};

/** Begins a delivery, not too often: each is a folder. */
export const beginDelivery: Activity = async (server, { deliveries }) => {
  const { status, body } = await server.call("createDelivery", {}, smallDelivery);
  if (status === 200) deliveries.add(body.id);
  await wait(200);
  return status;
};

/** Issues a record of leaf W01, as the revision of the last one; two at a time are refused. */
export const issueRecord: Activity = async (server, { records }) => {
  const issued = (await server.call("document", { delivery: writtenId })).body.records.length as number;
  const wish = { kind: "accept", leaves: ["W01"], revises: issued === 0 ? null : issued };
  const { status, body } = await server.call("issueRecord", { delivery: writtenId }, wish);
  if (status === 200) records.add(body.number);
  return status;
};

/** A load of several clients, each doing one thing after the other until the server is gone. */
export interface Load {
  /** The first acknowledged change. Rejects when none came for half a minute. */
  readonly firstAck: Promise<void>;
  /** All clients are done: their connections broke, or they were told to stop. */
  readonly over: Promise<void>;
  /** Answers that were neither kept nor refused with 409, 429 or 503, which a client is told to expect. */
  readonly odd: readonly number[];
  stop(): void;
}

const expected = [200, 409, 429, 503];

/** Each client does its activity again and again, with a pause between. */
export const startLoad = (server: BuiltServer, activities: readonly Activity[], acked: Acked, pauseMs = 0): Load => {
  const odd: number[] = [];
  let stopped = false;
  let first: () => void = () => undefined;
  const firstAck = new Promise<void>((done, fail) => {
    const late = setTimeout(() => fail(new Error(`nothing was acknowledged\n${server.errors()}`)), 30_000);
    first = () => {
      clearTimeout(late);
      done();
    };
  });
  const client = async (activity: Activity): Promise<void> => {
    while (!stopped) {
      const status = await activity(server, acked);
      if (status === 200) first();
      await wait(status === 200 ? pauseMs : pauseMs + 5);
      if (!expected.includes(status)) odd.push(status);
    }
  };
  const over = Promise.all(activities.map((activity) => client(activity).catch(() => undefined))).then(() => undefined);
  return {
    firstAck,
    over,
    odd,
    stop: () => {
      stopped = true;
    },
  };
};
