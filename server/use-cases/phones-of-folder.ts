import { join } from "node:path";
import type { JobFile } from "../contract/job-file.ts";
import { unknownCamera } from "../contract/photo.ts";
import type { Examined } from "../site.ts";
import type { ProcessPool } from "../workers/process-pool.ts";

/** The phone of each photo: as the job file says, else as the file itself does. */
export const phonesOf = async (pool: ProcessPool, folder: string, job: JobFile): Promise<Map<string, string>> => {
  const named = await Promise.all(
    job.photos.map(async ({ file, phone }) => {
      if (phone) return [[file, phone] as const];
      const seen = (await pool.run({ kind: "examine", path: join(folder, file) }).catch(() => null)) as Examined | null;
      return seen?.kind === "photo" && seen.camera !== unknownCamera ? [[file, seen.camera] as const] : [];
    }),
  );
  return new Map(named.flat());
};
