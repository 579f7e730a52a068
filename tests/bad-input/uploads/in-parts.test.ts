import { randomBytes } from "node:crypto";
import { readFile } from "node:fs/promises";
import request from "supertest";
import { describe, expect, test, vi } from "vitest";
import { limits } from "../../../server/limits.ts";
import { aboutOf, asPage, type Listening, listening } from "./listening.ts";

const tus = { "tus-resumable": "1.0.0" };
const part = { ...tus, "content-type": "application/offset+octet-stream" };

const photo = (bytes = 50_000) => {
  const content = randomBytes(bytes);
  return { content, about: aboutOf(content) };
};

/** The requests of one photo in parts. */
const parts = (at: Listening, sha256: string) => {
  const path = new URL(at.partsOf(sha256)).pathname;
  const to = (headers: Record<string, string>) => asPage(at, headers);
  return {
    begin: (bytes: number) =>
      request(at.server)
        .post(path)
        .set(to({ ...tus, "upload-length": String(bytes) })),
    offset: () => request(at.server).head(path).set(to(tus)),
    send: (offset: number, bytes: Buffer) =>
      request(at.server)
        .patch(path)
        .set(to({ ...part, "upload-offset": String(offset) }))
        .send(bytes),
  };
};

const takeIn = (at: Listening, about: object) => at.api.call("uploadPhoto", { delivery: at.delivery }, about);

