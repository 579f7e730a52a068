import { createHash } from "node:crypto";
import type { Delivery } from "../contract/delivery.ts";
import type { Photo, PhotoState } from "../contract/photo.ts";
import type { FaceDifference, LeafView, Progress } from "../contract/views.ts";
import { swatch } from "../rules/swatch.ts";
import type { CropRequest, FaceRef, Measured, Measuring, Store } from "../site.ts";
import type { MeasureRequest, PhotoMeasurement } from "../workers/measurement.ts";
import type { ProcessPool } from "../workers/process-pool.ts";
import type { Solved } from "../workers/solved.ts";

/** Goes up when a change of the measurement makes kept results stale. */
const MEASUREMENT_VERSION = 1;

/** A measurement as kept on disk: it holds only for the request it answered. */
interface Kept {
  readonly fingerprint: string;
  readonly measurement: PhotoMeasurement;
}

type Outcome = PhotoMeasurement | { readonly kind: "failed"; readonly why: string };

/** What is known of one delivery's photos while the server runs. */
interface Desk {
  readonly outcomes: Map<string, { fingerprint: string; outcome: Outcome }>;
  solved: Solved | null;
  solvedAt: string | null;
  solvedFor: string | null;
  work: Promise<void> | null;
}

const faceName = ({ leaf, face }: FaceRef): string => `${leaf}/${face}`;

/** What is asked of the measurement for a photo, or null when it shows no whole face to measure. */
const requestFor = (delivery: Delivery, photo: Photo, path: string): MeasureRequest | null => {
  if (photo.kind !== "single" && photo.kind !== "line-up") return null;
  if (photo.shows.length === 0 || photo.flags.some((flag) => flag.includes("not measured"))) return null;
  const shows = photo.shows.flatMap(({ leaf: code, face, corners }) => {
    const leaf = delivery.leaves.find((one) => one.code === code);
    const layout = delivery.patterns.find(({ id }) => id === leaf?.pattern);
    return layout ? [{ leaf: code, face, layout, corners }] : [];
  });
  return { photo: photo.id, path, camera: photo.camera, shows, references: null };
};

const fingerprintOf = (request: MeasureRequest | null): string =>
  createHash("sha256")
    .update(JSON.stringify([MEASUREMENT_VERSION, request && { ...request, path: "" }]))
    .digest("hex");

const keptAsEvidence: PhotoMeasurement = { kind: "kept", why: "kept as evidence: it shows no whole face to measure" };

const stateOf = (outcome: Outcome | undefined): PhotoState => {
  if (!outcome) return { kind: "waiting" };
  switch (outcome.kind) {
    case "measured":
      return {
        kind: "measured",
        faces: outcome.faces.map(({ leaf, face, corners, score, byHand }) => ({
          leaf,
          face,
          corners: corners.map(([x, y]) => [x, y] as [number, number]) as [
            [number, number],
            [number, number],
            [number, number],
            [number, number],
          ],
          score,
          byHand,
        })),
        references: outcome.references.map(({ kind, id }) => (id ? `${kind} ${id}` : kind)),
      };
    case "retake":
      return { kind: "retake", gates: [...outcome.gates] };
    default:
      return outcome;
  }
};

/**
 * Measures in the background what has no measurement yet, one photo after the other, then solves all photos of the
 * delivery together. The queue is not kept: it is what the journal lists and the disk has no measurement of.
 */
