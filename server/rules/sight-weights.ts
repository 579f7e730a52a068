import type { SightWeights } from "../contract/delivery.ts";

/**
 * What two faces count for by where they stand, until a delivery sets its own. That meeting stiles are compared before neighbours,
 * neighbours before walls across and those before leaves far apart is common practice, no source; the numbers are ours.
 */
export const usualSight: SightWeights = { meeting: 1.5, beside: 1, across: 0.7, apart: 0.4 };
