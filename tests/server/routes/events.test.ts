import { createServer, get } from "node:http";
import type { AddressInfo } from "node:net";
import { expect, onTestFinished, test } from "vitest";
import type { Planning } from "../../../server/site.ts";
import { apiOf } from "../../support/http.ts";
import { testSite } from "../../support/test-site.ts";

test("the stream tells how far measuring is at once, a change when it is saved, and how far planning is", async () => {
  let planning: Parameters<Planning["onProgress"]>[0] | undefined;
  const site = await testSite({
    planning: {
      make: () => Promise.reject(new Error("not asked here")),
      stop: () => false,
      progress: () => null,
      onProgress: (listener) => {
        planning = listener;
        return () => undefined;
      },
    },
  });
  onTestFinished(() => site.remove());
  const api = apiOf(site);
  const delivery = await api.begin();
  const server = createServer(api.app).listen(0, "127.0.0.1");
  onTestFinished(() => {
    server.closeAllConnections();
    server.close();
  });
  await new Promise((done) => server.once("listening", done));
  const { port } = server.address() as AddressInfo;

  let text = "";
  const { headers } = api;
  const path = `/api/v1/deliveries/${delivery}/events`;
  const stream = get({ port, host: "127.0.0.1", path, headers }, (response) => {
    expect(response.headers["content-type"]).toBe("text/event-stream");
    expect(response.headers["content-encoding"]).toBeUndefined();
    response.on("data", (data) => {
      text += String(data);
    });
    response.on("error", () => undefined);
  });
  stream.on("error", () => undefined);
  await expect.poll(() => text).toContain('"kind":"progress"');
  expect(text).not.toContain("changed");
  await api.call("countLine", { delivery, line: "L1" }, { counted: 4 }).expect(200);
  await expect.poll(() => text, { timeout: 3000 }).toContain('id: 2\nevent: changed\ndata: {"kind":"changed","seq":2}');
  planning?.(delivery, { worst: 3.1, bound: 2.9, seconds: 1 });
  planning?.("another", { worst: 9, bound: 9, seconds: 1 });
  planning?.(delivery, null);
  await expect.poll(() => text).toContain('{"kind":"planning","planning":{"worst":3.1,"bound":2.9,"seconds":1}}');
  await expect.poll(() => text).toContain('{"kind":"planning","planning":null}');
  expect(text).not.toContain('"worst":9');
  stream.destroy();
});
