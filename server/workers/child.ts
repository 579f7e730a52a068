import { type Job, runJob } from "./jobs.ts";

/** The child's side: "ready" once, then one message in, one message out. It ends when its parent is gone. */
process.on("message", async ({ id, job }: { id: number; job: Job }) => {
  try {
    process.send?.({ id, value: await runJob(job) });
  } catch (error) {
    process.send?.({ id, error: error instanceof Error ? error.message : String(error) });
  }
});
process.on("disconnect", () => process.exit(0));
process.send?.("ready");
