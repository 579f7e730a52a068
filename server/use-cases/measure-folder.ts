import { join } from "node:path";
import type { FaceLayout } from "../../analysis/leaf-parts.ts";
import type { JobFile } from "../contract/job-file.ts";
import { chartChoices, measuredCharts } from "../rules/chart-editions.ts";
import type { PhotoMeasurement } from "../workers/measurement.ts";
import type { ProcessPool } from "../workers/process-pool.ts";
import type { SolveRequest } from "../workers/solved.ts";
import type { Job } from "./read-job-file.ts";

export type JobPhoto = JobFile["photos"][number];

/** A photo of the folder and what became of it. */
export interface MeasuredOfFolder {
  readonly photo: JobPhoto;
  readonly measurement: PhotoMeasurement;
}

export const layoutOf = (leaf: JobFile["leaves"][number]): FaceLayout => ({
  widthMm: leaf.width_mm,
  heightMm: leaf.height_mm,
  parts: leaf.parts.map(({ part, kind, grain, rect_mm }) => ({ name: part, kind, grain, rectMm: rect_mm })),
});

const measureOne = (
  pool: ProcessPool,
  folder: string,
  job: JobFile,
  photo: JobPhoto,
  camera: string,
): Promise<PhotoMeasurement> => {
  const shows = photo.shows.flatMap(({ leaf: id, face }) => {
    const leaf = job.leaves.find((one) => one.id === id);
    return leaf ? [{ leaf: id, face, layout: layoutOf(leaf), corners: null }] : [];
  });
  const references = photo.reference.filter((kind) => kind === "card" || kind === "chart" || kind === "grey");
  const { chart, grey } = job.references;
  return pool.run({
    kind: "measure",
    request: {
      photo: photo.file,
      path: join(folder, photo.file),
      camera,
      shows,
      references,
      ...(chart?.size_mm ? { chartMm: chart.size_mm } : {}),
      ...(grey?.size_mm ? { greyMm: grey.size_mm } : {}),
    },
  }) as Promise<PhotoMeasurement>;
};

/**
 * Measures the photos of a folder that show whole faces. `cameras` names the phone of a photo, where it is known.
 * `onProgress` hears how many are done.
 */
export const measureFolder = (
  pool: ProcessPool,
  folder: string,
  job: JobFile,
  onProgress: (done: number, of: number) => void,
  cameras: ReadonlyMap<string, string>,
): Promise<MeasuredOfFolder[]> => {
  const wanted = job.photos.filter(({ kind }) => kind === "single" || kind === "line-up");
  let done = 0;
  return Promise.all(
    wanted.map(async (photo) => {
      const measurement = await measureOne(pool, folder, job, photo, cameras.get(photo.file) ?? "").catch(
        (error: Error): PhotoMeasurement => ({ kind: "kept", why: error.message }),
      );
      done += 1;
      onProgress(done, wanted.length);
      return { photo, measurement };
    }),
  );
};

/** The chart of the job file, else the usual one; the built-in editions are what it might be after all. */
const chartsOf = ({ chart }: Job) => {
  const { chosen, all } = chartChoices({});
  return measuredCharts(chart ?? chosen, all);
};

/** The measured photos of a folder, to be solved by what its job file says of references. */
export const solveRequestOf = (job: Job, measured: readonly MeasuredOfFolder[]): SolveRequest => ({
  samples: measured.flatMap(({ measurement }) => (measurement.kind === "measured" ? [measurement.sample] : [])),
  ...chartsOf(job),
  greyReflectance: job.references.grey?.reflectance ?? 0.18,
  toleranceDE00: 2,
  confidence: 0.95,
});
