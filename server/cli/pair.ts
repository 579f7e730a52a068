import { computerClock } from "../access/computer-clock.ts";
import { leaveOffer } from "../access/offer-file.ts";
import { makeOffer } from "../access/pairing.ts";
import { readConfig } from "../config.ts";
import { deliveryId } from "../contract/ids.ts";
import { say } from "./say.ts";

export interface PairOptions {
  readonly json: boolean;
  readonly role: "hand" | "foreman";
  readonly delivery?: string;
  readonly device: string;
  readonly data?: string;
}

/** Makes a code that lets one device in, for the server that runs on the data folder. */
export const pair = async (options: PairOptions): Promise<void> => {
  const { dataFolder } = readConfig({
    ...process.env,
    ...(options.data === undefined ? {} : { LEAFLEDGER_DATA: options.data }),
  });
  const delivery = options.delivery === undefined ? null : deliveryId.parse(options.delivery);
  const { offer, code } = makeOffer({ role: options.role, delivery, device: options.device }, computerClock);
  await leaveOffer(dataFolder, offer);
  const typed = `${code.slice(0, 4)} ${code.slice(4)}`;
  say(
    options.json,
    { code },
    () => `Open /pair on the device and type ${typed}. It lets one ${options.role} in, within ten minutes.`,
  );
};
