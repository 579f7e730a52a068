import { sendPhoto } from "../../client/send-photo.ts";
import type { KeptPhoto } from "../../client/upload-queue.ts";
import { sha256Of } from "../../server/records/canonical.ts";
import type { WatchedServer } from "./watched-server.ts";

const wait = (seconds: number) => new Promise((done) => setTimeout(done, 1000 * seconds));

/** As many photos as the phone has to send, each sent until the laptop says that it holds it: seconds from the first byte to that. */
const sendAll = async (photos: readonly KeptPhoto[]): Promise<number[]> => {
  const took: number[] = [];
  for (const photo of photos) {
    const begun = performance.now();
    for (;;) {
      const sent = await sendPhoto(photo);
      if (sent.kind === "received" && sent.sha256 === photo.about.sha256) break;
      if (sent.kind === "refused") throw new Error(`refused: ${sent.says}`);
      await wait(sent.kind === "busy" ? sent.seconds : 1);
    }
    took.push((performance.now() - begun) / 1000);
  }
  return took;
};

/** So many phones at once, each with so many photos of leaf W01 or W02, by the client's own code. Seconds until each was acknowledged. */
export const phones = async (
  server: WatchedServer,
  count: number,
  each: number,
  take: () => Buffer,
): Promise<number[]> => {
  const real = globalThis.fetch;
  globalThis.fetch = (path, init) =>
    real(`${server.address}${path as string}`, {
      ...init,
      headers: { ...server.headers, ...(init?.headers as Record<string, string>) },
    });
  const rolls = Array.from({ length: count }, (_, phone) =>
    Array.from({ length: each }, (): KeptPhoto => {
      const bytes = take();
      const sha256 = sha256Of(bytes);
      const shows = [{ leaf: phone % 2 ? "W01" : "W02", face: "A" as const, corners: null }];
      const about = { sha256, name: "photo.jpg", kind: "single" as const, shows, note: "" };
      const file = new Blob([new Uint8Array(bytes)]);
      const { delivery } = server;
      return { id: sha256, delivery, about, file, keptAt: "2026-03-03T11:00:00Z", state: { kind: "kept" } };
    }),
  );
  try {
    return (await Promise.all(rolls.map(sendAll))).flat().sort((a, b) => a - b);
  } finally {
    globalThis.fetch = real;
  }
};

/** Waits until no photo waits to be measured any more, and tells what became of them. */
export const allAnalysed = async (server: WatchedServer): Promise<Record<string, number>> => {
  const { delivery } = server;
  for (;;) {
    const { progress } = (await server.call("overview", { delivery })).body as { progress: Record<string, number> };
    if (progress.waiting === 0) return progress;
    await wait(0.5);
  }
};
