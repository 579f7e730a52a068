import { readFile, rename } from "node:fs/promises";
import { join } from "node:path";
import * as z from "zod";
import { session } from "../contract/access.ts";
import { deliveryId, entryId, sha256 } from "../contract/ids.ts";
import { hasCode, writeDurably } from "../store/disk.ts";
import { oneAtATime } from "../store/one-at-a-time.ts";

const length = z.number().nonnegative();

/** What is kept on disk of who is let in: hashes of the secrets, and how old each was when it was written. */
export const keptAccess = z.strictObject({
  version: z.literal(1),
  written: z.strictObject({ wallMs: z.number(), uptimeMs: z.number() }),
  sessions: z.array(session.extend({ hash: sha256, ageMs: length, idleMs: length, link: entryId.nullable() })),
  links: z.array(
    z.strictObject({
      id: entryId,
      hash: sha256,
      delivery: deliveryId,
      record: z.number().int(),
      ageMs: length,
      lastsMs: length,
    }),
  ),
});
export type KeptAccess = z.infer<typeof keptAccess>;

/** Where it is kept; `save` resolves once it is on disk. */
export interface AccessShelf {
  readonly kept: KeptAccess;
  save(kept: KeptAccess): Promise<void>;
}

export const nobody: KeptAccess = { version: 1, written: { wallMs: 0, uptimeMs: 0 }, sessions: [], links: [] };

/**
 * Opens `access.json` in the data folder, readable to its owner alone. One that cannot be read is laid aside and nobody is let in any more:
 * phones are paired anew.
 */
export const openAccessShelf = async (dataFolder: string): Promise<AccessShelf> => {
  const path = join(dataFolder, "access.json");
  const writing = oneAtATime();
  const read = async (): Promise<KeptAccess> => {
    try {
      return keptAccess.parse(JSON.parse(await readFile(path, "utf8")));
    } catch (error) {
      if (!hasCode(error, "ENOENT")) await rename(path, `${path}.damaged`);
      return nobody;
    }
  };
  return {
    kept: await read(),
    save: (kept) => writing.run(() => writeDurably(path, JSON.stringify(kept), 0o600)),
  };
};
