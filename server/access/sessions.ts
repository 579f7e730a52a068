import { ulid } from "ulid";
import type { Session } from "../contract/access.ts";
import type { ComputerClock } from "./computer-clock.ts";
import { sinceMs } from "./computer-clock.ts";
import type { KeptAccess } from "./kept-access.ts";
import { hashOf, newSecret } from "./secret.ts";

const hour = 3_600_000;
/** Not used for so long, or this old, a session ends; past so many the one longest unused does. A use is noted on disk once a minute. */
export const sessionLimits = { idleMs: 12 * hour, ageMs: 30 * 24 * hour, atOnce: 200, noteUseMs: 60_000 } as const;

/** The label of a browser on this very computer, however many windows it has. */
export const thisComputer = "laptop";

/** A session in the list of who is let in; times in ms ago. */
export interface Held {
  readonly session: Session;
  readonly ageMs: number;
  readonly idleMs: number;
}

/** Who is let in. What `begin`, `rename` and `end` resolved for is on disk. */
export interface Sessions {
  /** A guest's session ends with the link that it came by. The device's label is made one of its own. */
  begin(who: Omit<Session, "id">, link?: string): Promise<{ token: string; session: Session }>;
  /** Whose token it is, and that it was used; null when it is nobody's any more. */
  use(token: string): Session | null;
  holds(id: string): boolean;
  rename(id: string, name: string): Promise<Session | null>;
  /** False when there was no such session. */
  end(id: string): Promise<boolean>;
  list(): readonly Held[];
  kept(): KeptAccess["sessions"];
}

interface Entry {
  session: Session;
  readonly hash: string;
  readonly link: string | null;
  /** Uptime of this computer, ms. */
  readonly begunAt: number;
  usedAt: number;
}

/** Sessions by the hash of their token. Their length is counted by the clock that nobody sets; `save` writes them to disk. */
export const openSessions = (
  kept: KeptAccess,
  clock: ComputerClock,
  linkHolds: (id: string) => boolean,
  save: () => Promise<void>,
): Sessions => {
  const away = sinceMs(kept.written, clock);
  const start = clock.uptimeMs();
  const entries = new Map<string, Entry>(
    kept.sessions.map(({ hash, ageMs, idleMs, link, ...session }) => [
      hash,
      { session, hash, link, begunAt: start - away - ageMs, usedAt: start - away - idleMs },
    ]),
  );
  const held = ({ session, begunAt, usedAt }: Entry): Held => {
    const now = clock.uptimeMs();
    return { session, ageMs: now - begunAt, idleMs: now - usedAt };
  };
  const live = (): Entry[] => {
    for (const [hash, entry] of entries) {
      const { ageMs, idleMs } = held(entry);
      const linkEnded = entry.link !== null && !linkHolds(entry.link);
      if (linkEnded || ageMs >= sessionLimits.ageMs || idleMs >= sessionLimits.idleMs) entries.delete(hash);
    }
    return [...entries.values()];
  };
  let savedAt = start;
  /** "phone", then "phone 2": a line of the history says which. */
  const unlike = (device: string): string => {
    const taken = new Set(live().map(({ session }) => session.device));
    let count = 1;
    const label = () => (count === 1 ? device : `${device} ${count}`);
    while (taken.has(label())) count++;
    return label();
  };
  const forgetLongestUnused = (): void => {
    const [longest] = live().toSorted((a, b) => a.usedAt - b.usedAt);
    if (longest) entries.delete(longest.hash);
  };
  const byId = (id: string): Entry | undefined => live().find(({ session }) => session.id === id);
  return {
    begin: async (who, link) => {
      if (live().length >= sessionLimits.atOnce) forgetLongestUnused();
      const token = newSecret();
      const hash = hashOf(token);
      const session: Session = {
        ...who,
        id: ulid(),
        device: who.device === thisComputer ? who.device : unlike(who.device),
      };
      const now = clock.uptimeMs();
      entries.set(hash, { session, hash, link: link ?? null, begunAt: now, usedAt: now });
      await save();
      return { token, session };
    },
    use: (token) => {
      live();
      const entry = entries.get(hashOf(token));
      if (!entry) return null;
      const now = clock.uptimeMs();
      entry.usedAt = now;
      if (now - savedAt > sessionLimits.noteUseMs) {
        savedAt = now;
        save().catch(() => undefined); // only how long it was not used: the next one tries again
      }
      return entry.session;
    },
    holds: (id) => byId(id) !== undefined,
    rename: async (id, name) => {
      const entry = byId(id);
      if (!entry) return null;
      entry.session = { ...entry.session, name };
      await save();
      return entry.session;
    },
    end: async (id) => {
      const entry = byId(id);
      if (!entry) return false;
      entries.delete(entry.hash);
      await save();
      return true;
    },
    list: () => live().map(held),
    kept: () =>
      live().map((entry) => {
        const { session, ageMs, idleMs } = held(entry);
        return { ...session, hash: entry.hash, link: entry.link, ageMs, idleMs };
      }),
  };
};
