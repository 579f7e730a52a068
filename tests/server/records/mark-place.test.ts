import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { markPlace, partWords } from "../../../server/records/mark-place.ts";
import { fourPanel, quayDelivery } from "./quay-delivery.ts";

const flush = quayDelivery().patterns[0]!;
const at = (x: number, y: number, w = 20, h = 10) => ({ x, y, w, h });

describe("where a mark lies, in words", () => {
  test.each([
    [at(888, 2018, 38, 22), "left", "bottom closing corner"],
    [at(888, 2018, 38, 22), "right", "bottom hanging corner"],
    [at(888, 2018, 38, 22), null, "bottom right corner"],
    [at(0, 0), null, "top left corner"],
    [at(700, 1000), "left", "closing side, middle third"],
    [at(430, 300, 60, 15), "left", "centre, upper third"],
    [at(70, 1900), "left", "hanging side, lower third"],
    [at(0, 0, 926, 2040), "left", "centre, middle third"],
  ] as const)("flush leaf, %j, hanging side %s: %s", (box, side, words) => {
    expect(markPlace(flush, box, side)).toBe(words);
  });

  test.each([
    [at(760, 900), "left", "closing stile, middle third"],
    [at(20, 900), "left", "hanging stile, middle third"],
    [at(20, 300), null, "left stile, upper third"],
    [at(600, 1000), "left", "lock rail, closing side"],
    [at(200, 500), "left", "top left panel, upper third of the leaf"],
    [at(400, 1500), null, "bottom muntin, lower third of the leaf"],
  ] as const)("panelled leaf, %j, hanging side %s: %s", (box, side, words) => {
    expect(markPlace(fourPanel, box, side)).toBe(words);
  });

  test("the mirror image of a mark lies on the mirror side", () => {
    const { widthMm, heightMm } = flush;
    fc.assert(
      fc.property(fc.double({ min: 0, max: 880 }), fc.double({ min: 0, max: 2000 }), (x, y) => {
        fc.pre(!Number.isNaN(x) && !Number.isNaN(y) && y + 10 < heightMm);
        fc.pre(Math.abs((x + 10) / widthMm - 1 / 3) > 1e-6 && Math.abs((x + 10) / widthMm - 2 / 3) > 1e-6);
        fc.pre(Math.abs(x - 60) > 1e-6 && Math.abs(x - (widthMm - 80)) > 1e-6);
        expect(markPlace(flush, at(widthMm - x - 20, y), "left")).toBe(markPlace(flush, at(x, y), "right"));
      }),
      { seed: 3 },
    );
  });
});

test.each([
  ["stile-left", "stile", "left stile"],
  ["rail-mid-1", "rail", "mid rail 1"],
  ["panel-3", "panel", "panel 3"],
  ["lock-rail", "rail", "lock rail"],
])("the part %s is called %s", (name, kind, words) => {
  expect(partWords({ name, kind })).toBe(words);
});
