import { expect, test } from "vitest";
import { leafOfLabel } from "../../../analysis/locate/label-code.ts";

test.each([
  ["HTTPS://LEAFLEDGER.LOCAL/L/W03", "W03"],
  ["https://leafledger.local/l/a-12.b", "A-12.B"],
  ["L07", "L07"],
])("%s names leaf %s", (text, leaf) => {
  expect(leafOfLabel(text)).toBe(leaf);
});

test.each([
  "LL/7K3QD/1",
  "HTTPS://ELSEWHERE.EXAMPLE/SHOP/W03",
  "WIFI:S:site;P:1234;;",
  "javascript:alert(1)",
  "",
  "W03 W04",
  "A".repeat(13),
])("%s names none", (text) => {
  expect(leafOfLabel(text)).toBeNull();
});
