import { describe, expect, test } from "vitest";
import type { Delivery } from "../../../server/contract/delivery.ts";
import type { Photo } from "../../../server/contract/photo.ts";
import {
  fingerprintOf,
  layoutOfLeaf,
  measurementRequest,
  whyKept,
} from "../../../server/use-cases/measurement-request.ts";
import { aDelivery, aLeaf, aPattern, aPhoto } from "../../support/leaves.ts";

const flush = aPattern({ id: "FL-2040X826", widthMm: 826, heightMm: 2040 });
const delivery = aDelivery({ patterns: [flush], leaves: [aLeaf({ code: "W01" }), aLeaf({ code: "W02" })] });
const single = { ...aPhoto("single", ["W01", "A"]), camera: "Brannoch P1" };
const path = "/data/photo.jpg";

const fingerprint = (given: Delivery, photo: Photo, at = path): string =>
  fingerprintOf(measurementRequest(given, photo, at));

describe("what is asked of a photo", () => {
  test("is each face with how its parts lie, left to right", () => {
    const lineUp = { ...aPhoto("line-up", ["W02", "B"], ["W01", "A"]), camera: "Brannoch P1" };
    const request = measurementRequest(delivery, lineUp, path);
    expect(request).toMatchObject({ photo: lineUp.id, path, camera: "Brannoch P1", references: null });
    expect(request?.shows.map(({ leaf, face, layout }) => [leaf, face, layout])).toEqual([
      ["W02", "B", flush],
      ["W01", "A", flush],
    ]);
  });

  test.each(["detail", "label", "wrapping", "note", "stack", "edge"] as const)("is nothing of a %s", (kind) => {
    expect(measurementRequest(delivery, aPhoto(kind, ["W01", "A"]), path)).toBeNull();
  });

  test("is nothing when no face is named, or the file is flagged as not to be measured", () => {
    expect(measurementRequest(delivery, aPhoto("single"), path)).toBeNull();
    const flags = ["print colours (CMYK): kept, colour not measured"];
    expect(measurementRequest(delivery, { ...single, flags }, path)).toBeNull();
    expect(measurementRequest(delivery, { ...single, flags: ["taken at night"] }, path)).not.toBeNull();
  });

  test("a photo that is kept says why: what is odd about its file, else that it shows no face", () => {
    const odd = ["grey picture: kept, colour not measured", "panorama: kept, colour not measured"];
    expect(whyKept({ ...single, flags: [...odd, "taken at night"] })).toBe(odd.join("; "));
    expect(whyKept(aPhoto("detail"))).toMatch(/shows no whole face/);
  });

  test("knows no layout of a leaf that is not there", () => {
    expect(layoutOfLeaf(delivery, "W01")).toEqual(flush);
    expect(layoutOfLeaf(delivery, "W99")).toBeUndefined();
    expect(layoutOfLeaf({ ...delivery, patterns: [] }, "W01")).toBeUndefined();
  });
});

describe("the fingerprint of what is asked", () => {
  const asked = fingerprint(delivery, single);
  const corners: [[number, number], [number, number], [number, number], [number, number]] = [
    [10, 20],
    [110, 20],
    [110, 320],
    [10, 320],
  ];
  const withCorners = (moved: typeof corners): Photo => ({
    ...single,
    shows: [{ leaf: "W01", face: "A", corners: moved }],
  });

  test("stays when the photo lies elsewhere, or something else of it is written down", () => {
    expect(fingerprint(delivery, single, "/elsewhere/photo.jpg")).toBe(asked);
    expect(fingerprint(delivery, { ...single, name: "other.jpg", note: "lower hinge" })).toBe(asked);
    expect(fingerprint({ ...delivery, marks: [] }, structuredClone(single))).toBe(asked);
  });

  test("stays when another leaf comes, or a label gets an id: the photo itself need not be measured again", () => {
    const leaves = [aLeaf({ code: "W01", labelId: "0000000000001" }), aLeaf({ code: "W02" }), aLeaf({ code: "W09" })];
    expect(fingerprint({ ...delivery, leaves }, single)).toBe(asked);
  });

  test.each<[string, () => string]>([
    ["corners are set", () => fingerprint(delivery, withCorners(corners))],
    ["the pattern's size changes", () => fingerprint({ ...delivery, patterns: [{ ...flush, widthMm: 827 }] }, single)],
    [
      "a part moves",
      () =>
        fingerprint(
          {
            ...delivery,
            patterns: [{ ...flush, parts: [{ name: "face", kind: "face", grain: "v", rectMm: [0, 0, 826, 2000] }] }],
          },
          single,
        ),
    ],
    ["it shows another leaf", () => fingerprint(delivery, { ...single, shows: aPhoto("single", ["W02", "A"]).shows })],
    [
      "it shows the other face",
      () => fingerprint(delivery, { ...single, shows: aPhoto("single", ["W01", "B"]).shows }),
    ],
    ["it is no longer measured", () => fingerprint(delivery, { ...single, kind: "detail" })],
    ["it is another photo", () => fingerprint(delivery, { ...single, id: "b".repeat(64) })],
  ])("changes when %s", (_, changed) => {
    expect(changed()).not.toBe(asked);
  });

  test("changes with each corner by itself", () => {
    const names = corners.flatMap((_, i) =>
      [0, 1].map((k) => {
        const moved = structuredClone(corners);
        const corner = moved[i];
        if (corner) corner[k] = (corner[k] ?? 0) + 1;
        return fingerprint(delivery, withCorners(moved));
      }),
    );
    expect(new Set([...names, fingerprint(delivery, withCorners(corners))]).size).toBe(9);
  });
});
