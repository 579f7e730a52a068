import { mkdir, readFile, rename, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import type { MeasurementFiles } from "../site.ts";

/** Results of measuring in `measurements/ab/abcdef….json`. Not flushed: what is lost or torn is measured again. */
export const measurementFiles = (folder: string): MeasurementFiles => {
  const path = (sha256: string): string => join(folder, sha256.slice(0, 2), `${sha256}.json`);
  return {
    read: async (sha256) => {
      try {
        return JSON.parse(await readFile(path(sha256), "utf8")) as unknown;
      } catch {
        return null;
      }
    },
    write: async (sha256, measurement) => {
      const place = path(sha256);
      await mkdir(dirname(place), { recursive: true });
      await writeFile(`${place}.tmp`, JSON.stringify(measurement));
      await rename(`${place}.tmp`, place);
    },
  };
};
