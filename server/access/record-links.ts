import { ulid } from "ulid";
import type { ComputerClock } from "./computer-clock.ts";
import { sinceMs } from "./computer-clock.ts";
import type { KeptAccess } from "./kept-access.ts";
import { hashOf, newSecret } from "./secret.ts";

const day = 86_400_000;

/** A link to one record; times in ms. */
export interface RecordLink {
  readonly id: string;
  readonly delivery: string;
  readonly record: number;
  readonly ageMs: number;
  readonly lastsMs: number;
}

/** Links that let a guest see one record each. What `make` and `end` resolved for is on disk. */
export interface RecordLinks {
  make(delivery: string, record: number, days: number): Promise<{ secret: string; link: RecordLink }>;
  /** The link of a secret while it holds. */
  open(secret: string): RecordLink | null;
  holds(id: string): boolean;
  list(delivery: string, record: number): readonly RecordLink[];
  /** False when the delivery has no such link. */
  end(delivery: string, id: string): Promise<boolean>;
  kept(): KeptAccess["links"];
}

interface Entry extends Omit<RecordLink, "ageMs"> {
  readonly hash: string;
  /** Uptime of this computer, ms. */
  readonly madeAt: number;
}

/** Links by the hash of their secret, timed like sessions. */
export const openRecordLinks = (kept: KeptAccess, clock: ComputerClock, save: () => Promise<void>): RecordLinks => {
  const start = clock.uptimeMs() - sinceMs(kept.written, clock);
  const entries = new Map<string, Entry>(
    kept.links.map(({ ageMs, ...link }) => [link.id, { ...link, madeAt: start - ageMs }]),
  );
  const told = ({ id, delivery, record, lastsMs, madeAt }: Entry): RecordLink => ({
    id,
    delivery,
    record,
    lastsMs,
    ageMs: clock.uptimeMs() - madeAt,
  });
  const live = (): Entry[] => {
    for (const [id, entry] of entries) if (clock.uptimeMs() - entry.madeAt >= entry.lastsMs) entries.delete(id);
    return [...entries.values()];
  };
  return {
    make: async (delivery, record, days) => {
      const secret = newSecret();
      const hash = hashOf(secret);
      const entry = { id: ulid(), hash, delivery, record, madeAt: clock.uptimeMs(), lastsMs: days * day };
      entries.set(entry.id, entry);
      await save();
      return { secret, link: told(entry) };
    },
    open: (secret) => {
      const hash = hashOf(secret);
      const entry = live().find((one) => one.hash === hash);
      return entry ? told(entry) : null;
    },
    holds: (id) => live().some((entry) => entry.id === id),
    list: (delivery, record) =>
      live()
        .filter((entry) => entry.delivery === delivery && entry.record === record)
        .map(told),
    end: async (delivery, id) => {
      if (entries.get(id)?.delivery !== delivery) return false;
      entries.delete(id);
      await save();
      return true;
    },
    kept: () => live().map((entry) => ({ ...told(entry), hash: entry.hash })),
  };
};
