import { readFile } from "node:fs/promises";
import * as fc from "fast-check";
import { expect, test } from "vitest";
import { nodeDisk } from "../../../server/store/disk.ts";
import { readJournalText } from "../../../server/store/journal-line.ts";
import { openStore } from "../../../server/store/store.ts";
import { newDelivery } from "../../../server/use-cases/create-delivery.ts";
import { diskError, failingDisk } from "../../support/failing-disk.ts";
import { by, smallDelivery } from "../../support/small-delivery.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { journalPath, testNow, writtenId } from "../../support/written-delivery.ts";

/** A change of the script: how many turns of the event loop its recipe and its caller wait, and whether it throws or is taken back. */
const step = fc.record({
  before: fc.integer({ min: 0, max: 3 }),
  inside: fc.integer({ min: 0, max: 3 }),
  kind: fc.constantFrom("count", "count", "count", "throw", "nothing", "undo"),
});

const turns = async (count: number): Promise<void> => {
  for (let turn = 0; turn < count; turn++) await new Promise((done) => setImmediate(done));
};

test("changes at once: each sees all before it, readers see only what is on disk, the file is one sound chain of what was answered", async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.array(step, { minLength: 1, maxLength: 25 }),
      fc.option(fc.integer({ min: 0, max: 12 })),
      async (steps, fails) => {
        const folder = await temporaryFolder();
        let written = 0;
        let armed = false;
        const { disk } = failingDisk((_, call) =>
          armed && call === "write" && written++ === fails ? diskError("ENOSPC", call) : null,
        );
        const store = await openStore(folder, testNow, { disk: fails === null ? nodeDisk : disk });
        const delivery = await store.create(by, newDelivery(writtenId, smallDelivery));
        armed = true;
        const saved = new Map<number, number>();
        let seen = 0;
        const reader = setInterval(() => {
          const { seq } = delivery.head();
          expect(seq).toBeGreaterThanOrEqual(seen);
          seen = seq;
        }, 1);
        const run = async ({ before, inside, kind }: (typeof steps)[number], index: number): Promise<void> => {
          await turns(before);
          if (kind === "undo") {
            await delivery.undo(by, delivery.head().seq).catch(() => undefined);
            return;
          }
          const change = delivery.change(by, `Step ${index}`, async (draft, { document, head }) => {
            const line = draft.lines[0];
            const base = document.lines[0]?.counted ?? 0;
            await turns(inside);
            if (kind === "throw") throw new Error("no");
            if (line && kind === "count") line.counted = base + 1;
            return { base, after: head.seq };
          });
          const answer = await change.catch(() => null);
          if (!answer) return;
          const { seq, result } = answer;
          expect(seq).toBe(kind === "count" ? result.after + 1 : result.after);
          expect(delivery.head().seq, "what was answered is seen").toBeGreaterThanOrEqual(seq);
          if (kind === "count") saved.set(seq, result.base + 1);
        };
        await Promise.all(steps.map(run));
        clearInterval(reader);
        const head = delivery.head();
        await store.close();
        const text = readJournalText(await readFile(journalPath(folder)));
        if (text.kind === "damaged") throw new Error(text.why);
        expect(text.lines.at(-1)).toMatchObject(head);
        for (const [seq, counted] of saved)
          expect(JSON.stringify(text.lines[seq - 1]?.patches)).toContain(`"value":${counted}`);
      },
    ),
    { numRuns: 60, seed: 20_261_125 },
  );
}, 60_000);

test("changes that wait together share a flush", async () => {
  const folder = await temporaryFolder();
  let flushes = 0;
  const { disk } = failingDisk((_, call) => {
    if (call === "datasync") flushes++;
    return null;
  });
  const store = await openStore(folder, testNow, { disk });
  const delivery = await store.create(by, newDelivery(writtenId, smallDelivery));
  const counts = Array.from({ length: 100 }, (_, index) => index + 1);
  await Promise.all(
    counts.map((counted) =>
      delivery.change(by, `Counted ${counted}`, (draft) => {
        const line = draft.lines[0];
        if (line) line.counted = counted;
      }),
    ),
  );
  expect(delivery.read().lines[0]?.counted).toBe(100);
  expect(flushes).toBeLessThan(20);
  console.log(`100 changes at once: ${flushes} flushes`);
  await store.close();
});
