import { Refusal } from "../problem.ts";
import type { StoreState } from "../site.ts";
import type { ClockWatch } from "./clock-watch.ts";
import { hasCode, isReadOnly } from "./disk.ts";
import type { DiskSpace, Writes } from "./disk-space.ts";

/** Whether the store may be written, and what people must know of it. One for all deliveries: they share the disk. */
export interface StoreHealth {
  readonly told: () => StoreState;
  /** Throws a Refusal where nothing may be written (503), or where there is too little room for this (507). */
  readonly check: (writes: Writes) => void;
  /** Runs what writes; a fault of the disk becomes a Refusal in words, and after a failed flush nothing more is written. */
  writing<T>(writes: Writes, task: () => Promise<T>): Promise<T>;
  /** From now on until the next start nothing is written. The first reason stays. */
  onlyRead(why: string): void;
  readonly clock: ClockWatch;
}

/** For who only looks at files of a store that is not open. */
export const unwatched: Pick<StoreHealth, "writing"> = { writing: (_writes, task) => task() };

export const folderIsReadOnly =
  "The data folder may only be read, so nothing can be entered. Allow writing in it, or copy it to where writing is allowed, and start again.";
const diskFailed =
  "The disk failed while saving, so nothing more is written. What was saved is safe and can be read. Check the disk, make a backup and start again.";
const diskFull = "The disk is full, so nothing was saved. Free some space and do it again.";
const filesOpen = "Too many files are open on this computer at present: do it again in a moment.";

/**
 * A flush that failed once may falsely succeed when tried again, since the system may have dropped what it was given (PostgreSQL,
 * data_sync_retry). A disk that gives errors is treated alike.
 */
const isDiskFault = (error: unknown): boolean =>
  hasCode(error, "EIO", "ENXIO", "ENODEV", "ESTALE") ||
  (error instanceof Error && "syscall" in error && (error.syscall === "fsync" || error.syscall === "fdatasync"));

export const storeHealth = (
  space: DiskSpace,
  clock: ClockWatch,
  /** Null while this process is the one that may write, else why it is not. */
  whyNotMine: () => Promise<string | null>,
): StoreHealth => {
  let readOnly: string | null = null;
  const onlyRead = (why: string): void => {
    readOnly ??= why;
  };
  const check = (writes: Writes): void => {
    if (readOnly !== null) throw new Refusal(readOnly, 503);
    space.check(writes);
  };
  const inWords = (error: unknown): unknown => {
    if (isDiskFault(error)) onlyRead(diskFailed);
    if (hasCode(error, "EROFS")) onlyRead(folderIsReadOnly);
    if (readOnly !== null) return new Refusal(readOnly, 503);
    if (isReadOnly(error)) return new Refusal(folderIsReadOnly, 503);
    if (hasCode(error, "ENOSPC", "EDQUOT")) return new Refusal(diskFull, 507);
    return hasCode(error, "EMFILE", "ENFILE") ? new Refusal(filesOpen, 503) : error;
  };
  return {
    told: () => ({ readOnly, disk: space.told(), clock: clock.told() }),
    check,
    writing: async (writes, task) => {
      check(writes);
      try {
        const taken = await whyNotMine();
        if (taken !== null) onlyRead(taken);
        check(writes);
        return await task();
      } catch (error) {
        throw error instanceof Refusal ? error : inWords(error);
      }
    },
    onlyRead,
    clock,
  };
};
