import { afterAll, beforeAll, expect, test } from "vitest";
import { labelText } from "../../../analysis/locate/label-code.ts";
import { type Api, apiOf } from "../../support/http.ts";
import { smallDelivery } from "../../support/small-delivery.ts";
import { type TestSite, testSite } from "../../support/test-site.ts";

let site: TestSite;
let api: Api;
let delivery: string;
let other: string;

const add = (to: string, code: string) =>
  api
    .call(
      "addLeaf",
      { delivery: to },
      { leaf: { code, line: "L1", pattern: "FL-2040X826", identity: "as-ordered", replaces: null } },
    )
    .expect(200);
const labelOf = (of: string, code: string): string => {
  const leaf = site.store
    .open(of)
    .read()
    .leaves.find((one) => one.code === code);
  return labelText(leaf?.labelId ?? "");
};
const lookUp = async (text: string) => (await api.call("lookUpCode", { delivery }, { text }).expect(200)).body;

beforeAll(async () => {
  site = await testSite();
  api = apiOf(site);
  delivery = await api.begin();
  other = (await api.call("createDelivery", {}, { ...smallDelivery, job: { ...smallDelivery.job, name: "Quay" } })).body
    .id;
  await add(delivery, "W01");
  await add(other, "W02");
});
afterAll(() => site.remove());

test("C76: our label is looked up in its delivery; another delivery's is named as that one's", async () => {
  expect(await lookUp(labelOf(delivery, "W01"))).toEqual({ leaf: "W01", says: "Leaf W01." });
  expect(await lookUp("HTTPS://LEAFLEDGER.LOCAL/L/W01")).toEqual({ leaf: "W01", says: "Leaf W01." });
  expect(await lookUp(labelOf(other, "W02"))).toEqual({ leaf: null, says: "This label belongs to delivery Quay." });
});

test("C76: the label of a leaf that was taken back belongs to none, though its code is given anew", async () => {
  const { seq } = (await add(delivery, "W09")).body;
  const old = labelOf(delivery, "W09");
  await api.call("undo", { delivery }, { seq }).expect(200);
  await add(delivery, "W09");
  expect(await lookUp(old)).toEqual({ leaf: null, says: "This label belongs to no leaf any more: print a new one." });
  expect((await lookUp(labelOf(delivery, "W09"))).leaf).toBe("W09");
});

test.each([
  "https://leafledger.example/L/W01",
  "javascript:alert(1)",
  "data:text/html,<script>alert(1)</script>",
  "WIFI:S:site;T:WPA;P:1234;;",
  "BEGIN:VCARD\nFN:Nobody\nEND:VCARD",
  "9".repeat(4296),
  "LL/7K3QD/1",
  "W77",
  "",
])("C76: %s is not one of our codes", async (text) => {
  expect(await lookUp(text)).toEqual({ leaf: null, says: "This is not one of our codes." });
});
