import { get } from "node:http";
import request from "supertest";
import { afterEach, beforeEach, describe, expect, onTestFinished, test } from "vitest";
import { openAccess } from "../../server/access/access.ts";
import { sharedDoor } from "../../server/access/door.ts";
import { nobody } from "../../server/access/kept-access.ts";
import { pairingLimits } from "../../server/access/pairing.ts";
import type { Reply } from "../../server/contract/calls.ts";
import { type CallName, paths } from "../../server/contract/paths.ts";
import { roles } from "../../server/contract/roles.ts";
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

const sample = { delivery: "tarnmill", leaf: "W01", line: "L1", face: "A", number: "1", opening: "1.01", place: "0" };
const names = Object.keys(paths) as CallName[];
const methods = { GET: "get", POST: "post", PUT: "put", HEAD: "head", PATCH: "patch" } as const;

/** One call as it is, with nothing in it. */
const bare = (caller: Api, name: CallName) => {
  const [method, path] = paths[name];
  const at = path.replace(/:(\w+)/g, (_, part: string) => (sample as Record<string, string>)[part] ?? "nosuch");
  return request(caller.app)[methods[method]](at).set(caller.headers);
};

/** Every path that Express serves, by its own router. */
const served = (app: Api["app"]): string[] => {
  const { stack } = app.router as unknown as {
    stack: { route?: { path: string; methods: Record<string, boolean> } }[];
  };
  return stack.flatMap(({ route }) =>
    route ? Object.keys(route.methods).map((method) => `${method.toUpperCase()} ${route.path}`) : [],
  );
};

describe("D2: every call has its rule", () => {
  test("what Express serves is the table of calls and three addresses that hold no data", () => {
    const open = ["GET /healthz", "GET /openapi.json", "GET /{*screen}"];
    const calls = Object.values(paths).map(([method, path]) => `${method} ${path}`);
    expect(served(api.app).toSorted()).toEqual([...new Set([...open, ...calls])].toSorted());
  });

  test("nobody gets anything but 401, at addresses that are not there too", async () => {
    const stranger = api.as(null);
    for (const name of names) {
      const { status } = await bare(stranger, name);
      if (roles[name] === "anyone") continue;
      expect(status, name).toBe(401);
    }
    await request(api.app).get("/api/v1/nosuch").expect(401);
  });

  test("a hand is refused what is the foreman's, a guest all but its record, and another delivery is not there", async () => {
    for (const name of names) {
      const rule = roles[name];
      if (name === "signOut") continue; // it ends the session that all others need
      const scoped = paths[name][1].includes(":delivery");
      const hand = name === "events" ? 200 : (await bare(api.as("hand"), name)).status; // that one never ends
      if (rule === "foreman" || rule === "foreman of all") expect(hand, `hand ${name}`).toBe(403);
      else expect([401, 403], `hand ${name}`).not.toContain(rule === "anyone" ? 0 : hand);
      if (rule === "anyone") continue;
      if (rule !== "guest") expect((await bare(api.as("guest"), name)).status, `guest ${name}`).toBe(403);
      if (scoped) {
        const path = paths[name][1].replace(":delivery", "other").replace(/:\w+/g, "1");
        const away = await request(api.app)[methods[paths[name][0]]](path).set(api.as("hand of tarnmill").headers);
        expect(away.status, `away ${name}`).toBe(404);
      }
    }
  });

  test("a hand takes back its own lines only, and sees its own delivery in the list", async () => {
    const hand = api.as("hand of tarnmill");
    const { body } = await hand.call("countLine", { delivery, line: "L1" }, { counted: 3, seen: 1 }).expect(200);
    const foreman = await api.call("countLine", { delivery, line: "L2" }, { counted: 1, seen: 2 }).expect(200);
    await hand.call("undo", { delivery }, { seq: foreman.body.seq }).expect(403);
    await hand.call("undo", { delivery }, { seq: body.seq }).expect(200);
    const { body: list } = await hand.call("listDeliveries").expect(200);
    expect((list as Reply<"listDeliveries">).map(({ id }) => id)).toEqual([delivery]);
  });
});

