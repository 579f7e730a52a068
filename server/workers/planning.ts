import type { ChildProcess } from "node:child_process";
import type { AllotmentProblem } from "../../analysis/allot/allotment.ts";
import { Refusal } from "../problem.ts";
import type { Allotments, Planning, PlanningProgress } from "../site.ts";
import type { PlanningMessage, PlanningOrder } from "./planning-messages.ts";
import { startChild } from "./start-child.ts";

/** After so long a plan is stopped and the best so far is taken: its effort is counted, and takes 30 s at 300 leaves. */
const PLAN_SECONDS = 180;
/** From a stop to the answer: a step takes a second or two, and dealing by hand as long. */
const STOP_SECONDS = 30;

/** A plan that is made or waits to be. */
interface Order {
  stopped: boolean;
  /** Performance clock, ms. */
  startedAt: number;
  progress: PlanningProgress | null;
  child: ChildProcess | null;
}

/** Planning in child processes, one plan a process and one at a time; and how to end what runs. */
export const openPlanning = (): Planning & { close(): void } => {
  const orders = new Map<string, Order>();
  const listeners = new Set<(delivery: string, progress: PlanningProgress | null) => void>();
  let last: Promise<unknown> = Promise.resolve();
  let closed = false;

  const tell = (delivery: string, progress: PlanningProgress | null): void => {
    for (const listener of listeners) listener(delivery, progress);
  };

  const work = (delivery: string, order: Order, problem: AllotmentProblem): Promise<Allotments> =>
    new Promise((resolve, reject) => {
      if (closed) throw new Error("closed");
      const child = startChild("planning-child");
      const timers = [
        setTimeout(() => askToStop(order), PLAN_SECONDS * 1000),
        setTimeout(() => child.kill("SIGKILL"), (PLAN_SECONDS + STOP_SECONDS) * 1000),
      ];
      const end = (): void => {
        for (const timer of timers) clearTimeout(timer);
        child.removeAllListeners("exit");
        child.kill();
      };
      order.child = child;
      order.startedAt = performance.now();
      child.on("message", (message: PlanningMessage) => {
        if (message.kind === "progress") {
          const { worst, bound } = message;
          order.progress = { worst, bound, seconds: (performance.now() - order.startedAt) / 1000 };
          tell(delivery, order.progress);
          return;
        }
        end();
        if (message.kind === "made") {
          const { plan, dealt, byEye } = message;
          resolve({ plan, dealt, byEye });
        } else reject(new Error(message.error));
      });
      child.on("exit", () => {
        end();
        reject(new Error("the plan could not be made: its process ended"));
      });
      // A child that ended refuses the next message; its exit is on its way.
      child.on("error", () => undefined);
      child.send({ kind: "plan", problem } satisfies PlanningOrder);
      if (order.stopped) askToStop(order);
    });

  const askToStop = (order: Order): void => {
    order.stopped = true;
    order.child?.send({ kind: "stop" } satisfies PlanningOrder);
  };

  return {
    make: async (delivery, problem) => {
      if (orders.has(delivery))
        throw new Refusal("This delivery is being planned already: wait for that plan, or keep the best so far.");
      const order: Order = { stopped: false, startedAt: 0, progress: null, child: null };
      orders.set(delivery, order);
      const made = last.then(() => work(delivery, order, problem));
      last = made.catch(() => undefined);
      try {
        return await made;
      } finally {
        orders.delete(delivery);
        tell(delivery, null);
      }
    },
    stop: (delivery) => {
      const order = orders.get(delivery);
      if (order) askToStop(order);
      return order !== undefined;
    },
    progress: (delivery) => orders.get(delivery)?.progress ?? null,
    onProgress: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    close: () => {
      closed = true;
      for (const { child } of orders.values()) child?.kill();
    },
  };
};
