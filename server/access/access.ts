import { type ComputerClock, computerClock } from "./computer-clock.ts";
import { type Door, ownDoor } from "./door.ts";
import type { AccessShelf } from "./kept-access.ts";
import { type MadeOffer, openPairing, type Pairing } from "./pairing.ts";
import { openRecordLinks, type RecordLinks } from "./record-links.ts";
import { openSessions, type Sessions } from "./sessions.ts";

/** Who is let in, and how one is let in. */
export interface Access {
  readonly door: Door;
  readonly clock: ComputerClock;
  readonly sessions: Sessions;
  readonly pairing: Pairing;
  readonly links: RecordLinks;
  /** The offer that was made on the command line since the last look, or null. */
  readonly leftOffer: () => Promise<MadeOffer | null>;
}

/** Where access is opened, and what tests put in place of the real thing. */
interface AccessSettings {
  readonly door?: Door;
  readonly clock?: ComputerClock;
  readonly leftOffer?: () => Promise<MadeOffer | null>;
}

/** Goes on from what the shelf holds. */
export const openAccess = (shelf: AccessShelf, settings: AccessSettings = {}): Access => {
  const { door = ownDoor, clock = computerClock, leftOffer = async () => null } = settings;
  const save = (): Promise<void> =>
    shelf.save({
      version: 1,
      written: { wallMs: clock.wallMs(), uptimeMs: clock.uptimeMs() },
      sessions: sessions.kept(),
      links: links.kept(),
    });
  const links = openRecordLinks(shelf.kept, clock, save);
  const sessions = openSessions(shelf.kept, clock, (id) => links.holds(id), save);
  return { door, clock, sessions, links, pairing: openPairing(clock), leftOffer };
};
