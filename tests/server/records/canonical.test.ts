import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { canonicalJson, sha256Of } from "../../../server/records/canonical.ts";
import { numberSamples, sortedKeys, workedObject } from "../../published/canonical-json.ts";

describe("RFC 8785", () => {
  test.each(numberSamples)("the double %s is written %s", (bits, text) => {
    expect(canonicalJson(Buffer.from(bits, "hex").readDoubleBE())).toBe(text);
  });

  test("the worked object", () => {
    expect(canonicalJson(JSON.parse(workedObject.sent))).toBe(workedObject.canonical);
  });

  test("keys stand in the order of their UTF-16 code units", () => {
    const shuffled = Object.fromEntries(sortedKeys.toReversed().map((key) => [key, 1]));
    expect(Object.keys(JSON.parse(canonicalJson([shuffled]))[0]).sort()).toEqual(sortedKeys.toSorted());
    const places = sortedKeys.map((key) => canonicalJson(shuffled).indexOf(JSON.stringify(key)));
    expect(places).toEqual(places.toSorted((a, b) => a - b));
    expect(places).not.toContain(-1);
  });

  test.each([Number.NaN, Number.POSITIVE_INFINITY, "\ud800", ["a\udfff"], { "\udc00": 1 }, undefined])(
    "%j has no canonical form",
    (value) => {
      expect(() => canonicalJson(value)).toThrow();
    },
  );

  test("a backslash before the letters of an escape is no lone surrogate", () => {
    expect(canonicalJson("\\ud800")).toBe('"\\\\ud800"');
  });
});

test("any JSON value reads back equal, and the order of keys makes no difference", () => {
  const value = fc.jsonValue().map((made) => JSON.parse(JSON.stringify(made)));
  fc.assert(
    fc.property(value, (made) => {
      const text = canonicalJson(made);
      expect(JSON.parse(text)).toEqual(made);
      expect(canonicalJson(JSON.parse(text))).toBe(text);
    }),
    { seed: 8785 },
  );
});

/** FIPS 180-2, appendix B.1. */
test("SHA-256 of abc", () => {
  expect(sha256Of("abc")).toBe("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
});
