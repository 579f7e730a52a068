import { uptime } from "node:os";

/**
 * Two clocks of this computer: the one on the wall, which can be set, and the time since it was switched on, which nobody sets and which
 * goes on while it sleeps.
 */
export interface ComputerClock {
  wallMs(): number;
  uptimeMs(): number;
}

export const computerClock: ComputerClock = { wallMs: Date.now, uptimeMs: () => uptime() * 1000 };

/**
 * How long ago a moment was that was noted by both clocks, perhaps before the computer was switched off: the longer of what they tell, so
 * that a clock set back lengthens nothing.
 */
export const sinceMs = (noted: { wallMs: number; uptimeMs: number }, clock: ComputerClock): number => {
  const up = clock.uptimeMs();
  return Math.max(up >= noted.uptimeMs ? up - noted.uptimeMs : up, clock.wallMs() - noted.wallMs);
};
