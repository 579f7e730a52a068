import { truncate, unlink } from "node:fs/promises";
import { expect, test, vi } from "vitest";
import { openScrub } from "../../../server/keep/scrub.ts";
import { openStore } from "../../../server/store/store.ts";
import { keptPhoto, writeKept } from "../../support/kept-delivery.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { testNow, writtenId } from "../../support/written-delivery.ts";

test("A11: photos damaged while the program runs are known to be, and sound ones stay so", async () => {
  const data = await temporaryFolder();
  const [sound = "", cut = "", gone = ""] = await writeKept(data, 3, 0);
  const store = await openStore(data, testNow);
  const { photos } = store.open(writtenId);
  const scrub = openScrub(store, { first: 1, between: 1, rest: 20 });
  await truncate(keptPhoto(data, cut), 10);
  await unlink(keptPhoto(data, gone));
  await vi.waitFor(() => expect([cut, gone].map((id) => photos.damage(id))).toEqual(["changed", "missing"]));
  expect(photos.damage(sound)).toBe(null);
  expect([sound, cut, gone].map((id) => photos.has(id))).toEqual([true, false, false]);
  scrub.close();
  await store.close();
});
