import { stat } from "node:fs/promises";
import { expect, onTestFinished, test } from "vitest";
import { openStore } from "../../../server/store/store.ts";
import { largeCode, writeLargeLedger } from "../../support/large-ledger.ts";
import { by } from "../../support/small-delivery.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { journalPath, testNow, writtenId } from "../../support/written-delivery.ts";

/** Machines are shared: three times the bar. Figures are printed; `tests/bench/large-ledger.ts` has more. */
const longestOpeningMs = 9000;

test("B11: 5,000 leaves and 20,000 photos open from the journal alone and from a snapshot; an edit writes a line below 10 kB", {
  timeout: 60_000,
}, async () => {
  const folder = await temporaryFolder();
  await writeLargeLedger(folder);
  for (const from of ["the journal", "a snapshot"]) {
    const started = performance.now();
    const store = await openStore(folder, testNow);
    onTestFinished(() => store.close());
    const ms = performance.now() - started;
    console.log(`B11: opens from ${from} in ${Math.round(ms)} ms`);
    expect(ms).toBeLessThan(longestOpeningMs);
    expect(store.open(writtenId).read().photos.length).toBe(20_000);
    const { size } = await stat(journalPath(folder));
    await store.open(writtenId).change(by, "Weighed", (draft) => {
      const leaf = draft.leaves.find(({ code }) => code === largeCode(4321));
      if (leaf) leaf.massKg = (leaf.massKg ?? 30) + 1;
    });
    expect((await stat(journalPath(folder))).size - size).toBeLessThan(10_000);
    await store.close();
  }
});
