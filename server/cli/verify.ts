import { existsSync } from "node:fs";
import { readConfig } from "../config.ts";
import { Refusal } from "../problem.ts";
import { openStore } from "../store/store.ts";
import { say } from "./say.ts";

interface Verified {
  readonly delivery: string;
  readonly checked: number;
  readonly faults: readonly string[];
}

/** Checks journals, photos and records of one delivery or of all; gives whether all are sound. */
export const verify = async (
  delivery: string | undefined,
  options: { readonly json: boolean; readonly data?: string },
): Promise<boolean> => {
  const { dataFolder } = readConfig({
    ...process.env,
    ...(options.data === undefined ? {} : { LEAFLEDGER_DATA: options.data }),
  });
  if (!existsSync(dataFolder)) throw new Refusal(`There is no data folder ${dataFolder}.`);
  const store = await openStore(dataFolder, () => new Date().toISOString());
  try {
    const all = [...store.list(), ...store.damaged.keys()].sort();
    if (delivery !== undefined && !all.includes(delivery))
      throw new Refusal(`There is no delivery ${delivery} in ${dataFolder}.`);
    const results: Verified[] = [];
    for (const id of delivery === undefined ? all : [delivery]) {
      const damage = store.damaged.get(id);
      results.push(
        damage === undefined
          ? { delivery: id, ...(await store.open(id).verify()) }
          : { delivery: id, checked: 0, faults: [damage] },
      );
    }
    const sound = results.every(({ faults }) => faults.length === 0);
    say(
      options.json,
      { sound, deliveries: results },
      () =>
        results
          .flatMap(({ delivery: id, checked, faults }) =>
            faults.length === 0
              ? [`${id}: sound, ${checked} things checked.`]
              : faults.map((fault) => `${id}: ${fault}`),
          )
          .join("\n") || "There is no delivery to check.",
    );
    return sound;
  } finally {
    await store.close();
  }
};
