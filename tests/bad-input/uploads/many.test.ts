import { randomBytes } from "node:crypto";
import { readdirSync } from "node:fs";
import { connect } from "node:net";
import { describe, expect, test, vi } from "vitest";
import { limits } from "../../../server/limits.ts";
import { aboutOf, asPage, type Listening, listening } from "./listening.ts";

const form = (content: Buffer, about: object): FormData => {
  const body = new FormData();
  body.set("about", JSON.stringify(about));
  body.set("photo", new Blob([new Uint8Array(content)]), "photo.jpg");
  return body;
};

const upload = (at: Listening, content: Buffer, about: object = aboutOf(content)) =>
  fetch(at.photos, { method: "POST", headers: asPage(at), body: form(content, about) });

/** Again until the server has room, as a phone does. */
const untilTaken = async (at: Listening, content: Buffer, about?: object): Promise<Response> => {
  for (;;) {
    const answer = await upload(at, content, about);
    if (answer.status !== 503) return answer;
    expect(Number(answer.headers.get("retry-after"))).toBeGreaterThan(0);
    await answer.arrayBuffer();
    await new Promise((done) => setTimeout(done, 100));
  }
};

describe("B8: the same photo many times", () => {
  test("50 at once and 50 one after the other are one photo, one file, one line, looked at once", async () => {
    const examine = vi.fn(async () => undefined as never);
    const at = await listening({ examine });
    const content = randomBytes(30_000);
    const answers = await Promise.all(Array.from({ length: 50 }, () => untilTaken(at, content)));
    for (let k = 0; k < 50; k++) answers.push(await upload(at, content));
    const bodies = await Promise.all(
      answers.map(async (answer) => [answer.status, ((await answer.json()) as { id: string }).id]),
    );
    expect(new Set(bodies.map(String))).toEqual(new Set([`200,${aboutOf(content).sha256}`]));
    const store = at.site.store.open(at.delivery);
    expect(store.read().photos.length).toBe(1);
    expect(store.head().seq).toBe(2);
    expect(examine).toHaveBeenCalledTimes(1);
    expect(await at.temporaryFiles()).toEqual([]);
  });

  test("on two leaves it is one file with two links", async () => {
    const at = await listening();
    const code = (leaf: string) => ({ leaf, face: "A", corners: null });
    const [pattern] = at.site.store.open(at.delivery).read().patterns;
    for (const leaf of ["W01", "W02"]) {
      const added = { code: leaf, line: "L1", pattern: pattern?.id, identity: "as-ordered", replaces: null };
      await at.api.call("addLeaf", { delivery: at.delivery }, { leaf: added }).expect(200);
    }
    const content = randomBytes(1000);
    for (const leaf of ["W01", "W02"])
      expect((await upload(at, content, { ...aboutOf(content), shows: [code(leaf)] })).status).toBe(200);
    expect(
      at.site.store
        .open(at.delivery)
        .read()
        .photos.map(({ shows }) => shows.map((one) => one.leaf)),
    ).toEqual([["W01", "W02"]]);
  });
});

test("B5: more than eight at once are told to come again, and all arrive", async () => {
  let [open, most] = [0, 0];
  const at = await listening({
    examine: async () => {
      most = Math.max(most, ++open);
      await new Promise((done) => setTimeout(done, 5));
      open--;
      return undefined as never;
    },
  });
  const answers = await Promise.all(Array.from({ length: 120 }, () => untilTaken(at, randomBytes(2000))));
  expect(answers.every(({ status }) => status === 200)).toBe(true);
  expect(most).toBeLessThanOrEqual(limits.uploads.atOnce);
  expect(at.site.store.open(at.delivery).read().photos.length).toBe(120);
});

const openFiles = () => readdirSync("/proc/self/fd").length;

test.skipIf(process.platform !== "linux")(
  "B7: a thousand uploads cut off in the middle leave no file, no open file and no memory",
  async () => {
    const at = await listening();
    const path = new URL(at.photos).pathname;
    const headers = asPage(at, { "content-type": "multipart/form-data; boundary=b", "content-length": "500000" });
    const head = `POST ${path} HTTP/1.1\r\n${Object.entries(headers)
      .map(([name, value]) => `${name}: ${value}\r\n`)
      .join("")}\r\n`;
    const begin = '--b\r\nContent-Disposition: form-data; name="photo"; filename="x.jpg"\r\n\r\n';
    const abort = () =>
      new Promise<void>((done) => {
        const socket = connect(at.port, "127.0.0.1", () => {
          socket.write(head + begin);
          socket.write(Buffer.alloc(60_000), () => setTimeout(() => socket.resetAndDestroy(), 1));
        });
        socket.on("error", () => undefined).on("close", () => done());
      });
    const many = async (count: number) => {
      for (let k = 0; k < count; k += 8) await Promise.all(Array.from({ length: 8 }, abort));
      await expect.poll(at.temporaryFiles, { timeout: 5000 }).toEqual([]);
    };
    await many(200);
    globalThis.gc?.();
    const before = { files: openFiles(), memory: process.memoryUsage().rss };
    await many(1000);
    globalThis.gc?.();
    await expect.poll(openFiles, { timeout: 5000 }).toBeLessThanOrEqual(before.files);
    const grown = (process.memoryUsage().rss - before.memory) / 1e6;
    console.log(`B7: memory grew by ${grown.toFixed(0)} MB over 1,000 aborted uploads`);
    expect(grown).toBeLessThan(60);
    expect(at.api.faults).toEqual([]);
  },
);

test("D9: a delivery that holds as many photos as it may takes no more, and says what to do", async () => {
  const at = await listening();
  const store = at.site.store.open(at.delivery);
  const full = {
    ...store.read(),
    photos: Array.from({ length: limits.delivery.photos }, () => ({ bytes: 1, id: "" })),
  };
  vi.spyOn(store, "read").mockReturnValue(full as never);
  const answer = await upload(at, randomBytes(100));
  expect(answer.status).toBe(413);
  expect(((await answer.json()) as { detail: string }).detail).toMatch(/^This delivery holds 5000 photos/);
  vi.restoreAllMocks();
  expect(await at.temporaryFiles()).toEqual([]);
});
