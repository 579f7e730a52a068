import { readdir } from "node:fs/promises";
import request from "supertest";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { limits } from "../../../server/limits.ts";
import { jsonDepth } from "../../../server/routes/json-body.ts";
import { type Api, apiOf } from "../../support/http.ts";
import { orderCsv, scheduleCsv, smallDelivery } from "../../support/small-delivery.ts";
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
  // An upload that broke off is swept a moment after its answer.
  await expect.poll(() => readdir(site.store.open(delivery).temporaryFolder), { timeout: 2000 }).toEqual([]);
  await site.remove();
  expect(api.faults).toEqual([]);
});

const deliveries = "/api/v1/deliveries";
const post = (body: string, type = "application/json") =>
  request(api.app).post(deliveries).set(api.headers).set("Content-Type", type).send(body);

describe("JSON", () => {
  test.each([
    ["no JSON", "{", 400],
    ["nested 40 deep", `{"a":${"[".repeat(40)}${"]".repeat(40)}}`, 400],
    ["nested 49,000 deep", "[".repeat(49_000) + "]".repeat(49_000), 400],
    ["a bare word", "true", 400],
    ["too large", JSON.stringify({ order: "x".repeat(limits.jsonFileBytes) }), 413],
  ])("%s is refused", async (_, body, status) => {
    const answer = await post(body).expect(status);
    expect(answer.headers["content-type"]).toMatch("application/problem+json");
    expect(JSON.stringify(answer.body)).not.toMatch(/\bat .*\.[jt]s|node_modules|\/server\//);
  });

  test("brackets inside strings do not count as nesting", () => {
    expect(jsonDepth(Buffer.from('{"a":"[[[[\\"[[[","b":[{}]}'))).toBe(3);
    expect(jsonDepth(Buffer.from("[[],[[]]]"))).toBe(3);
  });

  test("another content type and a compressed body are refused with 415", async () => {
    await post("a=b", "application/x-www-form-urlencoded").expect(415);
    await post("{}", "text/plain").expect(415);
    await request(api.app)
      .post(deliveries)
      .set(api.headers)
      .set("Content-Encoding", "gzip")
      .set("Content-Type", "application/json")
      .send("{}")
      .expect(415);
  });

  test.each([["__proto__"], ["constructor"], ["extra"]])(
    "a key %s that nobody asked for is refused, and named",
    async (key) => {
      const line = { delivery, line: "L1" };
      const body = `{"counted":1,"${key}":{"polluted":true}}`;
      const answer = await request(api.app)
        .put(`${deliveries}/${line.delivery}/lines/L1/count`)
        .set(api.headers)
        .set("Content-Type", "application/json")
        .send(body)
        .expect(400);
      expect(answer.body.detail).toContain(key);
      expect(({} as { polluted?: boolean }).polluted).toBeUndefined();
      expect(site.store.open(delivery).head().seq).toBe(1);
    },
  );

  test.each([["1e400"], ["-1"], ["1.5"], ['"3"'], ["5001"], ["NaN"]])("a count of %s is refused", async (counted) => {
    await request(api.app)
      .put(`${deliveries}/${delivery}/lines/L1/count`)
      .set(api.headers)
      .set("Content-Type", "application/json")
      .send(`{"counted":${counted}}`)
      .expect(400);
  });

  test("a control character in a text is refused, any other writing kept as it is", async () => {
    const reading = {
      at: "2026-03-03T11:30:00+00:00",
      temperatureC: 18,
      humidityPercent: 50,
      instrument: "",
      event: "",
    };
    const log = (place: string) => api.call("logReading", { delivery }, { reading: { ...reading, place } });
    await log("stack\u0000").expect(400);
    await log("half a pair \ud800").expect(400);
    const strange = "<script>alert(1)</script> ' \" \u202E Łódź 𝕏 =1+1";
    await log(strange).expect(200);
    expect((await api.call("overview", { delivery })).body.store.readings[0].place).toBe(strange);
  });
});

describe("what a delivery's windows are counted from", () => {
  test.each([
    ["timeZone", "Mars/Base", /timeZone: is not a time zone/],
    ["deliveredAt", "9999-12-31T10:00:00+00:00", /deliveredAt: the year is not between 2000 and 2099/],
    ["name", "  ", /name: give the job a name/],
  ])("a %s of %j is refused before a delivery is made of it", async (key, value, says) => {
    const job = { ...smallDelivery.job, [key]: value };
    const { body } = await api.call("createDelivery", {}, { ...smallDelivery, job }).expect(400);
    expect(body.detail).toMatch(says);
    expect((await api.call("listDeliveries")).body.length).toBe(1);
  });
});

describe("CSV", () => {
  const importOrder = (csv: string) => api.call("importOrder", { delivery }, { csv });

  test("all faults of a file are named at once, by line and column", async () => {
    const csv = orderCsv
      .replace("300,4", "dear,4.5")
      .replace("L2,", "l 2,")
      .replace("flush,oak crown,FD30,2", "round,oak crown,FD30,2");
    const { body } = await importOrder(csv).expect(422);
    expect(body.faults).toEqual([
      { at: "line 2, quantity", says: '"4.5" is not a whole number' },
      { at: "line 2, price", says: '"dear" is not a number from 0 to 1000000' },
      { at: "line 3, pattern", says: expect.stringContaining('"round" is not a pattern: use flush, one-panel') },
      { at: "line 3, line", says: expect.stringContaining("capital letters") },
    ]);
    expect(body.detail).toBe('The order was not taken: line 2, quantity: "4.5" is not a whole number and 3 more.');
    expect(site.store.open(delivery).head().seq).toBe(1);
  });

  test.each([
    ["semicolons and decimal commas", orderCsv.replaceAll(",", ";").replace("250.50", "250,50")],
    ["tabs", orderCsv.replaceAll(",", "\t")],
    ["a byte-order mark and CRLF", `\uFEFF${orderCsv.replaceAll("\n", "\r\n")}`],
    ["quotes", orderCsv.replace("oak 826", '"oak 826"')],
    ["blank lines", orderCsv.replace("\nL2", "\n\nL2")],
  ])("%s read the same", async (_, csv) => {
    await importOrder(csv).expect(200);
    const { lines } = site.store.open(delivery).read();
    expect(lines.map(({ id, price, item }) => [id, price, item])).toEqual([
      ["L1", 300, "oak 826"],
      ["L2", 250.5, "oak pair"],
    ]);
  });

  test.each([
    ["a missing column", orderCsv.replace("veneer,", ""), /line 1: column veneer is missing/],
    ["an unknown column", orderCsv.replace("veneer,", "wood,veneer,"), /line 1: column "wood" is not known/],
    ["a ragged row", orderCsv.replace("FD30,1\n", "FD30,1,x\n"), /line 2: has 13 cells, 12 are expected/],
    ["an unclosed quote", orderCsv.replace("oak pair", '"oak pair'), /line/],
    ["no rows", orderCsv.split("\n")[0] ?? "", /there are no rows/],
    ["another encoding", orderCsv.replace("oak 826", "ch\uFFFDne"), /line 2: holds a letter that is not UTF-8/],
    ["a line twice, below a blank line", orderCsv.replace("\nL2,", "\n\nL1,"), /line 4, line: line L1 stands twice/],
    ["an odd number of a pair", orderCsv.replace("250.50,2", "250.50,3"), /3 leaves do not make whole pairs/],
    [
      "a leaf too small for its pattern",
      orderCsv.replace("4,826,2040,44,flush", "4,226,2040,44,four-panel"),
      /too small for the pattern/,
    ],
  ])("%s is refused", async (_, csv, says) => {
    expect((await importOrder(csv).expect(422)).body.detail).toMatch(says);
  });

  test.each([
    [
      "an opening nobody ordered for",
      scheduleCsv.replace("1.01,1,826", "1.01,1,926"),
      /line 2, pattern: no order line has oak crown leaf of flush 2040 x 926 x 44 mm/,
    ],
    [
      "an opening twice, below a blank line",
      scheduleCsv.replace("\n1.02,1", "\n\n1.01,1"),
      /line 4, opening: opening 1.01 stands twice/,
    ],
    [
      "a leaf that hangs in two openings",
      `${scheduleCsv}${["1.33", "1.34"].map((id) => `${id},1,826,2040,44,flush,oak crown,FD30,Hall,,,existing leaf X33\n`).join("")}`,
      /leaf X33 stands twice/,
    ],
    [
      "a hinge that is not told",
      scheduleCsv.replace("left from A, opens to B", "left-ish"),
      /line 2, hinge: "left-ish" does not say/,
    ],
  ])("%s is refused", async (_, csv, says) => {
    expect((await api.call("importSchedule", { delivery }, { csv }).expect(422)).body.detail).toMatch(says);
  });

  test("a delivery is not begun from a faulty file", async () => {
    await api.call("createDelivery", {}, { ...smallDelivery, schedule: "opening\n1.01\n" }).expect(422);
    expect((await api.call("listDeliveries")).body.length).toBe(1);
  });

  test("a bare hinge side is kept as a note, an existing leaf is read from one", async () => {
    const csv = `${scheduleCsv}1.33,1,826,2040,44,flush,oak crown,FD30,Hall,,left,"existing leaf X33, 28 years old"\n`;
    await api.call("importSchedule", { delivery }, { csv }).expect(200);
    const { openings, leaves } = site.store.open(delivery).read();
    expect(openings[4]).toMatchObject({
      existingLeaf: "X33",
      hinge: null,
      note: expect.stringContaining("hinge left"),
    });
    expect(openings[0]?.hinge).toEqual({ side: "left", seenFrom: 0, opensTowards: 1 });
    expect(leaves).toMatchObject([{ code: "X33", line: null, cut: true }]);
  });
});

describe("uploads", () => {
  const upload = () => request(api.app).post(`${deliveries}/${delivery}/photos`).set(api.headers);
  const about = JSON.stringify({ sha256: "0".repeat(64), name: "x", kind: "single", shows: [], note: "" });

  test.each([
    ["no file", () => upload().field("about", about), 400],
    ["no about", () => upload().attach("photo", Buffer.from("x"), "x.jpg"), 400],
    ["about that is no JSON", () => upload().field("about", "{").attach("photo", Buffer.from("x"), "x.jpg"), 400],
    ["about that does not fit", () => upload().field("about", "{}").attach("photo", Buffer.from("x"), "x.jpg"), 400],
    [
      "two files",
      () =>
        upload().field("about", about).attach("photo", Buffer.from("x"), "x").attach("photo", Buffer.from("y"), "y"),
      413,
    ],
    ["a file under another name", () => upload().field("about", about).attach("file", Buffer.from("x"), "x"), 413],
    [
      "many fields",
      () => {
        const sent = upload();
        for (let k = 0; k < 40; k++) sent.field(`f${k}`, "x");
        return sent.attach("photo", Buffer.from("x"), "x");
      },
      413,
    ],
    [
      "a field with a huge index",
      () => upload().field("a[999999999]", "x").attach("photo", Buffer.from("x"), "x"),
      413,
    ],
    ["a long field", () => upload().field("about", "x".repeat(30_000)).attach("photo", Buffer.from("x"), "x"), 413],
    ["no boundary", () => upload().set("Content-Type", "multipart/form-data").send("x"), 400],
    [
      "a body that breaks off",
      () =>
        upload()
          .set("Content-Type", "multipart/form-data; boundary=b")
          .send('--b\r\nContent-Disposition: form-data; name="photo"; filename="x"\r\n\r\nhalf'),
      400,
    ],
  ] as const)("%s is refused, and nothing is left", async (_, send, status) => {
    const answer = await send();
    expect(answer.status).toBe(status);
    expect(answer.body.detail).toMatch(/\w/);
  });

  test("a file over the limit is refused with 413", async () => {
    const answer = await upload()
      .field("about", about)
      .attach("photo", Buffer.alloc(limits.upload.fileSize + 1), "x.jpg");
    expect(answer.status).toBe(413);
  });

  test("a name of any kind is only shown: the file is named by its hash", async () => {
    const name = "../../etc/passwd\u202Egpj.exe";
    const { body } = await api.upload({ delivery }, { name }, "photo").expect(200);
    const store = site.store.open(delivery);
    expect(store.photos.path(body.id).endsWith(`/photos/${body.id.slice(0, 2)}/${body.id}`)).toBe(true);
    expect(store.read().photos[0]?.name).toBe("passwdgpj.exe");
  });
});

describe("who may call", () => {
  test("another host name is refused with 421", async () => {
    await request(api.app).get("/healthz").set("Host", "leafledger.example").expect(421);
    await request(api.app).get("/healthz").set("Host", "localhost:4180").expect(200);
  });

  test("a change from another page is refused with 403, from our own it is taken", async () => {
    const count = () => api.call("countLine", { delivery, line: "L1" });
    await count().set("Host", "localhost:9").set("Origin", "http://evil.example").send({ counted: 1 }).expect(403);
    await count().set("Host", "localhost:9").set("Origin", "null").send({ counted: 1 }).expect(403);
    expect(site.store.open(delivery).head().seq).toBe(1);
    await count().set("Host", "localhost:9").set("Origin", "http://localhost:9").send({ counted: 1 }).expect(200);
    await count().set("x-leafledger", "").send({ counted: 2 }).expect(403);
    await count().set("sec-fetch-site", "same-site").send({ counted: 2 }).expect(403);
    await count().send({ counted: 2 }).expect(200);
  });

  test("pages may run our own scripts only, and nothing asks for https", async () => {
    const { headers } = await request(api.app).get("/healthz");
    expect(headers["content-security-policy"]).toContain("default-src 'self'");
    expect(headers["content-security-policy"]).not.toMatch(/unsafe|upgrade-insecure/);
    expect(headers["strict-transport-security"]).toBeUndefined();
    expect(headers["x-powered-by"]).toBeUndefined();
    expect(headers["access-control-allow-origin"]).toBeUndefined();
  });

  test("what is not there says so as a problem", async () => {
    for (const path of [
      "/api/v1/nothing",
      `${deliveries}/nosuch`,
      `${deliveries}/${delivery}/leaves/W99`,
      `${deliveries}/${delivery}/records/7/pdf`,
    ]) {
      const { body } = await request(api.app).get(path).set(api.headers).expect(404);
      expect(body).toMatchObject({ type: "about:blank", status: 404, detail: expect.stringMatching(/^There is no/) });
    }
  });
});

test("a photo that was kept for twelve faces is refused for a thirteenth, not failed", async () => {
  const codes = ["W01", "W02", "W03", "W04", "W05", "W06", "W07"];
  for (const code of codes) await api.leaf(delivery, code, code < "W05" ? "L1" : "L2", "FL-2040X826");
  const shows = codes.flatMap((leaf) => (["A", "B"] as const).map((face) => ({ leaf, face, corners: null })));
  const evidence = { kind: "detail", note: "" } as const;
  await api.upload({ delivery }, { ...evidence, shows: shows.slice(0, 12) }, "a stack").expect(200);
  const { body } = await api.upload({ delivery }, { ...evidence, shows: shows.slice(12) }, "a stack").expect(422);
  expect(body.detail).toMatch(/12 faces at most.*W07 face A, W07 face B/);
});

test("a fault of ours is reported, and the answer tells nothing of the inside", async () => {
  const broken = apiOf({
    ...site,
    now: () => {
      throw new Error("secret inside");
    },
  });
  const { body } = await broken.call("overview", { delivery }).expect(500);
  expect(body.detail).toBe("Something went wrong on our side. What was saved is safe; try again.");
  expect(JSON.stringify(body)).not.toContain("secret");
  expect(broken.faults.length).toBe(1);
});
