import { appendFile } from "node:fs/promises";
import { afterEach, beforeEach, expect, test } from "vitest";
import type { LeafView } from "../../../server/contract/views.ts";
import { apiOf } from "../../support/http.ts";
import { type TestSite, testSite } from "../../support/test-site.ts";

let site: TestSite;
beforeEach(async () => {
  site = await testSite();
});
afterEach(() => site.remove());

test("A11: the leaf says which photo is damaged, until it is sent again; the others are served", async () => {
  const api = apiOf(site);
  const delivery = await api.begin();
  await api.leaf(delivery, "W01", "L1", "FL-2040X826");
  const photos = async () => ((await api.call("leaf", { delivery, leaf: "W01" })).body as LeafView).photos;
  const [one, other] = (await photos()).map(({ photo }) => photo.id);
  const { photos: files } = site.store.open(delivery);
  await appendFile(files.path(one ?? ""), "more");
  expect((await api.call("verify", { delivery })).body).toMatchObject({ sound: false });
  expect((await photos()).map(({ damage }) => damage)).toEqual(["changed", null]);
  await api.call("photoOriginal", { delivery, photo: other ?? "" }).expect(200);

  await api.upload({ delivery }, { shows: [{ leaf: "W01", face: "A", corners: null }] }, "W01 A").expect(200);
  expect((await photos()).map(({ damage }) => damage)).toEqual([null, null]);
  expect((await api.call("verify", { delivery })).body).toMatchObject({ sound: true });
});
