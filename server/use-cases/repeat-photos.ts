import { cpus } from "node:os";
import { type RepeatReading, repeatPhotos } from "../../analysis/repeat/repeat-readings.ts";
import type { RepeatReport } from "../contract/repeat.ts";
import { openProcessPool } from "../workers/process-pool.ts";
import { type MeasuredOfFolder, measureFolder, solveRequestOf } from "./measure-folder.ts";
import { phonesOf } from "./phones-of-folder.ts";
import { readJobFile } from "./read-job-file.ts";
import { repeatReportOf } from "./repeat-report.ts";

/** What the repeat photos of a folder come to, and the photos that did not count. */
export interface RepeatedPhotos extends RepeatReport {
  readonly refused: readonly { readonly photo: string; readonly advice: readonly string[] }[];
}

const refusedOf = ({ photo: { file }, measurement }: MeasuredOfFolder): RepeatedPhotos["refused"] => {
  if (measurement.kind === "kept") return [{ photo: file, advice: [measurement.why] }];
  if (measurement.kind === "measured") return [];
  return [{ photo: file, advice: measurement.gates.flatMap(({ passed, advice }) => (passed ? [] : [advice])) }];
};

/**
 * Measures a folder in which faces were photographed more than once, by what its job.json says, and tells how far the
 * photos of a face lie apart, and what phones and people add to it. `onProgress` hears how many photos are done.
 */
export const repeatOfFolder = async (
  folder: string,
  onProgress: (done: number, of: number) => void = () => undefined,
): Promise<RepeatedPhotos> => {
  const job = await readJobFile(folder);
  const pool = openProcessPool(Math.min(2, cpus().length));
  try {
    const phones = await phonesOf(pool, folder, job);
    const measured = await measureFolder(pool, folder, job, onProgress, phones);
    const request = solveRequestOf(job, measured);
    const samples = repeatPhotos(request.samples);
    const readings =
      samples.length === 0
        ? []
        : ((await pool.run({ kind: "repeats", request: { ...request, samples } })) as RepeatReading[]);
    const taken = measured.map(
      ({ photo: { file, by } }) => [file, { phone: phones.get(file) ?? null, person: by ?? null }] as const,
    );
    return { ...repeatReportOf(readings, new Map(taken)), refused: measured.flatMap(refusedOf) };
  } finally {
    await pool.close();
  }
};
