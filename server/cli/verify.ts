import { existsSync } from "node:fs";
import { readConfig } from "../config.ts";
import { type LookedOver, lookOver } from "../keep/look-over.ts";
import { deliveriesIn, folderOf } from "../keep/read-ledger.ts";
import { Refusal } from "../problem.ts";
import { say } from "./say.ts";

/** What a look over found, for a terminal. */
export const lookedOverWords = (results: readonly LookedOver[]): string =>
  results
    .flatMap(({ delivery, checked, faults }) =>
      faults.length === 0
        ? [`${delivery}: sound, ${checked} things checked.`]
        : faults.map((fault) => `${delivery}: ${fault}`),
    )
    .join("\n");

/** Whether nothing was found. */
export const isSound = (results: readonly LookedOver[]): boolean => results.every(({ faults }) => faults.length === 0);

/** The data folder that the options or the environment name; refused where there is none. */
export const existingDataFolder = (options: { readonly data?: string }): string => {
  const { dataFolder } = readConfig({
    ...process.env,
    ...(options.data === undefined ? {} : { LEAFLEDGER_DATA: options.data }),
  });
  if (!existsSync(dataFolder)) throw new Refusal(`There is no data folder ${dataFolder}.`);
  return dataFolder;
};

/** The delivery named, or all in the folder when none is; refused where there is none of that name. */
export const deliveriesNamed = async (dataFolder: string, delivery: string | undefined): Promise<string[]> => {
  const all = await deliveriesIn(dataFolder);
  if (delivery === undefined) return all;
  if (!all.includes(delivery)) throw new Refusal(`There is no delivery ${delivery} in ${dataFolder}.`);
  return [delivery];
};

/** Checks journals, photos and records of one delivery or of all, beside a running server too; gives whether all are sound. */
export const verify = async (
  delivery: string | undefined,
  options: { readonly json: boolean; readonly data?: string },
): Promise<boolean> => {
  const dataFolder = existingDataFolder(options);
  const results: LookedOver[] = [];
  for (const id of await deliveriesNamed(dataFolder, delivery))
    results.push(await lookOver(id, folderOf(dataFolder, id)));
  const sound = isSound(results);
  say(options.json, { sound, deliveries: results }, () => lookedOverWords(results) || "There is no delivery to check.");
  return sound;
};
