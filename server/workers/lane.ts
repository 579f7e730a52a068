import type { ChildProcess } from "node:child_process";
import { limits } from "../limits.ts";
import { Refusal } from "../problem.ts";
import type { Job } from "./jobs.ts";
import { startChild } from "./start-child.ts";

/** A job somebody waits for; `tries` counts the processes that began it. */
export interface Task {
  readonly id: number;
  readonly job: Job;
  readonly resolve: (value: unknown) => void;
  readonly reject: (error: Error) => void;
  tries: number;
}

/** One child process and the job it works on. */
export interface Lane {
  /** Takes the next job, unless it has one. */
  pull(): void;
  close(): void;
}

const decodes: readonly Job["kind"][] = ["examine", "preview", "crop", "supplier-copy"];
const measures: readonly Job["kind"][] = ["measure", "look", "contrast"];

const mostMs = ({ kind }: Job): number => {
  if (decodes.includes(kind)) return limits.jobs.decodeMs;
  return measures.includes(kind) ? limits.jobs.measureMs : limits.jobs.otherMs;
};

const endedTwice = ({ kind }: Job): Refusal =>
  new Refusal(
    decodes.includes(kind) || measures.includes(kind)
      ? "The photo could not be analysed: the process that opens it ended twice. Take it again."
      : "This could not be worked out: the process that does it ended twice. Try again.",
    422,
  );

const cannotStart = (): Refusal =>
  new Refusal(
    "Photos cannot be opened at present: the process that does it does not start. Start Leafledger again.",
    503,
  );

/**
 * A job whose process ends is begun once more, then told as lost. A process that ends before it was ready says nothing of its
 * job: the start is tried again, and after a few the lane rests, refusing what comes, so that no job waits for ever.
 */
export const openLane = (next: () => Task | undefined, niceness: number): Lane => {
  let child: ChildProcess | null = null;
  let task: Task | null = null;
  let timer: NodeJS.Timeout | undefined;
  let done = 0;
  let failedStarts = 0;
  let restsUntil = 0;
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
  const letGo = () => {
    child = null;
    done = 0;
    clearTimeout(timer);
  };
  const retire = () => {
    child?.disconnect();
    letGo();
  };
  const notStarted = () => {
    letGo();
    failedStarts += 1;
    if (failedStarts < limits.jobs.starts) {
      timer = setTimeout(() => task && send(task), limits.jobs.startAgainMs);
      return;
    }
    restsUntil = performance.now() + limits.jobs.restMs;
    finish(({ reject }) => reject(cannotStart()));
  };
  const lost = () => {
    letGo();
    if (task && task.tries < 2) send(task);
    else finish(({ job, reject }) => reject(endedTwice(job)));
  };
  const hire = (): ChildProcess => {
    const hired = startChild("child", niceness);
    let ready = false;
    const ended = () => {
      if (hired !== child) return;
      if (ready) lost();
      else notStarted();
    };
    hired.on("message", (message: "ready" | { id: number; value?: unknown; error?: string }) => {
      if (message === "ready") {
        ready = true;
        failedStarts = 0;
        if (task) task.tries += 1;
        return;
      }
      if (message.id !== task?.id) return;
      done += 1;
      if (done >= limits.jobs.perProcess) retire();
      finish(({ resolve, reject }) =>
        message.error === undefined ? resolve(message.value) : reject(new Error(message.error)),
      );
    });
    hired.on("exit", ended);
    // A child that ended while idle refuses the next message; its exit is on its way and sends the task again. One that has
    // no process id was never started, and will not exit.
    hired.on("error", () => {
      if (hired.pid === undefined) ended();
    });
    return hired;
  };
  const send = (sent: Task) => {
    if (child) sent.tries += 1;
    else {
      try {
        child = hire();
      } catch {
        notStarted();
        return;
      }
    }
    child.ref();
    child.channel?.ref();
    timer = setTimeout(() => child?.kill("SIGKILL"), mostMs(sent.job));
    if (child.connected) child.send({ id: sent.id, job: sent.job });
  };
  const pull = () => {
    while (!task && !closed) {
      task = next() ?? null;
      if (!task) return;
      if (failedStarts >= limits.jobs.starts && performance.now() < restsUntil) {
        task.reject(cannotStart());
        task = null;
      } else send(task);
    }
  };
  const close = () => {
    closed = true;
    clearTimeout(timer);
    task?.reject(new Error("closed"));
    task = null;
    child?.kill();
    child = null;
  };
  return { pull, close };
};