export const openMeasuring = (store: Store, pool: ProcessPool, now: () => string): Measuring => {
  const desks = new Map<string, Desk>();
  const listeners = new Set<(delivery: string, progress: Progress) => void>();

  const deskOf = (id: string): Desk => {
    let desk = desks.get(id);
    if (!desk) {
      desk = { outcomes: new Map(), solved: null, solvedAt: null, solvedFor: null, work: null };
      desks.set(id, desk);
    }
    return desk;
  };

  const current = (id: string, photo: Photo): Outcome | undefined => {
    const { photos, read } = store.open(id);
    const known = deskOf(id).outcomes.get(photo.id);
    return known?.fingerprint === fingerprintOf(requestFor(read(), photo, photos.path(photo.id)))
      ? known.outcome
      : undefined;
  };

  const progress = (id: string): Progress => {
    const counts = { waiting: 0, measured: 0, retake: 0, kept: 0, failed: 0 };
    for (const photo of store.open(id).read().photos) counts[current(id, photo)?.kind ?? "waiting"] += 1;
    return { ...counts, solvedAt: deskOf(id).solvedAt };
  };

  const tell = (id: string) => {
    const state = progress(id);
    for (const listener of listeners) listener(id, state);
  };

  const measureOne = async (id: string, photo: Photo): Promise<void> => {
    const delivery = store.open(id);
    const request = requestFor(delivery.read(), photo, delivery.photos.path(photo.id));
    const fingerprint = fingerprintOf(request);
    const kept = (await delivery.measurements.read(photo.id)) as Kept | null;
    let outcome: Outcome;
    if (kept?.fingerprint === fingerprint) outcome = kept.measurement;
    else if (!request) outcome = keptAsEvidence;
    else {
      try {
        outcome = (await pool.run({ kind: "measure", request })) as PhotoMeasurement;
        await delivery.measurements.write(photo.id, { fingerprint, measurement: outcome } satisfies Kept);
      } catch (error) {
        outcome = { kind: "failed", why: error instanceof Error ? error.message : String(error) };
      }
    }
    deskOf(id).outcomes.set(photo.id, { fingerprint, outcome });
  };

  const solve = async (id: string): Promise<void> => {
    const desk = deskOf(id);
    const { photos, terms } = store.open(id).read();
    const samples = photos.flatMap((photo) => {
      const outcome = current(id, photo);
      return outcome?.kind === "measured" ? [outcome.sample] : [];
    });
    const { toleranceDE00, confidence } = terms;
    const fingerprints = photos.map(({ id: photo }) => desk.outcomes.get(photo)?.fingerprint);
    const solvedFor = JSON.stringify([fingerprints, toleranceDE00, confidence]);
    if (solvedFor === desk.solvedFor) return;
    desk.solved =
      samples.length === 0
        ? null
        : ((await pool.run({
            kind: "solve",
            request: { samples, chartLabD50: null, greyReflectance: 0.18, toleranceDE00, confidence },
          })) as Solved);
    desk.solvedFor = solvedFor;
    desk.solvedAt = now();
  };

  const work = async (id: string): Promise<void> => {
    for (;;) {
      const waiting = store
        .open(id)
        .read()
        .photos.filter((photo) => current(id, photo) === undefined);
      if (waiting.length === 0) break;
      await Promise.all(
        waiting.map(async (photo) => {
          await measureOne(id, photo);
          tell(id);
        }),
      );
    }
    await solve(id);
    tell(id);
  };

  const wake = (id: string): void => {
    const desk = deskOf(id);
    const before = desk.work ?? Promise.resolve();
    const next = before.then(() => work(id)).catch(() => undefined);
    desk.work = next;
  };

  const measured = (id: string): Measured => {
    const desk = deskOf(id);
    const delivery = store.open(id);
    const inPhotos = (face: FaceRef) =>
      delivery.read().photos.flatMap((photo) => {
        const outcome = current(id, photo);
        if (outcome?.kind !== "measured") return [];
        const found = outcome.faces.find(({ leaf, face: side }) => leaf === face.leaf && side === face.face);
        return found
          ? [
              {
                photo,
                found,
                pxPerMm: Math.hypot(
                  found.corners[0][0] - found.corners[3][0],
                  found.corners[0][1] - found.corners[3][1],
                ),
              },
            ]
          : [];
      });

    const faces = (leaf: string): LeafView["faces"] =>
      (desk.solved?.faces ?? [])
        .filter((one) => one.leaf === leaf)
        .map(({ face, parts, photos }) => ({
          face,
          parts: parts.map((part) => ({ ...part, lab: [...part.lab], swatch: swatch(part.lab) })),
          grain:
            inPhotos({ leaf, face })
              .toSorted((one, other) => other.pxPerMm - one.pxPerMm)[0]
              ?.found.grain.map((part) => ({ ...part })) ?? [],
          photos: [...photos],
        }));

    const proposedMarks = (leaf: string): LeafView["proposed"] =>
      (["A", "B"] as const).flatMap((face) => {
        const best = inPhotos({ leaf, face }).toSorted((one, other) => other.pxPerMm - one.pxPerMm)[0];
        return (best?.found.proposed ?? []).map((one) => ({ ...one, face, photo: best?.photo.id ?? "" }));
      });

    const difference = (a: FaceRef, b: FaceRef): FaceDifference => {
      const pair = desk.solved?.differences.find(
        (one) => (one.a === faceName(a) && one.b === faceName(b)) || (one.a === faceName(b) && one.b === faceName(a)),
      );
      const advice = pair ? pair.advice : "One of the two faces has not been measured: photograph it.";
      return {
        a: { ...a },
        b: { ...b },
        part: pair?.worst?.part ?? null,
        deltaE: pair?.worst?.deltaE ?? null,
        u95: pair?.worst?.u95 ?? null,
        verdict: pair?.verdict ?? "cannot-tell",
        advice,
      };
    };

    const markContrast = async (face: FaceRef, box: CropRequest["box"]): Promise<number | null> => {
      const best = inPhotos(face).toSorted((one, other) => other.pxPerMm - one.pxPerMm)[0];
      const layout = delivery
        .read()
        .patterns.find(
          ({ id: pattern }) => pattern === delivery.read().leaves.find(({ code }) => code === face.leaf)?.pattern,
        );
      if (!best || !layout) return null;
      return (await pool.run({
        kind: "contrast",
        path: delivery.photos.path(best.photo.id),
        corners: best.found.corners,
        layout,
        box,
      })) as number | null;
    };

    return {
      solvedAt: desk.solvedAt,
      state: (photo) => {
        const found = delivery.read().photos.find(({ id: one }) => one === photo);
        return stateOf(found && current(id, found));
      },
      faces,
      proposedMarks,
      difference,
      markContrast,
      corners: (photo, face) => inPhotos(face).find((one) => one.photo.id === photo)?.found.corners ?? null,
      untied: desk.solved?.untied ?? [],
    };
  };

  return {
    measured,
    progress,
    wake,
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
