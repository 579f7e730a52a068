import request from "supertest";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { paths } from "../../../server/contract/paths.ts";
import { namesTwice } from "../../../server/routes/json-body.ts";
import { type Api, apiOf } from "../../support/http.ts";
import { someTerms } from "../../support/small-delivery.ts";
import { type TestSite, testSite } from "../../support/test-site.ts";

let site: TestSite;
let api: Api;
let delivery: string;

beforeAll(async () => {
  site = await testSite();
  api = apiOf(site);
  delivery = await api.begin();
  const leaf = { code: "W01", line: "L1", pattern: "FL-2040X826", identity: "as-ordered", replaces: null };
  await api.call("addLeaf", { delivery }, { leaf }).expect(200);
});
afterAll(() => site.remove());

/** Sends a body as it is, without making JSON of it. */
const send = (name: "countLine" | "setTerms" | "logShape", body: string | Buffer, type = "application/json") => {
  const [method, path] = paths[name];
  const address = path.replace(":delivery", delivery).replace(":line", "L1").replace(":leaf", "W01");
  const sent = request(api.app)[method === "PUT" ? "put" : "post"](address).set(api.headers).set("Content-Type", type);
  return sent.send(body as string);
};

const shape = (mm: string): string =>
  `{"reading":{"at":"2026-03-03T12:00:00+00:00","kind":"bow","mm":${mm},"how":"straight edge"}}`;

const nested = (depth: number): string => `{"counted":${"[".repeat(depth)}${"]".repeat(depth)}}`;

/** Refused within two seconds with a plain sentence, the same again, and the server still answers. */
const refused = async (make: () => ReturnType<typeof send>, statuses: readonly number[]): Promise<void> => {
  const { seq } = site.store.open(delivery).head();
  const said: string[] = [];
  for (let time = 0; time < 2; time++) {
    const began = performance.now();
    const { status, body } = await make();
    expect(performance.now() - began).toBeLessThan(2000);
    expect(statuses).toContain(status);
    expect(body).toMatchObject({ status, detail: expect.stringMatching(/^[^\n]{5,}$/) });
    expect(JSON.stringify(body)).not.toMatch(/node_modules|\/server\/|at Object|\.ts:/);
    said.push(body.detail);
  }
  expect(said[0]).toBe(said[1]);
  expect(site.store.open(delivery).head().seq).toBe(seq);
  expect(api.faults).toEqual([]);
  await request(api.app).get("/healthz").expect(200);
};

describe("C69: JSON nested deeply", () => {
  test.each([33, 1_000, 49_000])("%i deep", (depth) => refused(() => send("countLine", nested(depth)), [400]));
  test("brackets inside of texts are none", () =>
    refused(() => send("countLine", JSON.stringify({ counted: "[".repeat(90) })), [400]));
});

describe("C70: numbers that are none, or too many", () => {
  test.each([
    ["NaN", shape("NaN")],
    ["1e400", shape("1e400")],
    ["-1", shape("-1")],
    ["a text", shape('"762"')],
    ["a number twice", shape('1,"mm":2')],
    ["a number twice, once in disguise", shape('1,"\\u006dm":2')],
    ["Infinity", shape("Infinity")],
    ["hexadecimal", shape("0x10")],
    ["a bare point", shape(".5")],
    ["a comma too many", shape("1,")],
  ])("%s", (_, body) => refused(() => send("logShape", body), [400, 422]));
  test.each(["0", "1e-300", "-0"])("%s is a size of a shape", async (mm) => {
    await send("logShape", shape(mm)).expect(200);
    expect(Math.abs(site.store.open(delivery).read().leaves[0]?.shape.at(-1)?.mm ?? 1)).toBe(Math.abs(Number(mm)));
  });
  test.each(["1.5", "-1", "5001", "1e99", "true", "[3]", '"3"', "{}"])("a count of %s", (counted) =>
    refused(() => send("countLine", `{"counted":${counted}}`), [400]),
  );
});

describe("C65, D14: keys that are not ours", () => {
  test.each([
    ["__proto__", '{"counted":3,"__proto__":{"counted":4}}'],
    ["constructor", '{"counted":3,"constructor":{"prototype":{"polluted":1}}}'],
    ["prototype", '{"counted":3,"prototype":{}}'],
    ["another name", '{"counted":3,"by":{"name":"x","device":"y"}}'],
  ])("%s", async (_, body) => {
    await refused(() => send("countLine", body), [400]);
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });
  test("inside of an object", () =>
    refused(
      () =>
        send("setTerms", JSON.stringify({ terms: someTerms }).replace('"store":{', '"store":{"__proto__":{"a":1},')),
      [400],
    ));
});

describe("what is no JSON of ours", () => {
  test.each([
    ["nothing", "", [400]],
    ["a bare number", "3", [400]],
    ["a list", "[]", [400]],
    ["cut off", '{"counted":', [400]],
    ["two at once", '{"counted":1}{"counted":2}', [400]],
    ["three megabytes", JSON.stringify({ counted: "x".repeat(3_000_000) }), [413]],
  ] as const)("%s", (_, body, statuses) => refused(() => send("countLine", body), statuses));
  test("under another name", () => refused(() => send("countLine", '{"counted":1}', "text/plain"), [415]));
});

test("a key is twice in one place only when it is in the same object", () => {
  for (const once of ['{"a":1,"b":{"a":2},"c":[{"a":1},{"a":2}]}', '{"a":"a","b":"\\"a\\":1"}', '[{"a":[]},{"a":{}}]'])
    expect(namesTwice(once), once).toBe(false);
  for (const twice of ['{"a":1,"a":1}', '{"b":{"a":1,"c":[1,{}],"a":2}}', '[1,{"x":"}","y":1,"x":2}]'])
    expect(namesTwice(twice), twice).toBe(true);
});