describe("D3: pairing", () => {
  const offer = async (wish: object = {}) =>
    (await api.call("offerPairing", {}, { role: "hand", delivery: null, device: "phone", ...wish }).expect(200))
      .body as Reply<"offerPairing">;
  const pair = (secret: string, name: string | null = "Jo") => api.as(null).call("pair", {}, { secret, name });

  test("a code or the token of an address lets in once, with the role that was offered", async () => {
    const made = await offer({ delivery });
    expect(made.code).toMatch(/^[0-9A-HJKMNP-TV-Z]{8}$/);
    expect(Buffer.from(made.address.split("#")[1] ?? "", "base64url")).toHaveLength(16);
    expect(made.qr).toContain("<svg");
    const { body, headers } = await pair(made.code).expect(200);
    expect(body).toMatchObject({ name: "Jo", device: "phone 3", role: "hand", delivery });
    expect(headers["set-cookie"]?.[0]).toMatch(/^leafledger=[\w-]{43}; .*HttpOnly; SameSite=Strict/);
    await pair(made.code).expect(403);
    await pair(made.address.split("#")[1] ?? "").expect(403);
    const second = await offer();
    await pair(second.address.split("#")[1] ?? "").expect(200);
  });

  test("five wrong tries void the code, the foreman sees it, and twenty a minute are all", async () => {
    const made = await offer();
    for (let k = 0; k < pairingLimits.wrongPerCode; k++) await pair("00000000").expect(403);
    await pair(made.code).expect(403);
    expect((await api.call("offers").expect(200)).body).toMatchObject([{ id: made.id, codeVoid: true }]);
  });

  test("ten thousand guesses hit nothing", () => {
    const { pairing } = api.access;
    const kinds = new Map<string, number>();
    for (let k = 0; k < 10_000; k++) {
      const { kind } = pairing.take(k.toString(32).toUpperCase().padStart(8, "0"));
      kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
    }
    expect(Object.fromEntries(kinds)).toEqual({
      wrong: pairingLimits.wrongPerMinute,
      wait: 10_000 - pairingLimits.wrongPerMinute,
    });
  });
});

describe("D4: sessions", () => {
  test("over HTTPS the cookie is bound to this host; on the network nobody is let in for being near", async () => {
    const access = openAccess(
      { kept: nobody, save: async () => undefined },
      { door: sharedDoor(["site.local"], true) },
    );
    const shared = apiOf(site, { access });
    await shared.as(null).call("beginHere").set("Host", "site.local:1").expect(401);
    const wish = { role: "hand", delivery: null, device: "phone" } as const;
    const { token } = await access.sessions.begin({ ...wish, name: "Jo", record: null });
    const cookie = `__Host-leafledger=${token}`;
    await request(shared.app).get(paths.state[1]).set({ Host: "site.local:1", cookie }).expect(200);
    await request(shared.app)
      .get(paths.state[1])
      .set({ Host: "site.local:1", cookie: `leafledger=${token}` })
      .expect(401);
  });

  test("whoever is shut out is out at once, and the list says who was seen when", async () => {
    const { body } = await api.call("devices").expect(200);
    const phone = (body as Reply<"devices">).find(({ device }) => device === "phone");
    await api.as("hand").call("state").expect(200);
    await api.call("shutOut", { device: phone?.id ?? "" }).expect(200);
    await api.as("hand").call("state").expect(401);
    await api.call("shutOut", { device: phone?.id ?? "" }).expect(404);
  });

  test("the stream of events of whoever is shut out ends within a second", async () => {
    const server = api.app.listen(0, "127.0.0.1");
    onTestFinished(() => void server.close());
    await new Promise((done) => server.once("listening", done));
    const { port } = server.address() as { port: number };
    const path = `/api/v1/deliveries/${delivery}/events`;
    const ended = new Promise<number>((done) => {
      get({ port, host: "127.0.0.1", path, headers: api.as("hand").headers }, (answer) => {
        answer.resume().once("end", () => done(performance.now()));
        void api.call("devices").then(async ({ body }) => {
          const phone = (body as Reply<"devices">).find(({ device }) => device === "phone");
          shutAt = performance.now();
          await api.call("shutOut", { device: phone?.id ?? "" });
        });
      });
    });
    let shutAt = 0;
    expect((await ended) - shutAt).toBeLessThan(3000); // a second where the machine is not shared
  });

  test("what is answered is kept nowhere, and pages run our own scripts only", async () => {
    const { headers } = await api.call("overview", { delivery }).expect(200);
    expect(headers["cache-control"]).toBe("no-store");
    expect(headers["x-content-type-options"]).toBe("nosniff");
    expect(headers["referrer-policy"]).toBe("no-referrer");
    const policy = headers["content-security-policy"] ?? "";
    for (const rule of [
      "default-src 'self'",
      "script-src 'self'",
      "object-src 'none'",
      "base-uri 'none'",
      "frame-ancestors 'none'",
    ])
      expect(policy).toContain(rule);
    expect(policy).not.toMatch(/unsafe|upgrade/);
  });

  test("nobody's name, no entry", async () => {
    const { headers } = await api.as(null).call("beginHere").expect(200);
    const cookie = headers["set-cookie"]?.[0]?.split(";")[0] ?? "";
    const unnamed = api.as(null).call("countLine", { delivery, line: "L1" }, { counted: 3, seen: 1 });
    expect((await unnamed.set({ cookie }).expect(409)).body.detail).toMatch(/^Say first who/);
  });
});
