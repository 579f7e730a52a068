import { expect, test } from "vitest";
import { photoName } from "../../../server/rules/photo-name.ts";

test.each([
  ["IMG 0412.jpg", "IMG 0412.jpg"],
  ["Tür Ł 扉 🚪.jpg", "Tür Ł 扉 🚪.jpg"],
  ["../../etc/passwd", "passwd"],
  ["..\\..\\x.jpg", "x.jpg"],
  ["C:\\x.jpg", "x.jpg"],
  ["C:x.jpg", "x.jpg"],
  ["NUL", "NUL"],
  ["gpj.\u202Eexe\u202C", "gpj.exe"],
  ["\u2067right\u2069.jpg", "right.jpg"],
  ["one\r\ntwo\u0000\u007f\u0085.jpg", "onetwo.jpg"],
  ["half \ud800.jpg", "half .jpg"],
  ["🚪".repeat(500), "🚪".repeat(120)],
  [`  ${"x".repeat(119)} y.jpg`, "x".repeat(119)],
  ["..", "photo"],
  ["a/", "photo"],
  ["\u0000", "photo"],
  ["", "photo"],
])("C59: a photo whose file is named %j is shown as %j", (given, shown) => {
  expect(photoName(given)).toBe(shown);
});
