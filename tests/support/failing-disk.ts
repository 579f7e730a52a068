import type { FileHandle } from "node:fs/promises";
import { type Disk, nodeDisk } from "../../server/store/disk.ts";

const systemCalls: Readonly<Record<string, string>> = { sync: "fsync", datasync: "fdatasync", write: "write" };

/** An error as Node gives it. */
export const diskError = (code: string, call: string): Error =>
  Object.assign(new Error(`${code}, ${call}`), { code, syscall: systemCalls[call] ?? call });

type Call = (...args: unknown[]) => Promise<unknown>;

/**
 * A disk that counts its calls, those on open files too, and throws what `fault` says of the n-th one. A write at a place
 * that fails has written all but its last byte, one of a whole file half of it.
 */
export const failingDisk = (fault: (n: number, call: string) => Error | null): { disk: Disk; calls: () => number } => {
  let calls = 0;
  const counted =
    (name: string, call: Call, half: Call): Call =>
    async (...args) => {
      calls += 1;
      const error = fault(calls, name);
      if (!error) return call(...args);
      await half(...args);
      throw error;
    };
  const nothing: Call = async () => undefined;
  const watched = (handle: FileHandle): FileHandle =>
    new Proxy(handle, {
      get: (target, name) => {
        const own: unknown = Reflect.get(target, name);
        if (typeof own !== "function") return own;
        const call = own.bind(target) as Call;
        const half: Partial<Record<PropertyKey, Call>> = {
          write: (bytes, offset, length, at) => call(bytes, offset, Number(length) - 1, at),
          writeFile: (bytes) => call((bytes as Buffer).slice(0, (bytes as Buffer).length / 2)),
          close: call,
        };
        return counted(String(name), call, half[name] ?? nothing);
      },
    });
  const disk = Object.fromEntries(
    Object.entries(nodeDisk).map(([name, call]) => [name, counted(name, call as Call, nothing)]),
  ) as unknown as Disk;
  const open = disk.open;
  return {
    disk: { ...disk, open: (async (...args) => watched(await open(...args))) as Disk["open"] },
    calls: () => calls,
  };
};
