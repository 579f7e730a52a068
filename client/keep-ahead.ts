import { address, call } from "./api.ts";
import type { KeptViews } from "./kept-views.ts";

/** Between two leaves, so that a person's own calls go first. */
const pauseMs = 250;

/**
 * Reads leaves that this device has not seen yet, one after the other, so that each opens where there is no signal. Ends when `wanted`
 * says no, or the laptop cannot be reached.
 */
export const keepLeavesAhead = async (
  kept: KeptViews,
  delivery: string,
  leaves: readonly string[],
  wanted: () => boolean,
): Promise<void> => {
  for (const leaf of leaves) {
    const path = address("leaf", { delivery, leaf });
    if (await kept.find(path)) continue;
    await new Promise((resolve) => setTimeout(resolve, pauseMs));
    if (!wanted()) return;
    const answer = await call("leaf", { delivery, leaf });
    if (answer.kind !== "ok") return;
    await kept.keep(path, answer.value);
  }
};
