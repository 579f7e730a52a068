import { produce } from "immer";
import { describe, expect, test } from "vitest";
import { askedOfPhotos } from "../../../server/use-cases/asked-of-photos.ts";
import { fingerprintOf, measurementRequest } from "../../../server/use-cases/measurement-request.ts";
import { aDelivery, aLeaf, aPattern, aPhoto } from "../../support/leaves.ts";

const photos = ["a", "b"].map((letter) => ({ ...aPhoto("single", ["W01", "A"]), id: letter.repeat(64) }));
const begun = aDelivery({
  patterns: [aPattern({ id: "FL-2040X826" })],
  leaves: [aLeaf({ code: "W01" }), aLeaf({ code: "W02" })],
  photos,
});

/** Worked out from scratch. */
const plainly = (delivery: typeof begun) =>
  delivery.photos.map((photo) => [photo.id, fingerprintOf(measurementRequest(delivery, photo, "/photo.jpg"))]);

describe("what is asked of photos", () => {
  test.each([
    ["nothing", (now: typeof begun) => now],
    [
      "a photo filed otherwise",
      (now: typeof begun) =>
        produce(now, (draft) => {
          draft.photos[0]!.kind = "detail";
        }),
    ],
    [
      "a leaf that came",
      (now: typeof begun) =>
        produce(now, (draft) => {
          draft.leaves.push(aLeaf({ code: "W03" }));
        }),
    ],
    [
      "other joints",
      (now: typeof begun) =>
        produce(now, (draft) => {
          draft.patterns[0]!.parts.pop();
        }),
    ],
    [
      "a decision",
      (now: typeof begun) =>
        produce(now, (draft) => {
          draft.leaves[0]!.batch = "B7";
        }),
    ],
    [
      "another pattern",
      (now: typeof begun) =>
        produce(now, (draft) => {
          draft.leaves[0]!.pattern = "none";
        }),
    ],
  ])("after %s is what it would be from scratch", (_, change) => {
    askedOfPhotos(begun);
    const next = change(begun);
    expect([...askedOfPhotos(next)]).toEqual(plainly(next));
  });

  test("B4: of 5,000 photos costs little after an entry that does not touch them", () => {
    const many = {
      ...begun,
      photos: Array.from({ length: 5000 }, (_, k) => ({ ...photos[0]!, id: k.toString(16).padStart(64, "0") })),
    };
    askedOfPhotos(many);
    const entered = produce(many, (draft) => {
      draft.leaves[0]!.batch = "B7";
    });
    const started = performance.now();
    askedOfPhotos(entered);
    expect(performance.now() - started).toBeLessThan(50);
  });
});
