import { X509Certificate } from "node:crypto";
import { stat } from "node:fs/promises";
import { createServer, get } from "node:https";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import request from "supertest";
import { expect, onTestFinished, test } from "vitest";
import { certificateFor, ownNames } from "../../server/access/certificate.ts";
import { plainHttp } from "../../server/plain-http.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";

const now = new Date();
const inDays = (days: number): Date => new Date(now.getTime() + days * 86_400_000);

test("D8: the certificate is trusted through its authority, kept private, and issued anew only for new names or near its end", async () => {
  const folder = await temporaryFolder();
  const first = await certificateFor(folder, ["site.local", "192.168.7.20"], now);
  const server = new X509Certificate(first.cert);
  expect(server.checkHost("site.local")).toBe("site.local");
  expect(server.checkIP("192.168.7.20")).toBe("192.168.7.20");
  expect((Date.parse(server.validTo) - Date.parse(server.validFrom)) / 86_400_000).toBeLessThanOrEqual(397);
  expect(new X509Certificate(first.authority).ca).toBe(true);
  for (const name of ["authority-key.pem", "server-key.pem", "server.pem"])
    expect((await stat(join(folder, "certificate", name))).mode & 0o777).toBe(0o600);

  expect(await certificateFor(folder, ["site.local"], inDays(100))).toEqual(first);
  const moved = await certificateFor(folder, ["site.local", "10.0.0.5"], now);
  expect(moved.authority).toBe(first.authority);
  expect(moved.cert).not.toBe(first.cert);
  expect((await certificateFor(folder, ["site.local"], inDays(380))).cert).not.toBe(moved.cert);

  const listening = createServer({ cert: first.cert, key: first.key }, (_request, response) => response.end("in"));
  onTestFinished(() => void listening.close());
  await new Promise<void>((done) => listening.listen(0, "127.0.0.1", done));
  const { port } = listening.address() as AddressInfo;
  const ask = (ca: string[]) =>
    new Promise<string>((done) =>
      get({ port, host: "127.0.0.1", servername: "site.local", ca, agent: false }, (answer) => {
        answer.resume();
        done("trusted");
      }).on("error", (error) => done(error.message)),
    );
  expect(await ask([first.authority])).toBe("trusted");
  expect(await ask([])).not.toBe("trusted");
});

test("D8: without encryption pages are sent on, calls refused, and only the certificate and its page are handed out", async () => {
  const plain = plainHttp("the certificate", ["site.local", "localhost"], () => 4180);
  const host = { Host: "site.local:4181" };
  expect((await request(plain).get("/d/tarnmill").set(host).expect(307)).headers.location).toBe(
    "https://site.local:4180/d/tarnmill",
  );
  expect((await request(plain).get("//evil.example/").set(host).expect(307)).headers.location).toBe(
    "https://site.local:4180/",
  );
  await request(plain).get("/api/v1/deliveries").set(host).expect(403);
  await request(plain).post("/api/v1/pairing").set(host).expect(403);
  await request(plain).get("/help").set("Host", "evil.example").expect(421);
  expect((await request(plain).get("/help").set(host).expect(200)).text).toContain("take it off");
  const { headers } = await request(plain).get("/authority.crt").set(host).expect(200);
  expect(headers["content-type"]).toBe("application/x-x509-ca-cert");
});

test("names come plainest first, and each once", () => {
  const names = ownNames(["door-store.site", "door-store.site"]);
  expect(names[0]).toBe("door-store.site");
  expect(new Set(names).size).toBe(names.length);
});
