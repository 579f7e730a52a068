import type { Job } from "./jobs.ts";
import { openLane, type Task } from "./lane.ts";

/** Runs jobs in child processes: a fault in a decoder ends a child, never the server. */
export interface ProcessPool {
  /** An urgent job, one a person waits for, goes before all that wait. */
  run(job: Job, urgent?: boolean): Promise<unknown>;
  close(): Promise<void>;
}

/**
 * A pool of `lanes` child processes; each is started with its first job. Jobs wait in the order they came, urgent ones in front.
 * `niceness` from 0 to 19: how readily they give way to other processes.
 */
export const openProcessPool = (lanes: number, niceness = 0): ProcessPool => {
  const waiting: Task[] = [];
  const open = Array.from({ length: lanes }, () => openLane(() => waiting.shift(), niceness));
  let lastId = 0;
  return {
    run: (job, urgent = false) =>
      new Promise((resolve, reject) => {
        lastId += 1;
        const task: Task = { id: lastId, job, resolve, reject, tries: 0 };
        if (urgent) waiting.unshift(task);
        else waiting.push(task);
        for (const lane of open) lane.pull();
      }),
    close: async () => {
      for (const task of waiting.splice(0)) task.reject(new Error("closed"));
      for (const lane of open) lane.close();
    },
  };
};
