import { type DBSchema, openDB } from "idb";
import type { KeptPhoto, PhotoShelf } from "./upload-queue.ts";

interface Shelves extends DBSchema {
  photos: { key: string; value: KeptPhoto };
}

/** The shelf on this phone's own disk (IndexedDB). */
export const openPhotoShelf = async (): Promise<PhotoShelf> => {
  const shelves = await openDB<Shelves>("leafledger", 1, {
    upgrade: (database) => {
      database.createObjectStore("photos", { keyPath: "id" });
    },
  });
  return {
    all: () => shelves.getAll("photos"),
    put: async (photo) => {
      await shelves.put("photos", photo);
    },
    remove: (id) => shelves.delete("photos", id),
  };
};
