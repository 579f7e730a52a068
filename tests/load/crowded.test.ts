import { execFileSync } from "node:child_process";
import { randomBytes } from "node:crypto";
import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { connect } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { limits } from "../../server/limits.ts";
import { aboutDetail, type BuiltServer, startBuilt } from "../support/built-server.ts";
import { brownJpeg, withJpegSegment } from "../support/photo-files.ts";
import { smallDelivery } from "../support/small-delivery.ts";

/** The whole of it takes minutes: `npm run load`. Each change is tried with a part. */
const all = process.env.LEAFLEDGER_LOAD === "all";

/** The built server, crowded. */
let data: string;
let server: BuiltServer;
let delivery: string;
beforeEach(async () => {
  data = mkdtempSync(join(tmpdir(), "leafledger-crowded-"));
  server = await startBuilt(data);
  delivery = (await server.call("createDelivery", {}, smallDelivery)).body.id;
});
afterEach(async () => {
  server.kill("SIGKILL");
  await server.ended;
  rmSync(data, { recursive: true, force: true });
});

const wait = (ms: number) => new Promise((done) => setTimeout(done, ms));
const openFiles = () => readdirSync(`/proc/${server.process.pid}/fd`).length;
const photosOf = async () =>
  ((await server.call("document", { delivery })).body as { photos: { id: string }[] }).photos;

/** Photos with bytes of their own. */
const photos = async (count: number): Promise<Buffer[]> => {
  const jpeg = await brownJpeg();
  return Array.from({ length: count }, () => withJpegSegment(jpeg, 0xfe, randomBytes(16)));
};

describe.skipIf(process.platform !== "linux")("few open files", () => {
  test("A6: hundreds of uploads at once with 128 open files: each is taken or may be tried again, none is lost, the files are closed", {
    timeout: 180_000,
  }, async () => {
    // With 64 Node cannot load the modules of a child process, and every upload is told so. The server looks at its limit now and then.
    execFileSync("prlimit", ["--pid", String(server.process.pid), "--nofile=128:128"]);
    await wait(limits.slow.checkMs + 500);
    const before = openFiles();
    const taken = await photos(all ? 500 : 120);
    const statuses = new Map<string, number>();
    const count = (what: string) => statuses.set(what, (statuses.get(what) ?? 0) + 1);
    const upload = async (bytes: Buffer) => {
      for (;;) {
        const answer = await server.upload(delivery, bytes).catch(() => null);
        count(answer ? String(answer.status) : "reset");
        if (answer?.status === 200) return;
        expect([null, 503]).toContain(answer?.status ?? null);
        await wait(300 + Math.random() * 700);
      }
    };
    await Promise.all(taken.map(upload));
    console.log(`A6: ${[...statuses].map(([what, times]) => `${times} x ${what}`).join(", ")}`);
    expect(server.process.exitCode).toBeNull();
    expect((await photosOf()).length).toBe(taken.length);
    await expect.poll(openFiles, { timeout: 10_000 }).toBeLessThanOrEqual(before + 8);
  });
});

test.runIf(all)(
  "B6: 200 clients at a byte a second do not slow light calls, and get 408 or are closed",
  {
    timeout: 90_000,
  },
  async () => {
    const { port } = new URL(server.address);
    const head = [`POST /api/v1/deliveries/${delivery}/photos HTTP/1.1`, `Host: localhost:${port}`];
    const inBody = [
      ...head,
      ...Object.entries(server.headers).map(([name, value]) => `${name}: ${value}`),
      "Content-Type: multipart/form-data; boundary=b",
      "Content-Length: 100000",
      "",
      "--b",
    ];
    const slow = (text: string, k: number) => {
      const begun = performance.now();
      return new Promise<{ said: string; afterS: number }>((done) => {
        const socket = connect(Number(port), "localhost");
        let said = "";
        let at = 0;
        const drip = setInterval(() => socket.write(text[at++ % text.length] ?? "x"), 1000 + k);
        socket.on("data", (bytes) => {
          said += String(bytes);
        });
        socket
          .on("error", () => undefined)
          .on("close", () => {
            clearInterval(drip);
            done({ said: said.slice(9, 12), afterS: (performance.now() - begun) / 1000 });
          });
        if (text !== "x") return;
        socket.write(inBody.join("\r\n"));
      });
    };
    const headers = Array.from({ length: 100 }, (_, k) => slow(head.join("\r\n"), k));
    const bodies = Array.from({ length: 100 }, (_, k) => slow("x", k));
    await wait(1000);
    const took: number[] = [];
    for (let k = 0; k < 200; k++) {
      const begun = performance.now();
      expect((await server.call("leaf", { delivery, leaf: "none" })).status).toBe(404);
      expect((await server.call("listDeliveries")).status).toBe(200);
      took.push((performance.now() - begun) / 2);
      await wait(20);
    }
    took.sort((a, b) => a - b);
    const inHeaders = await Promise.all(headers);
    const inBodies = await Promise.all(bodies);
    const most = (ends: typeof inHeaders) => Math.max(...ends.map(({ afterS }) => afterS));
    console.log(
      `B6: light calls p99 ${took[198]?.toFixed(0)} ms; headers ended after ${most(inHeaders).toFixed(1)} s, bodies after ${most(inBodies).toFixed(0)} s`,
    );
    expect(new Set(inHeaders.map(({ said }) => said))).toEqual(new Set(["408"]));
    expect(most(inHeaders)).toBeLessThan(17); // 15, and a second or two of a crowded machine
    expect(most(inBodies)).toBeLessThan(45);
    expect(took[198]).toBeLessThan(300);
    const temporaryFiles = () => readdirSync(join(data, "deliveries", delivery, "tmp"));
    await expect.poll(temporaryFiles, { timeout: 5000 }).toEqual([]);
  },
);

test("B5: a server killed with photos waiting measures all of them at the next start", {
  timeout: 120_000,
}, async () => {
  const { patterns } = (await server.call("document", { delivery })).body as { patterns: { id: string }[] };
  const leaf = { code: "W01", line: "L1", pattern: patterns[0]?.id, identity: "as-ordered", replaces: null };
  await server.call("addLeaf", { delivery }, { leaf });
  const count = all ? 150 : 40;
  const shows = [{ leaf: "W01", face: "A" as const, corners: null }];
  for (const bytes of await photos(count))
    expect((await server.upload(delivery, bytes, { ...aboutDetail(bytes), kind: "single", shows })).status).toBe(200);
  const waiting = async () =>
    ((await server.call("overview", { delivery })).body as { progress: { waiting: number } }).progress.waiting;
  const before = await waiting();
  server.kill("SIGKILL");
  await server.ended;
  const { cookie } = server.headers;
  server = await startBuilt(data, { cookie });
  console.log(`B5: killed with ${before} photos waiting`);
  expect(before).toBeGreaterThan(0);
  await expect.poll(waiting, { timeout: 100_000, interval: 500 }).toBe(0);
  expect((await photosOf()).length).toBe(count);
});