describe("a photo in parts (tus 1.0)", () => {
  test("is begun, sent in two pieces, found where it was, and taken in", async () => {
    const at = await listening();
    const { content, about } = photo();
    const { begin, offset, send } = parts(at, about.sha256);
    expect((await offset()).status).toBe(404);
    const begun = await begin(content.length).expect(201);
    expect(begun.headers).toMatchObject({ "tus-resumable": "1.0.0", location: expect.stringContaining(about.sha256) });
    await takeIn(at, about).expect(409);
    expect((await send(0, content.subarray(0, 20_000)).expect(204)).headers["upload-offset"]).toBe("20000");
    expect((await offset().expect(200)).headers).toMatchObject({
      "upload-offset": "20000",
      "upload-length": "50000",
      "cache-control": "no-store",
    });
    await begin(content.length).expect(201);
    await send(20_000, content.subarray(20_000)).expect(204);
    expect((await takeIn(at, about).expect(200)).body).toMatchObject({ id: about.sha256, known: false });
    expect(await readFile(at.site.store.open(at.delivery).photos.path(about.sha256))).toEqual(content);
    expect((await offset().expect(200)).headers["upload-offset"]).toBe("50000");
    expect((await takeIn(at, about).expect(200)).body.known).toBe(true);
    expect(await at.temporaryFiles()).toEqual([]);
  });

  test.each([
    ["no version", {}, 412],
    ["another version", { "tus-resumable": "0.2.2" }, 412],
    ["no length", tus, 400],
    ["a length of -1", { ...tus, "upload-length": "-1" }, 400],
    ["a length of nothing", { ...tus, "upload-length": "0" }, 400],
    ["a length over the limit", { ...tus, "upload-length": String(limits.upload.fileSize + 1) }, 413],
  ])("%s: %j is refused with %i", async (_, headers, status) => {
    const at = await listening();
    const path = new URL(at.partsOf("a".repeat(64))).pathname;
    await request(at.server).post(path).set(asPage(at, headers)).expect(status);
    expect(await at.temporaryFiles()).toEqual([]);
  });

  test.each([
    ["another offset", 409, (at: Listening, sha: string) => parts(at, sha).send(7, Buffer.alloc(10))],
    ["more bytes than were said", 413, (at: Listening, sha: string) => parts(at, sha).send(0, Buffer.alloc(11_000))],
    [
      "another type",
      415,
      (at: Listening, sha: string) => parts(at, sha).send(0, Buffer.alloc(10)).set("content-type", "image/jpeg"),
    ],
    ["a photo that was not begun", 404, (at: Listening) => parts(at, "b".repeat(64)).send(0, Buffer.alloc(10))],
    ["a name that is no hash", 404, (at: Listening) => parts(at, "..%2Fphotos").send(0, Buffer.alloc(10))],
  ])("%s is refused with %i", async (_, status, send) => {
    const at = await listening();
    const sha = "a".repeat(64);
    await parts(at, sha).begin(10_000).expect(201);
    expect((await send(at, sha)).status).toBe(status);
    expect(await at.temporaryFiles()).toEqual([`unfinished-${sha}`]);
  });

  test("C36: other bytes than the hash says are refused, forgotten, and may be sent anew", async () => {
    const at = await listening();
    const { content, about } = photo();
    const { begin, send } = parts(at, about.sha256);
    const wrong = Buffer.from(content);
    wrong[1000] = (wrong[1000] ?? 0) ^ 1;
    for (const [bytes, status] of [
      [wrong, 422],
      [content, 200],
    ] as const) {
      await begin(bytes.length).expect(201);
      await send(0, bytes).expect(204);
      await takeIn(at, about).expect(status);
    }
    expect(at.site.store.open(at.delivery).read().photos.length).toBe(1);
    expect(await at.temporaryFiles()).toEqual([]);
  });

  test("what is no photo is told why, and nothing is left of it", async () => {
    const why = "This is no photo we can read. Set the camera to JPEG and take it again.";
    const at = await listening({ examine: async () => ({ kind: "refused", status: 415, why }) });
    const { content, about } = photo(500);
    await parts(at, about.sha256).begin(500).expect(201);
    await parts(at, about.sha256).send(0, content).expect(204);
    expect((await takeIn(at, about).expect(415)).body.detail).toBe(why);
    expect(await at.temporaryFiles()).toEqual([]);
  });

  test("one request brings bytes at a time; one that fell silent gives way, and what it brought stays", async () => {
    const at = await listening();
    const { content, about } = photo(10_000);
    const { begin, offset, send } = parts(at, about.sha256);
    await begin(10_000).expect(201);
    const body = new ReadableStream({ start: (out) => out.enqueue(content.subarray(0, 4000)) });
    const broken = fetch(at.partsOf(about.sha256), {
      method: "PATCH",
      headers: { ...asPage(at), ...part, "upload-offset": "0" },
      body,
      duplex: "half",
    } as RequestInit).catch((error: unknown) => error);
    const arrived = () => at.site.store.open(at.delivery).uploads.progress(about.sha256);
    await expect.poll(async () => (await offset()).status, { timeout: 1500 }).toBe(423);
    await expect(arrived()).rejects.toThrow("is being sent already");
    const busy = await offset();
    expect(busy.headers["retry-after"]).toBe("2");
    await expect.poll(async () => (await offset()).headers["upload-offset"], { timeout: 5000 }).toBe("4000");
    expect(await broken).toBeInstanceOf(Error);
    await send(4000, content.subarray(4000)).expect(204);
    await takeIn(at, about).expect(200);
  });

  test("D9: an upload that nobody goes on with is dropped after a day, and no more than so many are begun", async () => {
    const at = await listening();
    const { uploads } = at.site.store.open(at.delivery);
    const hash = (k: number) => k.toString(16).padStart(64, "0");
    for (let k = 0; k < limits.unfinishedUploads; k++) await uploads.begin(hash(k), 10);
    const { headers } = await parts(at, "f".repeat(64)).begin(10).expect(503);
    expect(headers["retry-after"]).toBe("2");
    await uploads.sweep();
    expect((await at.temporaryFiles()).length).toBe(limits.unfinishedUploads);
    vi.spyOn(performance, "now").mockReturnValue(performance.now() + limits.unfinishedMs + 1000);
    await uploads.sweep();
    vi.restoreAllMocks();
    expect(await at.temporaryFiles()).toEqual([]);
  });
});
