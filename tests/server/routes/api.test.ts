import request from "supertest";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { makeApp } from "../../../server/app.ts";
import { smallDelivery } from "../../support/small-delivery.ts";
import { type TestSite, testSite } from "../../support/test-site.ts";

let site: TestSite;
const faults: unknown[] = [];
const app = () => makeApp(site, { clientFolder: "/nowhere", version: "0.0.0", report: (error) => faults.push(error) });

beforeEach(async () => {
  faults.length = 0;
  site = await testSite();
});
afterEach(async () => {
  await site.remove();
  expect(faults).toEqual([]);
});

describe("a delivery over HTTP", () => {
  test("is created from two files, listed, and shown with every line undecided", async () => {
    const created = await request(app()).post("/api/v1/deliveries").send(smallDelivery);
    expect(created.body).toEqual({ id: "tarnmill" });
    const listed = await request(app()).get("/api/v1/deliveries");
    expect(listed.body).toMatchObject([{ id: "tarnmill", name: "Tarn Mill", leaves: 0 }]);
    const overview = await request(app()).get("/api/v1/deliveries/tarnmill");
    expect(overview.status).toBe(200);
    expect(overview.body.lines.map((line: { undecided: number }) => line.undecided)).toEqual([4, 2]);
    expect(overview.body.money).toMatchObject({ total: 1701, undecided: 1701, pay: 0 });
    expect(overview.body.windows[0]).toMatchObject({
      kind: "shortage",
      deadline: "2026-03-04T10:40:00+00:00",
      shut: false,
    });
  });
});
