import { afterEach, expect, test, vi } from "vitest";
import { hashPhoto } from "../../client/photo-check.ts";

afterEach(() => vi.unstubAllGlobals());

// FIPS 180-4, example of one block.
const abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

test("a photo is hashed by the browser", async () => {
  expect(await hashPhoto(new Blob(["abc"]))).toBe(abc);
});

test("and where the browser does not, on a page without https, by a script: the same", async () => {
  vi.stubGlobal("crypto", {});
  expect(await hashPhoto(new Blob(["abc"]))).toBe(abc);
});
