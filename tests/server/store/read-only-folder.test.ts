import { chmod, readdir, readFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { describe, expect, onTestFinished, test } from "vitest";
import { openStore } from "../../../server/store/store.ts";
import { newDelivery } from "../../../server/use-cases/create-delivery.ts";
import { by, smallDelivery } from "../../support/small-delivery.ts";
import { smallDisk, whyNoMount } from "../../support/small-disk.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { firstLine, startScript } from "../../support/tsx-process.ts";
import { journalPath, testNow, writeDelivery, writtenId } from "../../support/written-delivery.ts";

const sentence = /^The data folder may only be read, so nothing can be entered\./;

const unmarked = (folder: string): Promise<unknown> =>
  Promise.all([readFile(journalPath(folder)), readdir(folder), readdir(dirname(journalPath(folder)))]);

describe.skipIf(whyNoMount() !== null)("A5: a folder that may only be read", () => {
  test("mounted read-only: opens with a sentence, reads all, refuses every write with 503, leaves every byte", async () => {
    const { folder, remount } = await smallDisk(2);
    await writeDelivery(folder, 3, { room: { warn: 0, photos: 0, reserve: 0 } });
    const before = await unmarked(folder);
    remount("ro");
    const store = await openStore(folder, testNow);
    onTestFinished(() => store.close());
    expect(store.health().readOnly).toMatch(sentence);
    const delivery = store.open(writtenId);
    expect(delivery.read().lines[0]?.counted).toBe(3);
    expect(delivery.history().length).toBe(4);
    expect((await delivery.verify()).faults).toEqual([]);
    const refused = expect.objectContaining({ status: 503, message: expect.stringMatching(sentence) });
    await expect(
      delivery.change(by, "x", (draft) => {
        draft.job.site = "x";
      }),
    ).rejects.toEqual(refused);
    await expect(delivery.undo(by, 4)).rejects.toEqual(refused);
    await expect(delivery.photos.keep("/nowhere", "a".repeat(64))).rejects.toEqual(refused);
    await expect(delivery.records.write(1, "{}", Buffer.from(""))).rejects.toEqual(refused);
    await expect(store.create(by, newDelivery("other", smallDelivery))).rejects.toEqual(refused);
    expect(() => store.check("photo")).toThrow(refused);
    expect(await unmarked(folder)).toEqual(before);
    remount("rw");
    expect(() => store.check("entry"), "it stays so until the next start").toThrow(refused);
  });

  test("without the right to write in it, as another user: the same", { timeout: 20_000 }, async () => {
    const folder = await temporaryFolder();
    await writeDelivery(folder, 3);
    for (const part of [folder, join(folder, "deliveries"), dirname(journalPath(folder))]) await chmod(part, 0o555);
    const said = await firstLine(startScript("tests/support/read-only-reader.ts", folder));
    expect(JSON.parse(said)).toEqual({ readOnly: expect.stringMatching(sentence), counted: 3, answer: 503 });
  });
});
