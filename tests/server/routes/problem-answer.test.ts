import { afterEach, beforeEach, expect, test, vi } from "vitest";
import * as z from "zod";
import { type Api, apiOf } from "../../support/http.ts";
import { type TestSite, testSite } from "../../support/test-site.ts";

let site: TestSite;
let api: Api;

beforeEach(async () => {
  site = await testSite();
  api = apiOf(site);
});
afterEach(() => site.remove());

test("D15: what does not fit in a request is refused with each place, and is no fault of ours", async () => {
  const { body } = await api.call("createDelivery", {}, { order: 5 }).expect(400);
  expect(body.faults.map(({ at }: { at: string }) => at)).toContain("order");
  expect(api.faults).toEqual([]);
});

test("D15: what does not fit inside the server is a fault of ours: reported, and told without its details", async () => {
  vi.spyOn(site.store, "list").mockImplementation(() => [z.string().parse(5)]);
  const { body } = await api.call("listDeliveries").expect(500);
  expect(JSON.stringify(body)).not.toMatch(/expected|string/);
  expect(api.faults).toHaveLength(1);
});
