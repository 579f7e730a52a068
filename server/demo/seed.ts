import { copyFile, rm, stat } from "node:fs/promises";
import { basename, join } from "node:path";
import type { Delivery } from "../contract/delivery.ts";
import type { DeliveryStore, Site } from "../site.ts";
import { sha256OfFile } from "../store/disk.ts";
import { addLeaf } from "../use-cases/add-leaf.ts";
import { countLine } from "../use-cases/count-line.ts";
import { newDelivery } from "../use-cases/create-delivery.ts";
import { decideLeaf } from "../use-cases/decide-leaf.ts";
import { logMark } from "../use-cases/log-mark.ts";
import { logReading } from "../use-cases/log-reading.ts";
import { logShape } from "../use-cases/log-shape.ts";
import { takeInPhoto } from "../use-cases/take-in-photo.ts";
import { unwrapLeaf } from "../use-cases/unwrap-leaf.ts";
import {
  counted,
  decisions,
  demoId,
  demoJob,
  demoTerms,
  identities,
  joiner,
  marks,
  office,
  pairLines,
  shapes,
  storeReadings,
} from "./brannoch-quay.ts";
import { readSampleJob, type SampleJob } from "./sample-job.ts";

/** The same site with its clock stopped where the story is. */
const at = (site: Site, time: string): Site => ({ ...site, now: () => time });

/** All doors of the demo open into the second space and are told as seen from there. */
const withHinges = (schedule: string): string => schedule.replace(/,(left|right),/g, ',"$1 from B, opens to B",');

const lineId = ({ line }: SampleJob["leaves"][number]): string | null => (line === null ? null : `L${line}`);

/** The delivery as it begins: with the parts of the sample leaves as they were drawn, and the line that was ordered in pairs. */
const beginning = (job: Awaited<ReturnType<typeof readSampleJob>>): Delivery => {
  const order = { job: demoJob, terms: demoTerms, order: job.order, schedule: withHinges(job.schedule) };
  const delivery = newDelivery(demoId, order);
  const drawn = (pattern: Delivery["patterns"][number]) =>
    job.leaves.find((leaf) => leaf.width_mm === pattern.widthMm && leaf.height_mm === pattern.heightMm);
  return {
    ...delivery,
    lines: delivery.lines.map((line) => ({ ...line, leavesPerUnit: pairLines.includes(line.id) ? 2 : 1 })),
    patterns: delivery.patterns.map((pattern) => ({
      ...pattern,
      parts:
        drawn(pattern)?.parts.map(({ part, kind, grain, rect_mm }) => ({ name: part, kind, grain, rectMm: rect_mm })) ??
        pattern.parts,
    })),
  };
};

const addLeaves = async (site: Site, { patterns }: Delivery, job: SampleJob): Promise<void> => {
  for (const leaf of job.leaves.filter(({ line }) => line !== null)) {
    const pattern =
      patterns.find(({ widthMm, heightMm }) => widthMm === leaf.width_mm && heightMm === leaf.height_mm)?.id ?? "";
    const identity = identities[leaf.id] ?? "as-ordered";
    await addLeaf(site, demoId, {
      by: joiner,
      leaf: { code: leaf.id, line: lineId(leaf), pattern, identity, replaces: null },
    });
  }
};

/** Each leaf was unwrapped at its first photo. */
const unwrapLeaves = async (site: Site, job: SampleJob): Promise<void> => {
  for (const leaf of job.leaves.filter(({ line }) => line !== null)) {
    const first = job.photos.find(({ shows }) => shows.some((shown) => shown.leaf === leaf.id));
    if (first) await unwrapLeaf(at(site, first.taken), demoId, leaf.id, { by: joiner, at: first.taken });
  }
};

const takeInPhotos = async (
  site: Site,
  store: DeliveryStore,
  folder: string,
  job: SampleJob,
): Promise<Map<string, string>> => {
  const ids = new Map<string, string>();
  for (const { file, kind, shows, taken } of job.photos) {
    const path = join(store.temporaryFolder, basename(file));
    await copyFile(join(folder, file), path);
    const sha256 = await sha256OfFile(path);
    const { size } = await stat(path);
    const filed = { kind, note: "", shows: shows.map((shown) => ({ ...shown, corners: null })) };
    const about = { by: joiner, sha256, name: basename(file), ...filed };
    await takeInPhoto(at(site, taken), demoId, about, { path, bytes: size, sha256 });
    await rm(path, { force: true });
    ids.set(basename(file), sha256);
  }
  return ids;
};

const enterFindings = async (site: Site, photos: ReadonlyMap<string, string>): Promise<void> => {
  for (const { leaf, at: time, photo, ...mark } of marks)
    await logMark(at(site, time), demoId, leaf, { by: joiner, mark: { ...mark, photo: photos.get(photo) ?? null } });
  for (const { leaf, ...reading } of shapes)
    await logShape(at(site, reading.at), demoId, leaf, { by: joiner, reading });
  for (const { leaf, at: time, ...decision } of decisions)
    await decideLeaf(at(site, time), demoId, leaf, { by: office, decision });
  for (const reading of storeReadings) await logReading(at(site, reading.at), demoId, { by: joiner, reading });
};

/**
 * Fills an empty store with the demo delivery, through the same use cases that the screens call, so that it obeys every rule.
 * Its photos are the sample images in `folder`. Does nothing when the store holds a delivery already.
 */
export const seedDemo = async (site: Site, folder: string): Promise<void> => {
  if (site.store.list().length > 0) return;
  const job = await readSampleJob(folder);
  const delivery = beginning(job);
  const store = await at(site, demoJob.deliveredAt).store.create(office, delivery);
  for (const [line, count] of Object.entries(counted))
    await countLine(site, demoId, line, { by: joiner, counted: count });
  await addLeaves(site, delivery, job);
  await unwrapLeaves(site, job);
  await enterFindings(site, await takeInPhotos(site, store, folder, job));
};
