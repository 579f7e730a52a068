import { readFile, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import type { MeasurementFiles } from "../site.ts";
import type { Disk } from "./disk.ts";
import type { StoreHealth } from "./store-health.ts";

/** Results of measuring in `measurements/ab/abcdef….json`. Not flushed: what is lost or torn is measured again. */
export const measurementFiles = (folder: string, disk: Disk, health: StoreHealth): MeasurementFiles => {
  const path = (sha256: string): string => join(folder, sha256.slice(0, 2), `${sha256}.json`);
  return {
    read: async (sha256) => {
      try {
        return JSON.parse(await readFile(path(sha256), "utf8")) as unknown;
      } catch {
        return null;
      }
    },
    write: (sha256, measurement) =>
      health.writing("file", async () => {
        const place = path(sha256);
        await disk.mkdir(dirname(place), { recursive: true });
        await writeFile(`${place}.tmp`, JSON.stringify(measurement));
        await disk.rename(`${place}.tmp`, place);
      }),
  };
};
