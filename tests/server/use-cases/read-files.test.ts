import { monitorEventLoopDelay } from "node:perf_hooks";
import { afterAll, expect, test } from "vitest";
import { type FileRead, readFileText } from "../../../server/use-cases/read-files.ts";
import { openProcessPool } from "../../../server/workers/process-pool.ts";
import { orderCsv } from "../../support/small-delivery.ts";

const pool = openProcessPool(1);
afterAll(() => pool.close());

const read = async (csv: string): Promise<FileRead> =>
  (await pool.run({ kind: "read-file", reading: { file: "order", csv } })) as FileRead;

test("C71: an order of 5,000 rows is read in a child process as it would be here, and holds nobody up", async () => {
  const [header] = orderCsv.split("\n");
  const rows = Array.from(
    { length: 5000 },
    (_, line) => `L${line},${"x".repeat(150)},C,1,1,826,2040,44,flush,oak,FD30,1`,
  );
  const csv = [header, ...rows].join("\n");
  await read(orderCsv); // it is up
  const loop = monitorEventLoopDelay({ resolution: 1 });
  loop.enable();
  const far = await read(csv);
  loop.disable();
  console.log(`C71: ${csv.length / 1000} kB; the loop stood still for ${(loop.max / 1e6).toFixed(0)} ms at most`);
  expect(loop.max / 1e6).toBeLessThan(500); // the bar is 50 ms where nothing else runs
  expect(far).toEqual(readFileText({ file: "order", csv }));
});

test("what is refused there is refused with all its faults", async () => {
  const csv = orderCsv.replace("300,4", "dear,4.5");
  const far = await read(csv);
  expect(far).toEqual(readFileText({ file: "order", csv }));
  expect(far).toMatchObject({ kind: "refused", status: 422, faults: [{}, {}] });
});
