import { mkdir, readdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, onTestFinished, test } from "vitest";
import { openStore } from "../../../server/store/store.ts";
import { newDelivery } from "../../../server/use-cases/create-delivery.ts";
import { by, smallDelivery } from "../../support/small-delivery.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { testNow, writeDelivery, writtenId } from "../../support/written-delivery.ts";

test("a delivery is made once, however many ask at the same time", async () => {
  const store = await openStore(await temporaryFolder(), testNow);
  onTestFinished(() => store.close());
  const asked = await Promise.allSettled([1, 2, 3].map(() => store.create(by, newDelivery(writtenId, smallDelivery))));
  expect(asked.map(({ status }) => status)).toEqual(["fulfilled", "rejected", "rejected"]);
  expect(store.list()).toEqual([writtenId]);
  expect(store.open(writtenId).head().seq).toBe(1);
});

test("one that was cut off while it was made is swept, and so is what was left in a temporary folder", async () => {
  const folder = await temporaryFolder();
  await writeDelivery(folder, 1);
  const deliveries = join(folder, "deliveries");
  await mkdir(join(deliveries, ".making-other"));
  await writeFile(join(deliveries, writtenId, "tmp", "half-a-photo"), "x");
  const store = await openStore(folder, testNow);
  onTestFinished(() => store.close());
  expect(await readdir(deliveries)).toEqual([writtenId]);
  expect(await readdir(store.open(writtenId).temporaryFolder)).toEqual([]);
});

test("a delivery that is not there is a 404, one that is damaged a 503 with the reason, and no other takes its name", async () => {
  const folder = await temporaryFolder();
  await writeDelivery(folder, 1);
  await writeFile(join(folder, "deliveries", writtenId, "journal.jsonl"), "{}\n");
  const store = await openStore(folder, testNow);
  onTestFinished(() => store.close());
  expect(() => store.open("nosuch")).toThrow(expect.objectContaining({ status: 404 }));
  expect(() => store.open(writtenId)).toThrow(
    expect.objectContaining({ status: 503, message: expect.stringMatching(/line 1/) }),
  );
  await expect(store.create(by, newDelivery(writtenId, smallDelivery))).rejects.toThrow(/already/);
});
