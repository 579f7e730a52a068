import { createHash } from "node:crypto";
import request, { type Test } from "supertest";
import { type Access, openAccess } from "../../server/access/access.ts";
import { computerClock } from "../../server/access/computer-clock.ts";
import { nobody } from "../../server/access/kept-access.ts";
import { hashOf } from "../../server/access/secret.ts";
import { type AppSettings, makeApp } from "../../server/app.ts";
import type { Session } from "../../server/contract/access.ts";
import type { Body, Reply } from "../../server/contract/calls.ts";
import { type CallName, paths } from "../../server/contract/paths.ts";
import type { Site } from "../../server/site.ts";
import { by, smallDelivery } from "./small-delivery.ts";

/** Calls of the API by name, as the screens make them, in a session that the server holds. */
export interface Api {
  call(name: CallName, params?: Record<string, string>, body?: object): Test;
  /** Sends a photo whose bytes are the text given. */
  upload(params: Record<string, string>, about: Partial<Body<"uploadPhoto">>, content: string | Buffer): Test;
  /** Begins the small delivery and gives its id. */
  begin(): Promise<string>;
  /** Puts a leaf on a line, unwraps it and photographs both faces. */
  leaf(delivery: string, code: string, line: string, pattern: string): Promise<void>;
  /** The same server for another: its foreman, a hand, a guest of record 1 of the delivery named, or nobody. */
  as(who: Insider | null): Api;
  /** What a page of ours sends with each request of the session. */
  readonly headers: Readonly<Record<string, string>>;
  readonly faults: unknown[];
  readonly access: Access;
  readonly app: ReturnType<typeof makeApp>;
}

const methods = { GET: "get", POST: "post", PUT: "put", HEAD: "head", PATCH: "patch" } as const;

/** Those who are let in from the start, on every delivery but the guest, who sees record 1 of Tarn Mill. */
const insiders = {
  foreman: { name: by.name, device: by.device, role: "foreman", delivery: null, record: null },
  hand: { name: "H. Tester", device: "phone", role: "hand", delivery: null, record: null },
  "hand of tarnmill": { name: "T. Tester", device: "phone 2", role: "hand", delivery: "tarnmill", record: null },
  guest: { name: null, device: "guest", role: "guest", delivery: "tarnmill", record: 1 },
} as const satisfies Record<string, Omit<Session, "id">>;
export type Insider = keyof typeof insiders;

const tokenOf = (who: string): string => `token of the ${who}`.replaceAll(" ", "-");

const sessions = Object.entries(insiders).map(([who, session], index) => ({
  ...session,
  id: `01TESTER0000000000000000${String(10 + index)}`,
  hash: hashOf(tokenOf(who)),
  ageMs: 0,
  idleMs: 0,
  link: null,
}));

const addressOf = (path: string, params: Record<string, string>): string =>
  path.replace(/:(\w+)/g, (_, name: string) => encodeURIComponent(params[name] ?? ""));

export const apiOf = (site: Site, settings: Partial<AppSettings> = {}): Api => {
  const faults: unknown[] = [];
  const written = { wallMs: computerClock.wallMs(), uptimeMs: computerClock.uptimeMs() };
  const access = openAccess({ kept: { ...nobody, written, sessions }, save: async () => undefined });
  const app = makeApp(site, {
    clientFolder: "/nowhere",
    version: "0.0.0",
    access,
    rates: { light: 1_000_000, uploads: 1_000_000, pairings: 1_000_000 },
    report: (error) => faults.push(error),
    ...settings,
  });
  const apiFor = (who: Insider | null): Api => {
    const asPage = { "x-leafledger": "1", "sec-fetch-site": "same-origin" };
    const headers = who === null ? asPage : { ...asPage, cookie: `leafledger=${tokenOf(who)}` };
    const api: Api = {
      app,
      faults,
      headers,
      access: settings.access ?? access,
      as: apiFor,
      call: (name, params = {}, body) => {
        const [method, path] = paths[name];
        const test = request(app)[methods[method]](addressOf(path, params)).set(headers);
        return body === undefined ? test : test.send(body);
      },
      upload: (params, about, content) => {
        const sha256 = createHash("sha256").update(content).digest("hex");
        const whole = { sha256, name: "x.jpg", kind: "single", shows: [], note: "", ...about };
        return request(app)
          .post(addressOf(paths.uploadPhoto[1], params))
          .set(headers)
          .field("about", JSON.stringify(whole))
          .attach("photo", Buffer.from(content), "x.jpg");
      },
      begin: async () => ((await api.call("createDelivery", {}, smallDelivery)).body as Reply<"createDelivery">).id,
      leaf: async (delivery, code, line, pattern) => {
        const leaf = { code, line, pattern, identity: "as-ordered", replaces: null };
        await api.call("addLeaf", { delivery }, { leaf }).expect(200);
        await api.call("unwrapLeaf", { delivery, leaf: code }, { at: "2026-03-03T11:00:00+00:00" }).expect(200);
        for (const face of ["A", "B"] as const)
          await api
            .upload({ delivery }, { shows: [{ leaf: code, face, corners: null }] }, `${code} ${face}`)
            .expect(200);
      },
    };
    return api;
  };
  return apiFor("foreman");
};
