import { afterEach, beforeEach, expect, test } from "vitest";
import type { Reply } from "../../../server/contract/calls.ts";
import { chart24, chart24Since2014 } from "../../published/chart24.ts";
import { type Api, apiOf } from "../../support/http.ts";
import { by } from "../../support/small-delivery.ts";
import { type TestSite, testSite } from "../../support/test-site.ts";

let site: TestSite;
let api: Api;
let delivery: string;

beforeEach(async () => {
  site = await testSite();
  api = apiOf(site);
  delivery = await api.begin();
});
afterEach(async () => {
  await site.remove();
  expect(api.faults).toEqual([]);
});

const view = async (): Promise<Reply<"charts">> => (await api.call("charts", { delivery }).expect(200)).body;

const text = ["patch,L,a,b", ...chart24.map(({ labD50 }, i) => [i + 1, ...labD50].join(","))].join("\n");
const own = { name: "Office chart", edition: "measured 2025", white: "D50", text };

test("the editions built in are those published, and the older one counts until somebody chooses", async () => {
  const { chosen, editions } = await view();
  expect(chosen).toBe("BEFORE-2014");
  expect(editions.map(({ id, white, enteredBy }) => [id, white, enteredBy])).toEqual([
    ["BEFORE-2014", "D50", null],
    ["SINCE-2014", "D50", null],
  ]);
  expect(editions[0]?.patches.map(({ lab }) => lab)).toEqual(chart24.map(({ labD50 }) => labD50));
  expect(editions[1]?.patches.map(({ lab }) => lab)).toEqual(chart24Since2014);
});

test("another edition is chosen, and the choice taken back", async () => {
  const { body } = await api.call("chooseChart", { delivery }, { chart: "SINCE-2014" }).expect(200);
  expect((await view()).chosen).toBe("SINCE-2014");
  await api.call("undo", { delivery }, { seq: body.seq }).expect(200);
  expect((await view()).chosen).toBe("BEFORE-2014");
  const { body: problem } = await api.call("chooseChart", { delivery }, { chart: "CHART-9" }).expect(404);
  expect(problem.detail).toBe("There is no chart CHART-9 in this delivery. Enter its values first.");
});

test("values of one's own are kept under name and edition and counted by at once; taking them back brings back what was", async () => {
  await api.call("chooseChart", { delivery }, { chart: "SINCE-2014" }).expect(200);
  const { body } = await api.call("addChart", { delivery }, own).expect(200);
  const { chosen, editions } = await view();
  expect(chosen).toBe("CHART-1");
  expect(editions[2]).toMatchObject({ title: "Office chart, measured 2025", enteredBy: by.name, white: "D50" });
  const { body: document } = await api.call("document", { delivery }).expect(200);
  expect(document.charts.own[0].lab).toEqual(chart24.map(({ labD50 }) => labD50));
  const { body: lines } = await api.call("history", { delivery }).expect(200);
  expect(lines[0]).toMatchObject({ seq: body.seq, what: "Took in the values of Office chart" });
  await api.call("undo", { delivery }, { seq: body.seq }).expect(200);
  expect((await view()).chosen).toBe("SINCE-2014");
  expect((await view()).editions).toHaveLength(2);
});

test("what is no chart is refused with the line, and nothing is kept", async () => {
  const wrong = { ...own, text: text.replace("13.555", "x") };
  const { body } = await api.call("addChart", { delivery }, wrong).expect(422);
  expect(body.detail).toBe('The chart was not taken: line 2, a: "x" is not a number from -128 to 128.');
  expect(body.faults).toEqual([{ at: "line 2, a", says: '"x" is not a number from -128 to 128' }]);
  await api.call("addChart", { delivery }, { ...own, name: " " }).expect(400);
  expect((await view()).editions).toHaveLength(2);
});
