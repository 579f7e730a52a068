import { type RepeatReading, repeatPhotos } from "../../analysis/repeat/repeat-readings.ts";
import type { Photo } from "../contract/photo.ts";
import type { Progress } from "../contract/views.ts";
import { limits } from "../limits.ts";
import { Refusal } from "../problem.ts";
import { chartChoices, measuredCharts } from "../rules/chart-editions.ts";
import type { DeliveryStore, FaceRef, Measuring, Store } from "../site.ts";
import type { Look, PhotoMeasurement } from "../workers/measurement.ts";
import type { ProcessPool } from "../workers/process-pool.ts";
import type { Solved, SolveRequest } from "../workers/solved.ts";
import { askedOfPhotos } from "./asked-of-photos.ts";
import { fingerprintOf, layoutOfLeaf, measurementRequest, whyKept } from "./measurement-request.ts";
import { type Outcome, readMeasured } from "./read-measured.ts";

/** A measurement as kept on disk: it holds only for the request it answered. */
interface Kept {
  readonly fingerprint: string;
  readonly measurement: PhotoMeasurement;
  /** Faces looked at closely so far, by leaf and face. */
  readonly looks: Readonly<Record<string, Look>>;
}

/** What is known of one delivery's photos while the server runs. */
interface Desk {
  readonly outcomes: Map<
    string,
    { readonly fingerprint: string; readonly outcome: Outcome; readonly looks: Kept["looks"] }
  >;
  /** What is asked of each photo, as of one line of the journal. */
  asked: { readonly seq: number; readonly fingerprints: ReadonlyMap<string, string> };
  solved: {
    readonly result: Solved | null;
    readonly repeats: readonly RepeatReading[];
    readonly at: string;
    readonly of: string;
  } | null;
  /** Measuring and solving, and the close looks that come after. */
  work: Promise<void>;
  looking: Promise<void>;
  /** Takes up again what the pool could not do at present. */
  again: NodeJS.Timeout | undefined;
}

const nameOf = ({ leaf, face }: FaceRef): string => `${leaf}/${face}`;

/** Photos in the hands of the pool: enough to keep it busy while results are written; the others need no memory. */
const atOnce = 4;

/** A pool whose processes do not start rests for a while: what it was asked waits, and has not failed. */
const isForNow = (error: unknown): boolean => error instanceof Refusal && error.status === 503;

/** A second more than it rests, so as not to come a moment early. */
const againMs = limits.jobs.restMs + 1000;

const requestOf = (delivery: DeliveryStore, photo: Photo) =>
  measurementRequest(delivery.read(), photo, delivery.photos.path(photo.id));

/**
 * Measures in the background what has no measurement yet, then solves all photos of the delivery together. The queue
 * is kept nowhere: it is what the journal lists and the disk has no measurement of.
 */
