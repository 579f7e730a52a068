import type { Site } from "../site.ts";
import { demoId, demoStartsAt } from "./brannoch-quay.ts";

/**
 * A site whose clock, while it holds the demo delivery and nothing else, runs from the morning on which the demo is told, so that
 * its claim windows are open. As soon as there is another delivery it is the real time again. The journal always keeps real time.
 */
export const withDemoClock = (site: Site): Site => {
  const started = Date.now();
  const demoTime = (): string =>
    new Date(Date.parse(demoStartsAt) + Date.now() - started).toISOString().replace(/\.\d+Z$/, "+00:00");
  const onlyDemo = (): boolean => site.store.list().every((id) => id === demoId);
  return { ...site, now: () => (onlyDemo() ? demoTime() : site.now()) };
};
