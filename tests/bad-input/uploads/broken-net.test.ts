import { randomBytes } from "node:crypto";
import { readFile } from "node:fs/promises";
import { afterEach, describe, expect, test, vi } from "vitest";
import { sendPhoto } from "../../../client/send-photo.ts";
import { type KeptPhoto, openUploadQueue, type PhotoShelf } from "../../../client/upload-queue.ts";
import { type Cut, cuttingProxy, numbersFrom } from "../../support/cutting-proxy.ts";
import { aboutOf, asPage, type Listening, listening } from "./listening.ts";

const photo = (delivery: string, bytes: number, k: number): KeptPhoto => {
  const content = randomBytes(bytes);
  const about = aboutOf(content, { name: `${k}.jpg` });
  const keptAt = new Date(k).toISOString();
  return {
    id: `${delivery} ${about.sha256}`,
    delivery,
    about,
    file: new Blob([content]),
    keptAt,
    state: { kind: "kept" },
  };
};

const shelf: PhotoShelf = { all: async () => [], put: async () => undefined, remove: async () => undefined };

const realFetch = globalThis.fetch;
afterEach(() => vi.unstubAllGlobals());

/** A phone whose page asks the laptop at this port. */
const phoneAt = (at: Listening, port: number) => {
  vi.stubGlobal("fetch", (path: string, init: RequestInit) =>
    realFetch(`http://127.0.0.1:${port}${path}`, {
      ...init,
      headers: { ...asPage(at), ...(init.headers as Record<string, string>) },
    }),
  );
  return openUploadQueue(shelf, sendPhoto, () => undefined);
};

/** Tries until nothing waits, as the page does each time the signal is back. */
const sendAll = async (queue: Awaited<ReturnType<typeof phoneAt>>): Promise<void> => {
  for (let tries = 0; queue.photos.value.length > 0; tries++) {
    if (tries > 2000) throw new Error("the photos never arrive");
    await queue.sendWaiting();
  }
};

describe("B9: a net that breaks", () => {
  test("every connection cut at a random byte with probability one half: 200 photos arrive once each, 1.6 times the bytes", async () => {
    const at = await listening();
    const size = 100_000;
    const random = numbersFrom(9);
    const cutOf = (): Cut => (random() < 0.5 ? { bytes: Math.floor(random() * size) } : null);
    const proxy = await cuttingProxy(at.port, cutOf);
    const queue = await phoneAt(at, proxy.port);
    const photos = Array.from({ length: 200 }, (_, k) => photo(at.delivery, size, k));
    for (const one of photos) await queue.keep(one);
    await sendAll(queue);
    await proxy.close();
    const store = at.site.store.open(at.delivery);
    expect(store.read().photos.map(({ id }) => id)).toEqual(photos.map(({ about }) => about.sha256));
    for (const { about, file } of photos.slice(0, 20))
      expect(await readFile(store.photos.path(about.sha256))).toEqual(Buffer.from(await file.arrayBuffer()));
    const share = proxy.sent() / (200 * size);
    console.log(`B9: ${proxy.cuts()} connections cut, ${share.toFixed(2)} times the photos' bytes sent`);
    expect(proxy.cuts()).toBeGreaterThan(50);
    expect(share).toBeLessThan(1.6);
    expect(await at.temporaryFiles()).toEqual([]);
    expect(at.api.faults).toEqual([]);
  });

  test("a slow net whose connections never last long enough for a whole photo: it arrives in parts, and never in one go", async () => {
    const at = await listening();
    const proxy = await cuttingProxy(at.port, () => ({ ms: 400 }), 1_000_000);
    const queue = await phoneAt(at, proxy.port);
    const one = photo(at.delivery, 1_200_000, 1);
    const whole = new FormData();
    whole.set("about", JSON.stringify(one.about));
    whole.set("photo", one.file);
    const inOneGo = () => fetch(new URL(at.photos).pathname, { method: "POST", body: whole });
    for (let tries = 0; tries < 3; tries++) await expect(inOneGo()).rejects.toThrow("fetch failed");
    await queue.keep(one);
    await sendAll(queue);
    expect(proxy.cuts()).toBeGreaterThan(1);
    await proxy.close();
    expect(at.site.store.open(at.delivery).read().photos.length).toBe(1);
  });
});

test("a laptop that is started anew between a photo's bytes and its description gets them again", async () => {
  const at = await listening();
  const queue = await phoneAt(at, at.port);
  const asPhone = globalThis.fetch;
  const { uploads } = at.site.store.open(at.delivery);
  const one = photo(at.delivery, 1000, 1);
  let restarts = 1;
  vi.stubGlobal("fetch", async (path: string, init: RequestInit) => {
    if (path.endsWith("/photos") && restarts-- > 0) await uploads.drop(one.about.sha256);
    return asPhone(path, init);
  });
  await queue.keep(one);
  await queue.sendWaiting();
  expect(queue.photos.value.map(({ state }) => state.kind)).toEqual(["kept"]);
  await queue.sendWaiting();
  expect(queue.photos.value).toEqual([]);
});

test("B5: a laptop that has no room says when to come again, and the phone does", async () => {
  const at = await listening();
  let waiting = 500;
  const progress = at.site.measuring.progress("tarnmill");
  vi.spyOn(at.site.measuring, "progress").mockImplementation(() => ({ ...progress, waiting }));
  const queue = await phoneAt(at, at.port);
  const real = globalThis.setTimeout;
  const asked: (number | undefined)[] = [];
  vi.spyOn(globalThis, "setTimeout").mockImplementation(((run: () => void, ms?: number) => {
    if (ms === 30_000) asked.push(ms);
    return real(run, ms === 30_000 ? 50 : ms);
  }) as typeof setTimeout);
  await queue.keep(photo(at.delivery, 1000, 1));
  await queue.sendWaiting();
  expect(queue.photos.value[0]?.state.kind).toBe("kept");
  expect(asked).toEqual([30_000]);
  waiting = 0;
  await expect.poll(() => queue.photos.value).toEqual([]);
  vi.restoreAllMocks();
});
