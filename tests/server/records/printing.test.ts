import { monitorEventLoopDelay } from "node:perf_hooks";
import { afterAll, expect, test } from "vitest";
import { canonicalJson, sha256Of } from "../../../server/records/canonical.ts";
import { printed } from "../../../server/records/printing.ts";
import { openProcessPool } from "../../../server/workers/process-pool.ts";
import { quayRecord } from "./frozen.ts";
import { quayDelivery } from "./quay-delivery.ts";

const pool = openProcessPool(1);
afterAll(() => pool.close());

test("a record of many pages is printed in a child process, byte for byte the same, and holds nobody up", async () => {
  const delivery = quayDelivery();
  for (const leaf of delivery.leaves) if (leaf.decision) leaf.decision.reason = "crushed off the lorry ".repeat(800);
  const record = quayRecord({ delivery });
  const printing = {
    sheet: "record",
    record,
    jsonSha256: sha256Of(canonicalJson(record)),
    folder: "/nowhere",
  } as const;
  await pool.run({ kind: "print", printing: { sheet: "card", id: "AB12", date: record.issuedAt } }); // it is up
  const loop = monitorEventLoopDelay({ resolution: 1 });
  loop.enable();
  const began = performance.now();
  const pdf = Buffer.from((await pool.run({ kind: "print", printing })) as Uint8Array);
  const took = performance.now() - began;
  loop.disable();
  console.log(
    `PDF of ${(pdf.length / 1000).toFixed(0)} kB in ${took.toFixed(0)} ms; the loop stood still for ${(loop.max / 1e6).toFixed(0)} ms at most`,
  );
  expect(loop.max / 1e6).toBeLessThan(500); // the bar is 50 ms where nothing else runs
  expect(pdf.equals(await printed(printing))).toBe(true);
});
