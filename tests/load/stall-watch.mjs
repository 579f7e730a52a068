/**
 * Loaded before the server of a load test: how long its event loop stood still, ms, is written to the file named in
 * LEAFLEDGER_STALLS whenever the process gets SIGUSR2, and the count begins anew.
 */
import { writeFileSync } from "node:fs";
import { monitorEventLoopDelay } from "node:perf_hooks";

const resolutionMs = 5;
const delay = monitorEventLoopDelay({ resolution: resolutionMs });
const file = process.env.LEAFLEDGER_STALLS;
if (file) {
  delay.enable();
  process.on("SIGUSR2", () => {
    const ms = (nanoseconds) => Math.max(0, nanoseconds / 1e6 - resolutionMs);
    writeFileSync(file, JSON.stringify({ p99: ms(delay.percentile(99)), most: ms(delay.max) }));
    delay.reset();
  });
}
