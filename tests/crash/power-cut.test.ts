import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { describe, expect, test } from "vitest";
import { openStore } from "../../server/store/store.ts";
import { type BuiltServer, startBuilt } from "../support/built-server.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";
import { testNow } from "../support/written-delivery.ts";
import { lostOrHalf } from "./check-kept.ts";
import { diskImage, whyNoDiskImage } from "./disk-image.ts";
import { powerCuts } from "./how-often.ts";
import {
  type Acked,
  asOfNow,
  beginDelivery,
  countOf,
  enterReading,
  issueRecord,
  nothingAcked,
  randomOf,
  sendPhoto,
  sendPhotoInParts,
  startLoad,
  writeDecided,
} from "./ledger-load.ts";

const place = await mkdtemp(join(tmpdir(), "leafledger-image-"));
const whyNot = whyNoDiskImage(place);
await rm(place, { recursive: true });
if (whyNot) console.log(`A2 skipped: ${whyNot}.`);

/** Opens a disk after a power cut and says what is lost; then opens it as the program would. */
const opened = async (folder: string, acked: Acked): Promise<string[]> => {
  const lost = await lostOrHalf(folder, acked);
  const store = await openStore(folder, testNow);
  const damaged = [...store.damaged].map(([id, why]) => `${id}: ${why}`);
  await store.close();
  return [...lost, ...damaged];
};

describe.skipIf(whyNot !== null).each([
  ["as Linux mounts it", "", powerCuts.usual],
  ["without flushing what is renamed (noauto_da_alloc)", ",noauto_da_alloc", powerCuts.noFlushOnRename],
])("the power cut on a disk %s", (_, options, cuts) => {
  test(`A2: ${cuts} cuts: nothing acknowledged is lost, no photo is empty or another`, {
    timeout: 600_000,
  }, async () => {
    const disk = diskImage(await temporaryFolder(), options);
    const [acked, random] = [nothingAcked(), randomOf(cuts)];
    let server: BuiltServer | null = null;
    try {
      await writeDecided(disk.folder);
      server = await startBuilt(disk.folder);
      const load = startLoad(server, [sendPhoto, sendPhotoInParts, enterReading, issueRecord, beginDelivery], acked);
      for (let cut = 0; cut < cuts; cut++) {
        for (const before = countOf(acked); countOf(acked) === before; ) await wait(2);
        await wait(random() * 80);
        server.kill("SIGSTOP");
        const known = asOfNow(acked);
        expect(await disk.afterPowerCut((folder) => opened(folder, known))).toEqual([]);
        server.kill("SIGCONT");
      }
      load.stop();
      await load.over;
      expect(load.odd).toEqual([]);
      console.log(`${cuts} power cuts, ${countOf(acked)} acknowledged`);
    } finally {
      server?.kill("SIGKILL");
      await server?.ended;
      disk.unmount();
    }
  });
});
