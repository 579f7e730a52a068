import { expect, test } from "vitest";
import { startBuilt } from "../support/built-server.ts";
import { smallDelivery } from "../support/small-delivery.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";

test("the built server starts, holds a session, takes a change, and ends in order", { timeout: 60_000 }, async () => {
  const server = await startBuilt(await temporaryFolder());
  console.log(`started in ${server.startMs.toFixed(0)} ms`);
  const { status, body } = await server.call("createDelivery", {}, smallDelivery);
  expect(status).toBe(200);
  expect((await server.call("document", { delivery: body.id })).body.job.name).toBe(smallDelivery.job.name);
  server.kill("SIGTERM");
  expect(await server.ended).toEqual({ code: 0, signal: null });
});
