import type { Darkroom, Examined, SupplierCopy } from "../site.ts";
import type { ProcessPool } from "./process-pool.ts";

/** The darkroom over a pool of child processes. A Buffer comes back from a child as plain bytes. */
export const openDarkroom = (pool: ProcessPool): Darkroom => {
  const picture = async (job: Parameters<ProcessPool["run"]>[0]) => Buffer.from((await pool.run(job)) as Uint8Array);
  return {
    examine: (path) => pool.run({ kind: "examine", path }) as Promise<Examined>,
    preview: (path, longestPx) => picture({ kind: "preview", path, longestPx }),
    crop: (path, request) => picture({ kind: "crop", path, request }),
    supplierCopy: (path, to) => pool.run({ kind: "supplier-copy", path, to }) as Promise<SupplierCopy>,
    close: () => pool.close(),
  };
};
