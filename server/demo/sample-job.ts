import { readFile } from "node:fs/promises";
import { join } from "node:path";
import * as z from "zod";
import { instant } from "../contract/ids.ts";
import { jobFile } from "../contract/job-file.ts";
import { photoKind } from "../contract/photo.ts";

const [leafOfJob, photoOfJob] = [jobFile.shape.leaves.element, jobFile.shape.photos.element];

/** The job file of the sample images: beside what any job file says, the order line of each leaf and when a photo was taken. */
const sampleJob = z.object({
  leaves: z.array(leafOfJob.extend({ line: z.number().int().nullable() })),
  photos: z.array(photoOfJob.extend({ taken: instant, kind: photoKind })),
});
export type SampleJob = z.infer<typeof sampleJob>;

/** The sample images' job file and the texts of the order and the door schedule. */
export const readSampleJob = async (folder: string): Promise<SampleJob & { order: string; schedule: string }> => {
  const [job, order, schedule] = await Promise.all(
    ["job.json", "order.csv", "door-schedule.csv"].map((name) => readFile(join(folder, name), "utf8")),
  );
  return { ...sampleJob.parse(JSON.parse(job ?? "")), order: order ?? "", schedule: schedule ?? "" };
};
