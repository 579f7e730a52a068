import { createHash } from "node:crypto";
import request, { type Test } from "supertest";
import { type AppSettings, makeApp } from "../../server/app.ts";
import type { Body, Reply } from "../../server/contract/calls.ts";
import { type CallName, paths } from "../../server/contract/paths.ts";
import type { Site } from "../../server/site.ts";
import { by, smallDelivery } from "./small-delivery.ts";

/** Calls of the API by name, as the screens make them. */
export interface Api {
  call(name: CallName, params?: Record<string, string>, body?: object): Test;
  /** Sends a photo whose bytes are the text given. */
  upload(params: Record<string, string>, about: Partial<Body<"uploadPhoto">>, content: string | Buffer): Test;
  /** Begins the small delivery and gives its id. */
  begin(): Promise<string>;
  /** Puts a leaf on a line, unwraps it and photographs both faces. */
  leaf(delivery: string, code: string, line: string, pattern: string): Promise<void>;
  readonly faults: unknown[];
  readonly app: ReturnType<typeof makeApp>;
}

const methods = { GET: "get", POST: "post", PUT: "put" } as const;

export const apiOf = (site: Site, settings: Partial<AppSettings> = {}): Api => {
  const faults: unknown[] = [];
  const app = makeApp(site, {
    clientFolder: "/nowhere",
    version: "0.0.0",
    report: (error) => faults.push(error),
    ...settings,
  });
  const addressOf = (path: string, params: Record<string, string>): string =>
    path.replace(/:(\w+)/g, (_, name: string) => encodeURIComponent(params[name] ?? ""));
  const api: Api = {
    app,
    faults,
    call: (name, params = {}, body) => {
      const [method, path] = paths[name];
      const test = request(app)[methods[method]](addressOf(path, params));
      return body === undefined ? test : test.send(body);
    },
    upload: (params, about, content) => {
      const sha256 = createHash("sha256").update(content).digest("hex");
      const whole = { by, sha256, name: "x.jpg", kind: "single", shows: [], note: "", ...about };
      return request(app)
        .post(addressOf(paths.uploadPhoto[1], params))
        .field("about", JSON.stringify(whole))
        .attach("photo", Buffer.from(content), "x.jpg");
    },
    begin: async () => ((await api.call("createDelivery", {}, smallDelivery)).body as Reply<"createDelivery">).id,
    leaf: async (delivery, code, line, pattern) => {
      const leaf = { code, line, pattern, identity: "as-ordered", replaces: null };
      await api.call("addLeaf", { delivery }, { by, leaf }).expect(200);
      await api.call("unwrapLeaf", { delivery, leaf: code }, { by, at: "2026-03-03T11:00:00+00:00" }).expect(200);
      for (const face of ["A", "B"] as const)
        await api.upload({ delivery }, { shows: [{ leaf: code, face, corners: null }] }, `${code} ${face}`).expect(200);
    },
  };
  return api;
};
