import { type DBSchema, type IDBPDatabase, openDB } from "idb";

/** What the laptop answered at an address, and when it did (ISO 8601). */
interface Kept {
  readonly at: string;
  readonly value: unknown;
}

interface Shelves extends DBSchema {
  views: { key: string; value: Kept };
}

/** The last answers of the laptop, kept on this device to be looked at where there is no signal. */
export interface KeptViews {
  keep(path: string, value: unknown): Promise<void>;
  find(path: string): Promise<Kept | null>;
  /** Forgets all: this device was signed out, so nothing of the ledger stays on it. */
  clear(): Promise<void>;
}

/** Opens the shelf of views; a browser that keeps nothing (some private windows) gets one that holds nothing. */
export const openKeptViews = async (): Promise<KeptViews> => {
  const shelves: IDBPDatabase<Shelves> | null = await openDB<Shelves>("leafledger-views", 1, {
    upgrade: (database) => {
      database.createObjectStore("views");
    },
  }).catch(() => null);
  return {
    keep: async (path, value) => {
      await shelves?.put("views", { at: new Date().toISOString(), value }, path);
    },
    find: async (path) => (await shelves?.get("views", path)) ?? null,
    clear: async () => {
      await shelves?.clear("views");
    },
  };
};
