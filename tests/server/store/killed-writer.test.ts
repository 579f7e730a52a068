import { describe, expect, test } from "vitest";
import { openStore } from "../../../server/store/store.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { ended, firstLine, startScript } from "../../support/tsx-process.ts";
import { testNow, writeDelivery, writtenId } from "../../support/written-delivery.ts";

const kills = 8;

describe("a writer killed at a random moment", () => {
  test(`${kills} times: everything it acknowledged is there, and the delivery opens`, {
    timeout: 120_000,
  }, async () => {
    const folder = await temporaryFolder();
    await writeDelivery(folder, 0);
    let acknowledged = 0;
    for (let kill = 0; kill < kills; kill++) {
      const child = startScript("tests/support/counting-writer.ts", folder);
      let printed = "";
      child.stdout.on("data", (data) => {
        printed += String(data);
      });
      await firstLine(child);
      await new Promise((done) => setTimeout(done, (kill * 37) % 80));
      child.kill("SIGKILL");
      await ended(child);
      const counts = printed.split("\n").slice(0, -1).map(Number);
      acknowledged = Math.max(acknowledged, ...counts);
      const store = await openStore(folder, testNow);
      expect([...store.damaged]).toEqual([]);
      const counted = store.open(writtenId).read().lines[0]?.counted ?? 0;
      expect(counted).toBeGreaterThanOrEqual(acknowledged);
      expect(counted).toBeLessThanOrEqual(acknowledged + 1);
      await store.close();
    }
    expect(acknowledged).toBeGreaterThan(kills);
  });
});
