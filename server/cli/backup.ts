import { resolve } from "node:path";
import { backUp } from "../keep/back-up.ts";
import { Refusal } from "../problem.ts";
import { say } from "./say.ts";
import { deliveriesNamed, existingDataFolder, isSound, lookedOverWords } from "./verify.ts";

export interface BackupOptions {
  readonly json: boolean;
  readonly to: string;
  readonly data?: string;
}

/** Backs one delivery up, or all, beside a running server too; gives whether everything in the backup is sound. */
export const backup = async (delivery: string | undefined, options: BackupOptions): Promise<boolean> => {
  const dataFolder = existingDataFolder(options);
  const ids = await deliveriesNamed(dataFolder, delivery);
  if (ids.length === 0) throw new Refusal(`There is no delivery in ${dataFolder} to back up.`);
  const to = resolve(options.to);
  const { list, found } = await backUp(dataFolder, ids, to, new Date().toISOString());
  const sound = isSound(found);
  say(options.json, { sound, to, ...list, found }, () =>
    [
      ...list.deliveries.map(
        ({ delivery: id, name, lines, photos, records }) =>
          `${id} (${name}): ${lines} changes, ${photos} photos, ${records} records.`,
      ),
      lookedOverWords(found),
      `The backup is in ${to}. Names, pairings and measurements are not in it.`,
    ].join("\n"),
  );
  return sound;
};
