import { existsSync } from "node:fs";
import { mkdtemp, readdir, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import request from "supertest";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { PhotoState } from "../../../server/contract/photo.ts";
import { type OpenSite, openSite } from "../../../server/open-site.ts";
import { sha256Of } from "../../../server/records/canonical.ts";
import { type Api, apiOf } from "../../support/http.ts";
import { bombs } from "../../support/odd-pictures/bombs.ts";
import { cameraWritten } from "../../support/odd-pictures/camera-written.ts";
import { colours } from "../../support/odd-pictures/colours.ts";
import { damaged } from "../../support/odd-pictures/damaged.ts";
import { busyJpeg, type OddPicture } from "../../support/odd-pictures/odd-picture.ts";
import { strangers } from "../../support/odd-pictures/strangers.ts";

/** One server for all of them, with the child process that really opens them. */
let open: OpenSite;
let api: Api;
let delivery: string;
let folder: string;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "leafledger-test-"));
  open = await openSite(folder);
  api = apiOf(open.site);
  delivery = await api.begin();
  const leaf = { code: "W01", line: "L1", pattern: "FL-2040X826", identity: "as-ordered", replaces: null };
  await api.call("addLeaf", { delivery }, { leaf }).expect(200);
});

afterAll(async () => {
  await open.close();
  await rm(folder, { recursive: true, force: true });
});

const shows = [{ leaf: "W01", face: "A" as const, corners: null }];

const send = (bytes: Buffer) => api.upload({ delivery }, { shows }, bytes);

/** What must stand in no answer: a path, a stack, or a decoder's own words. */
const ofOurs = /\/tmp|\/home|node_modules|\.ts:|\bat \w+ \(|Vips|libpng|Error:/;

/** The longest that an answer may take on a machine that others use as well; the bar is two seconds. */
const answeredWithinMs = 10_000;

const takenIn = new Map<string, OddPicture>();
let slowest = { ms: 0, name: "" };

const all = [bombs, strangers, damaged, colours, cameraWritten].flat().sort((a, b) => a.row - b.row);

describe("an odd picture sent to the server", () => {
  test.each(all.map((one) => [`C${one.row}: ${one.name}`, one] as const))("%s", async (name, one) => {
    const bytes = await one.bytes();
    const id = sha256Of(bytes);
    const store = open.site.store.open(delivery);
    const begun = performance.now();
    const answer = await send(bytes);
    const ms = performance.now() - begun;
    if (ms > slowest.ms) slowest = { ms, name };
    expect(ms).toBeLessThan(answeredWithinMs);

    expect(answer.status, answer.text).toBe(one.expected.status);
    expect(answer.text).not.toMatch(ofOurs);
    if (one.expected.status !== 200) expect(answer.body.detail).toMatch(one.expected.says);
    const again = await send(bytes);
    expect(again.status).toBe(answer.status);
    if (one.expected.status === 200) {
      expect(again.body).toMatchObject({ id, known: true });
      takenIn.set(id, one);
    } else expect(again.body.detail).toBe(answer.body.detail);

    expect(existsSync(store.photos.path(id))).toBe(one.expected.status === 200);
    expect(await readdir(store.temporaryFolder)).toEqual([]);
    expect(api.faults).toEqual([]);
    await request(api.app).get("/healthz").expect(200);
  });

  test("C36: a photo of which one bit is another than on the phone is asked for again", async () => {
    const bytes = Buffer.from(busyJpeg);
    bytes[bytes.length >> 1] = (bytes[bytes.length >> 1] ?? 0) ^ 1;
    const answer = await api.upload({ delivery }, { sha256: sha256Of(busyJpeg), shows }, bytes);
    expect([answer.status, answer.body.detail]).toEqual([422, expect.stringMatching(/send it again/)]);
  });

  test("C37: a photo without its hash is refused", async () => {
    const answer = await api.upload({ delivery }, { sha256: undefined as never, shows }, busyJpeg);
    expect([answer.status, answer.body.detail]).toEqual([400, expect.stringMatching(/sha256/)]);
  });
});

describe("what was taken in", () => {
  test("C12 to C58: what is odd is kept with its reason and not measured, what is not is measured", async () => {
    await open.site.measuring.settled(delivery);
    console.info(`slowest of ${all.length} odd pictures: ${slowest.name}, ${Math.round(slowest.ms)} ms`);
    const { photos } = open.site.store.open(delivery).read();
    const measured = open.site.measuring.measured(delivery);
    const wrong: [string, PhotoState][] = [];
    for (const { id, flags } of photos) {
      const odd = takenIn.get(id);
      if (odd?.expected.status !== 200) continue;
      const { flag, noted } = odd.expected;
      const state = measured.state(id);
      const right = flag
        ? state.kind === "kept" && flag.test(state.why) && state.why.includes("not measured")
        : state.kind === "measured" || state.kind === "retake";
      if (!right || (noted && !flags.some((one) => noted.test(one)))) wrong.push([`C${odd.row}: ${odd.name}`, state]);
    }
    expect(wrong).toEqual([]);
    expect(photos.length).toBe(takenIn.size);
  }, 240_000);

  test.each([29, 30])("C%i: is only ever shown as a picture, and given back as a file to keep", async (row) => {
    const [id = ""] = [...takenIn].find(([, odd]) => odd.row === row) ?? [];
    const shown = await api.call("photoPreview", { delivery, photo: id }).expect(200);
    const kept = await api.call("photoOriginal", { delivery, photo: id }).expect(200);
    for (const { headers } of [shown, kept]) {
      expect(headers["content-security-policy"]).toContain("sandbox");
      expect(headers["x-content-type-options"]).toBe("nosniff");
    }
    expect(shown.headers["content-type"]).toBe("image/jpeg");
    expect(Buffer.from(shown.body as Buffer).includes("script")).toBe(false);
    expect(Buffer.from(shown.body as Buffer).includes("PK\x03\x04")).toBe(false);
    expect(kept.headers["content-type"]).toBe("application/octet-stream");
    expect(kept.headers["content-disposition"]).toMatch(/^attachment/);
  });
});
