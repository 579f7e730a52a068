/**
 * Notices a clock that is not to be trusted. Lines are ordered by their numbers, so nothing is lost by it, but claim windows are
 * counted by the clock. A jump ahead of a day cannot be told from a laptop that slept for a day.
 */
export interface ClockWatch {
  /** A line was written at this instant by the clock of its time. */
  saw(at: string): void;
  /** A sentence where the clock was set back, or stands far from the last entry; until the next start, or until it is right. */
  told(): string | null;
}

/** Time servers set a clock by less. */
const toleranceMs = 120_000;
/** Longer than that no ledger rests between two entries without somebody looking at the clock. */
const restMs = 400 * 86_400_000;

const setBack =
  "The clock of this computer was set back, or ran ahead before. Claim windows are counted by it: check date and time.";
const farAhead =
  "The clock of this computer stands more than a year after the last entry. Claim windows are counted by it: check date and time.";

/** `elapsed` are milliseconds that no setting of the clock changes. */
export const clockWatch = (now: () => string, elapsed: () => number = () => performance.now()): ClockWatch => {
  /** How far the clock must be ahead of `elapsed`, by all that was seen of it. */
  let lead = Number.NEGATIVE_INFINITY;
  let last = Number.NEGATIVE_INFINITY;
  let far = false;
  const see = (instant: number): void => {
    lead = Math.max(lead, instant - elapsed());
  };
  const look = (): number => {
    const clock = Date.parse(now());
    if (Number.isFinite(last) && clock - last > restMs) far = true;
    return clock;
  };
  see(Date.parse(now()));
  return {
    saw: (at) => {
      look();
      last = Math.max(last, Date.parse(at));
      see(Date.parse(at));
    },
    told: () => {
      const clock = look();
      if (clock - elapsed() < lead - toleranceMs) return setBack;
      return far ? farAhead : null;
    },
  };
};