export const openMeasuring = (store: Store, pool: ProcessPool, now: () => string): Measuring => {
  const desks = new Map<string, Desk>();
  const listeners = new Set<(delivery: string, progress: Progress) => void>();

  const deskOf = (id: string): Desk => {
    const desk = desks.get(id) ?? {
      outcomes: new Map(),
      asked: { seq: -1, fingerprints: new Map() },
      solved: null,
      work: Promise.resolve(),
      looking: Promise.resolve(),
      again: undefined,
    };
    desks.set(id, desk);
    return desk;
  };

  const asked = (id: string): ReadonlyMap<string, string> => {
    const desk = deskOf(id);
    const delivery = store.open(id);
    const { seq } = delivery.head();
    if (desk.asked.seq !== seq) {
      desk.asked = { seq, fingerprints: askedOfPhotos(delivery.read()) };
    }
    return desk.asked.fingerprints;
  };

  const outcomeOf = (id: string, photo: string): Outcome | undefined => {
    const known = deskOf(id).outcomes.get(photo);
    return known?.fingerprint === asked(id).get(photo) ? known?.outcome : undefined;
  };

  const progress = (id: string): Progress => {
    const counts = { waiting: 0, measured: 0, retake: 0, kept: 0, failed: 0 };
    for (const { id: photo } of store.open(id).read().photos) counts[outcomeOf(id, photo)?.kind ?? "waiting"] += 1;
    return { ...counts, solvedAt: deskOf(id).solved?.at ?? null };
  };

  const tell = (id: string) => {
    const state = progress(id);
    for (const listener of listeners) listener(id, state);
  };

  const measureOne = async (delivery: DeliveryStore, photo: Photo): Promise<void> => {
    const request = requestOf(delivery, photo);
    const fingerprint = fingerprintOf(request);
    const kept = (await delivery.measurements.read(photo.id)) as Kept | null;
    const same = kept?.fingerprint === fingerprint ? kept : null;
    const measure = async (): Promise<Outcome> => {
      if (same) return same.measurement;
      if (!request) return { kind: "kept", why: whyKept(photo) };
      const measurement = (await pool.run({ kind: "measure", request })) as PhotoMeasurement;
      // It can be made again: a full disk must not make a good measurement a failed one.
      await delivery.measurements
        .write(photo.id, { fingerprint, measurement, looks: {} } satisfies Kept)
        .catch(() => undefined);
      return measurement;
    };
    const outcome = await measure().catch((error: unknown): Outcome => {
      if (isForNow(error)) throw error;
      return { kind: "failed", why: error instanceof Error ? error.message : String(error) };
    });
    deskOf(delivery.id).outcomes.set(photo.id, { fingerprint, outcome, looks: same?.looks ?? {} });
    tell(delivery.id);
  };

  /** What repeat photos tell apart from the rest. Colours hold without it: a fault here takes nothing from them. */
  const repeatsOf = async (request: SolveRequest): Promise<readonly RepeatReading[]> => {
    const samples = repeatPhotos(request.samples);
    if (samples.length === 0) return [];
    return pool.run({ kind: "repeats", request: { ...request, samples } }).then(
      (readings) => readings as RepeatReading[],
      (error: unknown) => {
        if (isForNow(error)) throw error;
        return [];
      },
    );
  };

  const solve = async (id: string): Promise<void> => {
    const desk = deskOf(id);
    const delivery = store.open(id).read();
    const { photos, terms } = delivery;
    const { toleranceDE00, confidence } = terms;
    const { chosen, all } = chartChoices(delivery);
    const charts = measuredCharts(chosen, all);
    const of = JSON.stringify([[...asked(id).values()], toleranceDE00, confidence, charts]);
    if (desk.solved?.of === of) return;
    const samples = photos.flatMap((photo) => {
      const outcome = outcomeOf(id, photo.id);
      return outcome?.kind === "measured" ? [outcome.sample] : [];
    });
    const request = { samples, ...charts, greyReflectance: 0.18, toleranceDE00, confidence };
    const result = samples.length === 0 ? null : ((await pool.run({ kind: "solve", request })) as Solved);
    const solved = { result, repeats: [], at: now() };
    desk.solved = { ...solved, of: "" }; // repeats that must wait are asked for again
    tell(id);
    const repeats = await repeatsOf(request);
    desk.solved = repeats.length === 0 ? { ...solved, of } : { result, repeats, at: now(), of };
    if (repeats.length > 0) tell(id);
  };

  /** One face looked at closely that was not yet, singles only: a line-up shows too few px a mm. False when none is left. */
  const lookAtNext = async (delivery: DeliveryStore): Promise<boolean> => {
    const { outcomes } = deskOf(delivery.id);
    for (const photo of delivery.read().photos) {
      const outcome = outcomeOf(delivery.id, photo.id);
      const known = outcomes.get(photo.id);
      if (!known || outcome?.kind !== "measured" || outcome.faces.length !== 1) continue;
      const face = outcome.faces.find((one) => !(nameOf(one) in known.looks));
      const layout = face && layoutOfLeaf(delivery.read(), face.leaf);
      if (!face || !layout) continue;
      const { corners, covers } = face;
      const path = delivery.photos.path(photo.id);
      const look = await pool.run({ kind: "look", path, corners, layout, covers }).catch((error: unknown) => {
        if (isForNow(error)) throw error;
        return { grain: [], proposed: [] };
      });
      const looks = { ...known.looks, [nameOf(face)]: look as Look };
      await delivery.measurements.write(photo.id, {
        fingerprint: known.fingerprint,
        measurement: outcome,
        looks,
      } satisfies Kept);
      outcomes.set(photo.id, { ...known, looks });
      return true;
    }
    return false;
  };

  const lookAtAll = async (id: string): Promise<void> => {
    const delivery = store.open(id);
    let looked = false;
    while (await lookAtNext(delivery)) looked = true;
    if (looked) tell(id);
  };

  /** Colours first, then in their shadow the close looks, one at a time. */
  const work = async (id: string): Promise<void> => {
    const delivery = store.open(id);
    for (;;) {
      const waiting = delivery.read().photos.filter((photo) => outcomeOf(id, photo.id) === undefined);
      if (waiting.length === 0) break;
      const rest = waiting.values();
      const oneByOne = async () => {
        for (const photo of rest) await measureOne(delivery, photo);
      };
      const ends = await Promise.allSettled(Array.from({ length: atOnce }, oneByOne));
      for (const end of ends) if (end.status === "rejected") throw end.reason;
    }
    await solve(id);
    const desk = deskOf(id);
    desk.looking = desk.looking.then(() => lookAtAll(id)).catch((error: unknown) => stopped(id, error));
  };

  const wake = (id: string): void => {
    const desk = deskOf(id);
    desk.work = desk.work.then(() => work(id)).catch((error: unknown) => stopped(id, error));
  };

  const stopped = (id: string, error: unknown): void => {
    const desk = deskOf(id);
    if (!isForNow(error)) return;
    clearTimeout(desk.again);
    desk.again = setTimeout(() => wake(id), againMs).unref();
  };

  return {
    progress,
    wake,
    measured: (id) => {
      const delivery = store.open(id);
      const { solved } = deskOf(id);
      return readMeasured({
        photos: delivery.read().photos,
        leaves: delivery.read().leaves,
        outcome: (photo) => outcomeOf(id, photo),
        solved: solved?.result ?? null,
        solvedAt: solved?.at ?? null,
        repeats: solved?.repeats ?? [],
        toleranceDE00: delivery.read().terms.toleranceDE00,
        look: (photo, face) => deskOf(id).outcomes.get(photo)?.looks[nameOf(face)],
        contrast: async (photo, { leaf }, corners, box) => {
          const layout = layoutOfLeaf(delivery.read(), leaf);
          const path = delivery.photos.path(photo);
          return layout
            ? ((await pool.run({ kind: "contrast", path, corners, layout, box }, true)) as number | null)
            : null;
        },
      });
    },
    settled: async (id) => {
      wake(id);
      await deskOf(id).work;
    },
    onProgress: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
};
