import { describe, expect, test } from "vitest";
import { cropOf, wantedPictures, widened } from "../../../server/records/record-pictures.ts";
import { hashOf, quayDelivery } from "./quay-delivery.ts";

const pattern = quayDelivery().patterns[0]!;
const square = [
  [100, 100],
  [563, 100],
  [563, 1120],
  [100, 1120],
] as const;

describe("the box of a close view", () => {
  test("has the margin round the mark", () => {
    expect(widened({ x: 400, y: 900, w: 60, h: 20 }, 25, 50, pattern)).toEqual({ x: 375, y: 875, w: 110, h: 70 });
  });
  test("stays on the face at a corner, and is not larger than the face", () => {
    expect(widened({ x: 888, y: 2018, w: 38, h: 22 }, 25, 100, pattern)).toEqual({ x: 826, y: 1940, w: 100, h: 100 });
    expect(widened({ x: 0, y: 0, w: 900, h: 2000 }, 100, 100, pattern)).toEqual({ x: 0, y: 0, w: 926, h: 2040 });
  });
});

describe("which pictures are wanted", () => {
  const wanted = wantedPictures(quayDelivery(), ["W03"], () => square);

  test("both faces whole, the mark with what is round it and close by", () => {
    expect(wanted.map(({ name, view, face }) => [name, view, face])).toEqual([
      ["W03-A", "whole", "A"],
      ["W03-B", "whole", "B"],
      ["W03-mark-1-around", "around", "A"],
      ["W03-mark-1-close", "close", "A"],
    ]);
  });

  test("says how many px to the mm the photo itself holds", () => {
    // The outline is half as many px as the face has mm.
    expect(wanted[0]?.photoPxPerMm).toBeCloseTo(0.5, 6);
  });

  test("each crop is asked for in mm on the face", () => {
    const close = wanted.find(({ view }) => view === "close");
    expect(close && cropOf(close, pattern)).toMatchObject({
      widthMm: 926,
      heightMm: 2040,
      pxPerMm: 6,
      corners: square,
    });
  });

  test("a face without an outline is shown as taken", () => {
    const plain = wantedPictures(quayDelivery(), ["W03"], () => null);
    expect(plain.map(({ name, view }) => [name, view])).toEqual([
      ["W03-A", "as-taken"],
      ["W03-B", "as-taken"],
      ["W03-mark-1-photo", "as-taken"],
    ]);
    expect(plain[0] && cropOf(plain[0], pattern)).toBeNull();
  });

  test("corners set by hand win over what was found", () => {
    const delivery = quayDelivery();
    const byHand: [[number, number], [number, number], [number, number], [number, number]] = [
      [1, 2],
      [3, 2],
      [3, 8],
      [1, 8],
    ];
    for (const photo of delivery.photos) for (const shown of photo.shows) shown.corners = byHand;
    expect(wantedPictures(delivery, ["W03"], () => square)[0]?.corners).toEqual(byHand);
  });

  test("the signed note and the stack belong to every record", () => {
    const delivery = quayDelivery();
    const [first] = delivery.photos;
    if (first) delivery.photos.push({ ...first, id: hashOf("note"), kind: "note", shows: [] });
    expect(wantedPictures(delivery, ["W02"], () => square).at(-1)).toMatchObject({ leaf: null, photo: hashOf("note") });
  });
});
