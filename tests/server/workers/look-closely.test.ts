import { expect, test } from "vitest";
import type { Quad } from "../../../analysis/pixels.ts";
import { lookClosely } from "../../../server/workers/look-closely.ts";
import { measureContrast } from "../../../server/workers/measure-contrast.ts";
import type { LookRequest } from "../../../server/workers/measurement.ts";
import { demoPhoto, demoRequest, marksOn } from "./demo-photos.ts";

/** The face of a single photo, with the corners it truly has. */
const faceIn = (file: string): LookRequest => {
  const { path, shows } = demoRequest(demoPhoto(file), true);
  const [shown] = shows;
  if (!shown?.corners) throw new Error(`${file} shows no whole face`);
  return { path, corners: shown.corners, layout: shown.layout, covers: [] };
};

const flat: Quad = [
  [0, 0],
  [10, 10],
  [20, 20],
  [30, 30],
];

test("a mark is told apart from the timber round it, plain timber is not", async () => {
  const face = faceIn("good/w07-b.jpg");
  const [mark] = marksOn("W07", "B");
  if (!mark) throw new Error("the demo has no mark there");
  const seen = await measureContrast({ ...face, box: mark.box });
  // Two colours a person tells apart side by side differ by 1 or more in CIEDE2000 (common practice, no source).
  expect(seen).toBeGreaterThan(2);
  expect(await measureContrast({ ...face, box: { x: 500, y: 1200, w: 40, h: 40 } })).toBeNull();
});

test("a mark is proposed where it is, and the grain of every part is told", async () => {
  const face = faceIn("good/w07-b.jpg");
  const [mark] = marksOn("W07", "B");
  const { grain, proposed } = await lookClosely(face);
  expect(grain.map(({ part }) => part)).toEqual(["face"]);
  const { x = NaN, y = NaN, w = NaN, h = NaN } = mark?.box ?? {};
  const over = proposed.filter(({ box }) => box.x < x + w && x < box.x + box.w && box.y < y + h && y < box.y + box.h);
  expect(over.map(({ kind }) => kind)).toContain("sand-through");
});

test("corners that span no area, and colours that are not known, show nothing", async () => {
  const face = { ...faceIn("good/w07-b.jpg"), corners: flat };
  expect(await lookClosely(face)).toEqual({ grain: [], proposed: [] });
  expect(await measureContrast({ ...face, box: { x: 1, y: 1, w: 9, h: 9 } })).toBeNull();
});
