import { readFile, rm } from "node:fs/promises";
import { join } from "node:path";
import * as z from "zod";
import { offerWish } from "../contract/access.ts";
import { entryId, sha256 } from "../contract/ids.ts";
import { hasCode, writeDurably } from "../store/disk.ts";
import type { MadeOffer } from "./pairing.ts";

const moment = z.strictObject({ wallMs: z.number(), uptimeMs: z.number() });
const fileOffer = offerWish.extend({ id: entryId, codeHash: sha256, tokenHash: sha256, made: moment });

const pathIn = (dataFolder: string): string => join(dataFolder, "offer.json");

/**
 * Leaves an offer in the data folder, for the server that runs on it to find. Whoever can write there owns the ledger anyhow, so that no
 * further door is opened; only hashes lie in the file.
 */
export const leaveOffer = (dataFolder: string, offer: MadeOffer): Promise<void> =>
  writeDurably(pathIn(dataFolder), JSON.stringify(offer), 0o600);

/** The offer that was left there, which is gone with this; null when there is none. */
export const findOffer = async (dataFolder: string): Promise<MadeOffer | null> => {
  const path = pathIn(dataFolder);
  try {
    const offer = fileOffer.safeParse(JSON.parse(await readFile(path, "utf8")));
    await rm(path);
    return offer.success ? offer.data : null;
  } catch (error) {
    if (hasCode(error, "ENOENT")) return null;
    await rm(path, { force: true });
    return null;
  }
};
