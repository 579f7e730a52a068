import { type ComputerClock, computerClock } from "./computer-clock.ts";
import type { AccessShelf } from "./kept-access.ts";
import { openSessions, type Sessions } from "./sessions.ts";

/** Who is let in, and how one is let in. */
export interface Access {
  readonly sessions: Sessions;
}

/** Goes on from what the shelf holds. */
export const openAccess = (shelf: AccessShelf, clock: ComputerClock = computerClock): Access => {
  const save = (): Promise<void> =>
    shelf.save({
      version: 1,
      written: { wallMs: clock.wallMs(), uptimeMs: clock.uptimeMs() },
      sessions: sessions.kept(),
    });
  const sessions = openSessions(shelf.kept, clock, save);
  return { sessions };
};
