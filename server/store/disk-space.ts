import { statfsSync } from "node:fs";
import { Refusal } from "../problem.ts";

/** What is written, by how much of the disk must be free for it. */
export type Writes = "photo" | "file" | "entry";

/** Free space, bytes. A test sets its own for a disk of 2 MB. */
export interface RoomLimits {
  /** Below it every page warns. */
  readonly warn: number;
  /** Below it no photo is taken in: one photo of 12 MP has 4 MB, and its measurement and pictures come to it. */
  readonly photos: number;
  /** Below it nothing but the journal is written, so that entries can still be saved: a line has about 1 kB. */
  readonly reserve: number;
}

export const roomLimits: RoomLimits = { warn: 2e9, photos: 500e6, reserve: 50e6 };

/** How much is free on the disk of a data folder, looked at no more often than once a second. */
export interface DiskSpace {
  /** A sentence where space is short. */
  told(): string | null;
  /** Throws a Refusal (507) where there is too little room for this. */
  check(writes: Writes): void;
}

const inWords = (bytes: number): string =>
  bytes < 1e9 ? `${Math.floor(bytes / 1e6)} MB` : `${(Math.floor(bytes / 1e8) / 10).toFixed(1)} GB`;

const oldestMs = 1000;

/** Bytes that are free for us; all there could be where the disk does not tell. */
const freeOn = (folder: string): number => {
  try {
    const { bavail, bsize } = statfsSync(folder);
    return bavail * bsize;
  } catch {
    return Number.POSITIVE_INFINITY;
  }
};

export const diskSpace = (folder: string, limits: RoomLimits): DiskSpace => {
  let looked = { at: Number.NEGATIVE_INFINITY, free: 0 };
  const free = (): number => {
    const at = performance.now();
    if (at - looked.at > oldestMs) looked = { at, free: freeOn(folder) };
    return looked.free;
  };
  const nothingElse = (left: number): string =>
    `The disk is nearly full (${inWords(left)} free), so only entries are saved. Free some space on it.`;
  const noPhotos = (left: number): string =>
    `Only ${inWords(left)} are free on the disk, so no photos are taken in until ${inWords(limits.photos)} are. Free some space on it; entries are still saved.`;
  return {
    told: () => {
      const left = free();
      if (left < limits.reserve) return nothingElse(left);
      if (left < limits.photos) return noPhotos(left);
      if (left < limits.warn)
        return `Only ${inWords(left)} are free on the disk. Free some space: below ${inWords(limits.photos)} no photos are taken in.`;
      return null;
    },
    check: (writes) => {
      if (writes === "entry") return;
      const left = free();
      if (left < limits.reserve) throw new Refusal(nothingElse(left), 507);
      if (writes === "photo" && left < limits.photos) throw new Refusal(noPhotos(left), 507);
    },
  };
};
