import { readdir, readFile, stat } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import { startBuilt } from "../support/built-server.ts";
import { smallDelivery } from "../support/small-delivery.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";

test("D16: no secret stands in the log or in any file of the data folder, and what is kept of them is for the owner alone", {
  timeout: 60_000,
}, async () => {
  const folder = await temporaryFolder();
  const server = await startBuilt(folder);
  const { body } = await server.call("createDelivery", {}, smallDelivery);
  const offer = await server.call("offerPairing", {}, { role: "hand", delivery: body.id, device: "phone" });
  await server.call("pair", {}, { secret: "00000000", name: null });
  await server.call("nothingSuch" as "state").catch(() => undefined);
  const secrets = [server.headers.cookie?.split("=")[1], offer.body.code, offer.body.address.split("#")[1]];
  expect(secrets.every((secret) => typeof secret === "string" && secret.length >= 8)).toBe(true);
  server.kill("SIGTERM");
  await server.ended;
  const files = await readdir(folder, { recursive: true, withFileTypes: true });
  const texts = [server.errors()];
  for (const file of files.filter((one) => one.isFile()))
    texts.push(await readFile(join(file.parentPath, file.name), "latin1"));
  for (const secret of secrets) expect(texts.filter((text) => text.includes(String(secret)))).toEqual([]);
  expect((await stat(join(folder, "access.json"))).mode & 0o777).toBe(0o600);
});
