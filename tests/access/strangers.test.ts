import { Socket } from "node:net";
import request from "supertest";
import { afterEach, beforeEach, describe, expect, onTestFinished, test, vi } from "vitest";
import { uniformFrom } from "../../analysis/algebra/seeded-random.ts";
import { usualRates } from "../../server/access/rates.ts";
import { type CallName, paths } from "../../server/contract/paths.ts";
import { type Api, apiOf } from "../support/http.ts";
import { type TestSite, testSite } from "../support/test-site.ts";

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

const methods = { GET: "get", POST: "post", PUT: "put", HEAD: "head", PATCH: "patch" } as const;

describe("D5: a page elsewhere", () => {
  const evil = "https://evil.example";
  const ownHost = { host: "localhost:4180" };
  const origins = [undefined, evil, "null", "http://localhost:9999", "http://localhost:4180.evil.example"];
  const sites = [undefined, "cross-site", "same-site"];
  const types = ["text/plain", "application/json"];
  const shapes = origins.flatMap((origin) => sites.flatMap((from) => types.map((type) => ({ origin, from, type }))));

  test("no shape of request of another page is taken, with the cookie and with our header", async () => {
    expect(shapes).toHaveLength(30);
    for (const { origin, from, type } of shapes)
      for (const marked of [{}, { "x-leafledger": "1" }]) {
        const sent = request(api.app)
          .put(`/api/v1/deliveries/${delivery}/lines/L1/count`)
          .set({ cookie: api.headers.cookie ?? "", "content-type": type, ...ownHost, ...marked })
          .set({ ...(origin && { origin }), ...(from && { "sec-fetch-site": from }) });
        expect((await sent.send('{"counted":1,"seen":1}')).status, `${origin} ${from} ${type}`).toBe(403);
      }
    expect(site.store.open(delivery).head().seq).toBe(1);
  });

  test("D6: nothing is ever allowed to another origin", async () => {
    const answer = await request(api.app)
      .options(`/api/v1/deliveries/${delivery}`)
      .set({ ...api.headers, origin: evil, "access-control-request-method": "PUT" });
    const names = Object.keys(answer.headers);
    expect(names.filter((name) => name.startsWith("access-control"))).toEqual([]);
    await request(api.app).get("/").set("Host", "evil.example").expect(421);
  });
});

test("D10: none of two hundred ways out of the folder leads anywhere", async () => {
  const ups = ["../", "..\\", "..%2f", "%2e%2e/", "%2e%2e%2f", "..%5c", "..%252f", "....//", "..;/", "%c0%ae%c0%ae/"];
  const wanted = [
    "etc/passwd",
    "access.json",
    "package.json",
    "certificate/server-key.pem",
    "deliveries/tarnmill/journal.jsonl",
  ];
  const before = [
    "",
    "assets/",
    `api/v1/deliveries/${delivery}/photos/`,
    `api/v1/deliveries/${delivery}/records/1/copies/`,
  ];
  let tried = 0;
  for (const up of ups)
    for (const file of wanted)
      for (const start of before) {
        tried++;
        const { status, text } = await request(api.app)
          .get(`/${start}${up.repeat(4)}${file}`)
          .set(api.headers);
        expect([400, 404, 503], `${start}${up}${file}`).toContain(status);
        expect(text).not.toMatch(/root:|BEGIN|"hash"|"dependencies"|sha256/);
      }
  expect(tried).toBe(200);
});

test("D12: past the limit the answer is 429 and says when to try again; another device is not held up", async () => {
  const slow = apiOf(site, { rates: { ...usualRates, light: 20 } });
  for (let k = 0; k < 20; k++) await slow.call("state").expect(200);
  const { headers, body } = await slow.call("state").expect(429);
  expect(Number(headers["retry-after"])).toBeGreaterThan(0);
  expect(body.detail).toMatch(/Try again in \d+ seconds/);
  await slow.as("hand").call("state").expect(200);
  for (let k = 0; k < usualRates.pairings; k++)
    await slow.as(null).call("pair", {}, { secret: "00000000", name: null }).expect(403);
  await slow.as(null).call("pair", {}, { secret: "00000000", name: null }).expect(429);
});

const tries = Number(process.env.FUZZ_TRIES ?? 2000);

test(`D13, D15: ${tries} odd requests: no fault of ours, nothing told of the inside, nobody called`, {
  timeout: 600_000,
}, async () => {
  const connect = vi.spyOn(Socket.prototype, "connect");
  onTestFinished(() => connect.mockRestore());
  const server = api.app.listen(0, "127.0.0.1");
  onTestFinished(() => void server.close());
  await new Promise((done) => server.once("listening", done));
  const random = uniformFrom(1215);
  const pick = <T>(of: readonly T[]): T => of[Math.floor(random() * of.length)] as T;
  const odd = [
    null,
    true,
    -1,
    1e308,
    "",
    "x".repeat(300),
    "\u0000",
    "../..",
    [],
    {},
    [[[]]],
    { __proto__: 1 },
    "W01",
    "L1",
    3,
  ];
  const value = (): unknown =>
    random() < 0.3 ? { [String(pick(["leaf", "mark", "reading", "by", "id"]))]: pick(odd) } : pick(odd);
  const keys = [
    "counted",
    "seen",
    "seq",
    "leaf",
    "reading",
    "mark",
    "decision",
    "text",
    "csv",
    "locks",
    "secret",
    "name",
    "role",
    "days",
  ];
  const parts = ["tarnmill", "W01", "L1", "A", "1", "%00", "..", "x".repeat(200), "%ff", "0".repeat(64), "𝔛"];
  const names = (Object.keys(paths) as CallName[]).filter((name) => name !== "events" && name !== "signOut");
  for (let k = 0; k < tries; k++) {
    const name = pick(names);
    const [method, path] = paths[name];
    const at = path.replace(/:\w+/g, () => encodeURI(pick(parts)));
    const who = pick(["foreman", "foreman", "hand", "guest", null] as const);
    const body = Object.fromEntries(Array.from({ length: 3 }, () => [pick(keys), value()]));
    const raw = random() < 0.1 ? pick(["{", "[]", "null", '"', "{}{}", "\ud800"]) : JSON.stringify(body);
    let sent = request(server)[methods[method]](at).set(api.as(who).headers);
    if (method !== "GET" && method !== "HEAD") {
      sent = sent.set(
        "content-type",
        pick(["application/json", "application/json", "text/plain", "multipart/form-data; boundary=b"]),
      );
      sent = sent.send(raw);
    }
    const { status, text } = await sent;
    expect(status, `${method} ${at} ${raw}`).toBeLessThan(500);
    if (status >= 400) expect(text ?? "").not.toMatch(/\bat .*\.[jt]s|node_modules|\/server\/|express|\/tmp\//);
  }
  const { port } = server.address() as { port: number };
  const called = connect.mock.calls
    .map(([options]) => JSON.stringify(options))
    .filter((to) => !to.includes(String(port)));
  expect(called).toEqual([]);
});
