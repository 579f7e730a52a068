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

const slackMs = 60_000;

/**
 * How long ago a moment was that was noted by both clocks, perhaps before the computer was switched off: the longer of what they tell.
 * Where the wall clock tells less than the uptime it was set back, and the uptime may be of another day: then all of it counts.
 */
export const sinceMs = (noted: { wallMs: number; uptimeMs: number }, clock: ComputerClock): number => {
  const up = clock.uptimeMs();
  const [byUptime, byWall] = [up - noted.uptimeMs, clock.wallMs() - noted.wallMs];
  return byUptime >= 0 && byWall >= byUptime - slackMs ? Math.max(byUptime, byWall) : Math.max(up, byWall);
};
