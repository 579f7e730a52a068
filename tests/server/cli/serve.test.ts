import { expect, onTestFinished, test } from "vitest";
import { usualRates } from "../../../server/access/rates.ts";
import { paths } from "../../../server/contract/paths.ts";
import { addressOf, startBuilt } from "../../support/built-server.ts";
import { smallDelivery } from "../../support/small-delivery.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";

/** Loaded before the server: a fault that nobody catches, thrown or as a promise, whenever the signal comes. */
const faulty = {
  thrown: "process.on('SIGUSR2', () => { throw new Error('planted'); });",
  promised: "process.on('SIGUSR2', () => { void Promise.reject(new Error('planted')); });",
};

test.each(["thrown", "promised"] as const)(
  "D15: a fault that nobody caught, %s, is told and ends the server with 1; what was saved is there at the next start",
  { timeout: 60_000 },
  async (how) => {
    const data = await temporaryFolder();
    const code = encodeURIComponent(faulty[how]).replaceAll("'", "%27");
    const server = await startBuilt(data, { env: { NODE_OPTIONS: `--import data:text/javascript,${code}` } });
    const { body } = await server.call("createDelivery", {}, smallDelivery);
    server.kill("SIGUSR2");
    expect(await server.ended).toEqual({ code: 1, signal: null });
    expect(server.errors()).toMatch(/A fault ended the server: Error: planted\n\s+at /);
    const again = await startBuilt(data, { cookie: server.headers.cookie });
    onTestFinished(() => again.kill("SIGKILL"));
    expect((await again.call("overview", { delivery: body.id })).status).toBe(200);
  },
);

test("D12: as it is started, a device sends 60 photos a minute, and is told when to go on", {
  timeout: 60_000,
}, async () => {
  const server = await startBuilt(await temporaryFolder(), { env: { LEAFLEDGER_RATES: undefined } });
  onTestFinished(() => server.kill("SIGKILL"));
  const { body } = await server.call("createDelivery", {}, smallDelivery);
  const path = addressOf(paths.uploadPhoto[1], { delivery: body.id });
  const send = async () => {
    const { status, headers } = await fetch(`${server.address}${path}`, { method: "POST", headers: server.headers });
    return { status, again: Number(headers.get("retry-after")) };
  };
  expect(usualRates.uploads).toBe(60);
  for (let sent = 0; sent < 60; sent++) expect((await send()).status).toBe(415);
  const { status, again } = await send();
  expect(status).toBe(429);
  expect(again).toBeGreaterThan(0);
  expect(again).toBeLessThanOrEqual(60);
  expect((await server.call("listDeliveries")).status).toBe(200);
});
