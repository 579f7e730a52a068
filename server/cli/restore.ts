import { resolve } from "node:path";
import { readConfig } from "../config.ts";
import { restore as restoreInto } from "../keep/restore.ts";
import { say } from "./say.ts";
import { isSound, lookedOverWords } from "./verify.ts";

export interface RestoreOptions {
  readonly json: boolean;
  readonly from: string;
  readonly data?: string;
}

/** Brings one delivery of a backup back, or all; gives whether everything in it is sound. */
export const restore = async (delivery: string | undefined, options: RestoreOptions): Promise<boolean> => {
  const { dataFolder } = readConfig({
    ...process.env,
    ...(options.data === undefined ? {} : { LEAFLEDGER_DATA: options.data }),
  });
  const { deliveries, found } = await restoreInto(resolve(options.from), delivery, dataFolder);
  const sound = isSound(found);
  say(options.json, { sound, deliveries, found }, () =>
    [
      ...deliveries.map(
        ({ delivery: id, lines, photos, records }) =>
          `Restored ${id}: ${lines} changes, ${photos} photos, ${records} records.`,
      ),
      lookedOverWords(found),
    ].join("\n"),
  );
  return sound;
};
