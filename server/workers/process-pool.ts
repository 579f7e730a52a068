import type { ChildProcess } from "node:child_process";
import type { Job } from "./jobs.ts";
import { startChild } from "./start-child.ts";

/** A job that takes longer is ended with its process: a photo needs a second, an adjustment a few. */
const JOB_SECONDS = 60;
/** A fresh process now and then keeps the memory of the decoder from growing. */
const JOBS_PER_PROCESS = 200;

interface Task {
  readonly id: number;
  readonly job: Job;
  readonly resolve: (value: unknown) => void;
  readonly reject: (error: Error) => void;
  tries: number;
}

/** Runs jobs in child processes: a fault in a decoder ends a child, never the server. */
export interface ProcessPool {
  /** An urgent job, one a person waits for, goes before all that wait. */
  run(job: Job, urgent?: boolean): Promise<unknown>;
  close(): Promise<void>;
}

/** One lane: a child and the task it works on. */
const openLane = (next: () => Task | undefined) => {
  let child: ChildProcess | null = null;
  let task: Task | null = null;
  let timer: NodeJS.Timeout | undefined;
  let done = 0;
  let closed = false;

  const finish = (settle: (finished: Task) => void) => {
    clearTimeout(timer);
    const finished = task;
    task = null;
    if (finished) settle(finished);
    child?.unref();
    child?.channel?.unref();
    pull();
  };
  const retire = () => {
    child?.removeAllListeners("exit");
    child?.disconnect();
    child = null;
    done = 0;
  };
  const lost = () => {
    child = null;
    done = 0;
    const again = task !== null && task.tries < 2 && !closed;
    if (again && task) send(task);
    else finish(({ reject }) => reject(new Error("the photo could not be analysed: its process ended twice")));
  };
  const hire = (): ChildProcess => {
    const hired = startChild("child");
    hired.on("message", (message: { id: number; value?: unknown; error?: string }) => {
      if (message.id !== task?.id) return;
      done += 1;
      if (done >= JOBS_PER_PROCESS) retire();
      finish(({ resolve, reject }) =>
        message.error === undefined ? resolve(message.value) : reject(new Error(message.error)),
      );
    });
    hired.on("exit", lost);
    // A child that ended while idle refuses the next message; its exit is on its way and sends the task again.
    hired.on("error", () => undefined);
    return hired;
  };
  const send = (sent: Task) => {
    sent.tries += 1;
    child ??= hire();
    child.ref();
    child.channel?.ref();
    timer = setTimeout(() => child?.kill("SIGKILL"), JOB_SECONDS * 1000);
    child.send({ id: sent.id, job: sent.job });
  };
  const pull = () => {
    if (task || closed) return;
    task = next() ?? null;
    if (task) send(task);
  };
  const close = () => {
    closed = true;
    clearTimeout(timer);
    task?.reject(new Error("closed"));
    task = null;
    child?.removeAllListeners("exit");
    child?.kill();
    child = null;
  };
  return { pull, close };
};

/** A pool of `lanes` child processes; each is started with its first job. Jobs wait in the order they came, urgent ones in front. */
export const openProcessPool = (lanes: number): ProcessPool => {
  const waiting: Task[] = [];
  const open = Array.from({ length: lanes }, () => openLane(() => waiting.shift()));
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
