import { once } from "node:events";
import { request as httpRequest } from "node:http";
import { brotliCompressSync, gzipSync } from "node:zlib";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { limits } from "../../../server/limits.ts";
import { aboutOf, asPage, type Listening, listening } from "./listening.ts";

/** What a case answered, and how long it took. */
interface Answered {
  readonly status: number;
  readonly text: string;
  readonly ms: number;
}

let at: Listening;
beforeEach(async () => {
  at = await listening();
});
afterEach(() => expect(at.api.faults).toEqual([]));

const boundary = "----leaf";
const partOf = (headers: string, body: Buffer | string): Buffer =>
  Buffer.concat([Buffer.from(`--${boundary}\r\n${headers}\r\n\r\n`), Buffer.from(body), Buffer.from("\r\n")]);
const field = (name: string, value: string) => partOf(`Content-Disposition: form-data; name="${name}"`, value);
const file = (name: string, bytes: Buffer | string, part = "photo") =>
  partOf(`Content-Disposition: form-data; name="${part}"; filename="${name}"\r\nContent-Type: image/jpeg`, bytes);
const ended = Buffer.from(`--${boundary}--\r\n`);
const formOf = (...parts: Buffer[]): Buffer => Buffer.concat(parts.concat(ended));

const bytes = Buffer.from("a photo");
const about = (name = "photo.jpg") => field("about", JSON.stringify(aboutOf(bytes, { name })));

/** Sends a body as it is, in one piece of known length or in pieces of which nobody said how many will come. */
const send = (
  body: Buffer | Iterable<Buffer>,
  headers: Record<string, string> = { "content-type": `multipart/form-data; boundary=${boundary}` },
): Promise<Answered> =>
  new Promise((done, fail) => {
    const begun = performance.now();
    const length = Buffer.isBuffer(body) ? { "content-length": String(body.length) } : undefined;
    const sent = httpRequest(at.photos, { method: "POST", headers: { ...asPage(at), ...headers, ...length } });
    sent.setMaxListeners(0);
    let answered = false;
    sent.on("response", async (response) => {
      answered = true;
      let text = "";
      for await (const chunk of response) text += chunk;
      sent.destroy();
      done({ status: response.statusCode ?? 0, text, ms: performance.now() - begun });
    });
    sent.on("error", (error) => answered || fail(error));
    const pump = async () => {
      for (const chunk of Buffer.isBuffer(body) ? [body] : body) {
        if (sent.destroyed) return;
        if (!sent.write(chunk)) await Promise.race([once(sent, "drain"), once(sent, "close")]).catch(() => undefined);
      }
      sent.end();
    };
    void pump();
  });

