import { expect, onTestFinished, test } from "vitest";
import { openPlanning } from "../../../server/workers/planning.ts";
import { apiOf } from "../../support/http.ts";
import { testSite } from "../../support/test-site.ts";

test("nothing to stop is said so, and an unknown delivery is not there", async () => {
  const site = await testSite();
  onTestFinished(() => site.remove());
  const api = apiOf(site);
  const delivery = await api.begin();
  expect((await api.call("stopPlanning", { delivery }, {}).expect(200)).body).toEqual({ stopped: false });
  await api.call("stopPlanning", { delivery: "nosuch" }, {}).expect(404);
});

test("a plan being made can be stopped; a second one is refused meanwhile, in words", { timeout: 30_000 }, async () => {
  const planning = openPlanning();
  onTestFinished(() => planning.close());
  const site = await testSite({ planning, lightness: { "W01/A": 60, "W01/B": 61 } });
  onTestFinished(() => site.remove());
  const api = apiOf(site);
  const delivery = await api.begin();
  for (const code of ["W01", "W02", "W03"]) await api.leaf(delivery, code, "L1", "FL-2040X826");
  const [made, second, stopped] = await Promise.all([
    api.call("planAllotment", { delivery }, {}),
    api.call("planAllotment", { delivery }, {}),
    api.call("stopPlanning", { delivery }, {}),
  ]);
  const [refused, planned] = made.status === 409 ? [made, second] : [second, made];
  expect(refused.body.detail).toMatch(/^This delivery is being planned already/);
  expect(stopped.body).toEqual({ stopped: true });
  expect(planned.body.figures.plan.worst).toBe(0);
  expect(planned.body.planning).toBeNull();
});