/** Every case holds this: no word of the inside, a plain sentence, nothing left, the server alive, the same answer again. */
const refused = async (
  status: number,
  body: () => Parameters<typeof send>[0],
  headers?: Parameters<typeof send>[1],
) => {
  for (const _ of ["once", "again"]) {
    const answer = await send(body(), headers);
    expect(answer.status, answer.text).toBe(status);
    expect(answer.text).not.toMatch(/\bat .*\.[jt]s|node_modules|\/server\/|\/tmp\//);
    expect((JSON.parse(answer.text) as { detail: string }).detail).toMatch(/^[A-Z`a-z].*[.:]/);
    expect(answer.ms).toBeLessThan(2000);
    await expect.poll(at.temporaryFiles, { timeout: 2000 }).toEqual([]);
    expect((await fetch(`http://127.0.0.1:${at.port}/healthz`)).status).toBe(200);
  }
  expect(at.site.store.open(at.delivery).read().photos).toEqual([]);
};

describe("C59, C60: a photo's name is shown and nothing else", () => {
  test.each([
    ["../../etc/passwd"],
    ["..\\..\\x.jpg"],
    ["C:\\x.jpg"],
    ["NUL"],
    ["CON.jpg"],
    ["x".repeat(5000)],
    ["gpj.\u202Eexe"],
    ["Tür Ł 扉 🚪.jpg"],
    ['photo.jpg; x=y\\"'],
    ["/dev/null"],
  ])("file name %#: what the form says counts for nothing, the photo is named by its hash", async (name) => {
    const sent = name.replaceAll("\\", "\\\\").replaceAll('"', '\\"');
    const answer = await send(formOf(about(), file(sent, bytes)));
    expect(answer.status, answer.text).toBe(200);
    const store = at.site.store.open(at.delivery);
    const id = aboutOf(bytes).sha256;
    expect(store.photos.path(id).endsWith(`/photos/${id.slice(0, 2)}/${id}`)).toBe(true);
    expect(store.read().photos.map((photo) => photo.name)).toEqual(["photo.jpg"]);
  });

  test.each([
    ["Tür Ł 扉 🚪.jpg", "Tür Ł 扉 🚪.jpg"],
    ["=1+1", "=1+1"],
    ["__proto__", "__proto__"],
    ["../../etc/passwd", "passwd"],
    ["C:\\x.jpg", "x.jpg"],
    ["gpj.\u202Eexe", "gpj.exe"],
    ["half \ud800", "half"],
    ["nul \u0000", "nul"],
    ["x".repeat(5000), "x".repeat(120)],
  ])("the name %j of its description is kept as %j", async (name, kept) => {
    expect((await send(formOf(about(name), file("x", bytes)))).status).toBe(200);
    expect(at.site.store.open(at.delivery).read().photos[0]?.name).toBe(kept);
  });
});

describe("C61 to C64: forms that are too much", () => {
  test("10,000 files: 413 at the second", async () => {
    const files = Array.from({ length: 10_000 }, (_, k) => file(`${k}.jpg`, "x"));
    await refused(413, () => formOf(about(), ...files));
    expect((await send(formOf(about(), ...files))).ms).toBeLessThan(600);
  });
  test.each([
    ["C62: 200,000 fields", () => Buffer.concat(Array.from({ length: 200_000 }, (_, k) => field(`f${k}`, "x")))],
    ["C63: a huge index", () => formOf(field("a[999999999]", "x"), file("x", bytes))],
    ["C62: a field of 1 MB", () => formOf(field("about", "x".repeat(1_000_000)), file("x", bytes))],
    ["C62: a field name of 1 kB", () => formOf(field("x".repeat(1000), "x"), file("x", bytes))],
    ["a photo of 40 MB and a byte", () => formOf(about(), file("x", Buffer.alloc(limits.upload.fileSize + 1)))],
  ])("%s: 413", (_, body) => refused(413, body));
  test.each([
    ["C64: 20,000 names in one another", () => formOf(field(`a${"[b]".repeat(20_000)}`, "x"), file("x", bytes))],
    ["C64: three names in one another", () => formOf(field("a[b][c]", "x"), file("x", bytes))],
  ])("%s: refused", async (_, body) => {
    const { status } = await send(body());
    expect([400, 413]).toContain(status);
    await refused(status, body);
  });
});

describe("C65: names of what every object has", () => {
  test.each([["__proto__"], ["constructor[prototype]"], ["__proto__[polluted]"]])(
    "a field %s changes nothing",
    async (name) => {
      const answer = await send(formOf(field(name, "polluted"), about(), file("x", bytes)));
      expect([200, 400, 413]).toContain(answer.status);
      expect(({} as { polluted?: unknown }).polluted).toBeUndefined();
      expect(Object.getPrototypeOf({})).toBe(Object.prototype);
    },
  );
  test.each([
    ["__proto__", '"__proto__":{"polluted":1}'],
    ["constructor", '"constructor":{"prototype":{"polluted":1}}'],
  ])("a key %s in the description is refused", (_, key) =>
    refused(400, () =>
      formOf(field("about", JSON.stringify(aboutOf(bytes)).replace("{", `{${key},`)), file("x", bytes)),
    ),
  );
});

describe("C66: forms that are none", () => {
  test.each([
    ["no boundary", () => formOf(about(), file("x", bytes)), { "content-type": "multipart/form-data" }],
    [
      "another boundary",
      () => formOf(about(), file("x", bytes)),
      { "content-type": "multipart/form-data; boundary=no" },
    ],
    ["a body that breaks off", () => Buffer.concat([about(), file("x", bytes)]).subarray(0, -9)],
    [
      "a part of headers only",
      () => Buffer.from(`--${boundary}\r\nContent-Disposition: form-data; name="photo"; filename="x"\r\n`),
    ],
    [
      "C62: a part with 1,000 headers",
      () => formOf(partOf(Array.from({ length: 1000 }, (_, k) => `X-${k}: y`).join("\r\n"), "x")),
    ],
    ["an empty field name", () => formOf(field("", "x"))],
    ["nothing at all", () => Buffer.alloc(0)],
    ["no file", () => formOf(about())],
    ["no description", () => formOf(file("x", bytes))],
    ["a description that is no JSON", () => formOf(field("about", "{"), file("x", bytes))],
    [
      "C37: no hash",
      () => formOf(field("about", JSON.stringify({ ...aboutOf(bytes), sha256: undefined })), file("x", bytes)),
    ],
  ])("%s: 400", (_, body, headers?: Record<string, string>) => refused(400, body, headers));

  test("C36: other bytes than the hash says: 422", () =>
    refused(422, () => formOf(about(), file("x", "another photo"))));
});

describe("C67: bodies of another kind", () => {
  const whole = () => formOf(about(), file("x", bytes));
  const json = () => Buffer.from(JSON.stringify(aboutOf(bytes)));
  const multipart = `multipart/form-data; boundary=${boundary}`;
  test.each([
    ["plain text", whole, { "content-type": "text/plain" }],
    ["a bare photo", () => bytes, { "content-type": "image/jpeg" }],
    ["a form of fields", () => Buffer.from("about=x"), { "content-type": "application/x-www-form-urlencoded" }],
    ["JSON, compressed", () => gzipSync(json()), { "content-type": "application/json", "content-encoding": "gzip" }],
    ["a form, gzip", () => gzipSync(whole()), { "content-type": multipart, "content-encoding": "gzip" }],
    ["a form, br", () => brotliCompressSync(whole()), { "content-type": multipart, "content-encoding": "br" }],
  ])("%s: 415", (_, body, headers) => refused(415, body, headers));
});

test("C68: a body without end is cut off at the limit: 413", () => {
  const piece = Buffer.alloc(1_000_000);
  const endless = function* (): Iterable<Buffer> {
    yield Buffer.concat([
      about(),
      Buffer.from(`--${boundary}\r\nContent-Disposition: form-data; name="photo"; filename="x"\r\n\r\n`),
    ]);
    for (let k = 0; k < 100; k++) yield piece;
  };
  return refused(413, endless);
});
