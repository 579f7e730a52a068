import { describe, expect, test } from "vitest";
import type { FaceLayout } from "../../../analysis/leaf-parts.ts";
import { locate } from "../../../analysis/locate/locate.ts";
import type { Quad } from "../../../analysis/pixels.ts";
import { apart, type Camera, cornersOf, leafAt, lensOf, photograph, seenAt } from "./drawn-scene.ts";

const layout = (widthMm: number, heightMm: number): FaceLayout => ({ widthMm, heightMm, parts: [] });
const wall = [205, 203, 198] as const;
const single: Camera = { width: 1200, height: 1600, pxPerMm: 0.65, lookAtMm: [413, 1020] };
const leaf = leafAt([0, 0], 826, 2040);
const plainPhoto = photograph(single, wall, [leaf]);

describe("one leaf", () => {
  for (const [name, camera] of Object.entries({
    "straight on": single,
    "from aside, phone leaning": { ...single, yaw: 12, roll: -4 },
    "through a bowed lens": { ...single, yaw: -6, roll: 2, k1: 0.02 },
    "from low on the left": { ...single, lookAtMm: [600, 1150] as const, yaw: 5 },
  })) {
    test(name, () => {
      const { leaves, lens } = locate(
        photograph(camera, wall, [leaf]),
        { leaves: [layout(826, 2040)], references: [] },
        [],
      );
      const outcome = leaves[0]!;
      expect(outcome.kind).toBe("found");
      if (outcome.kind !== "found") return;
      // 1 px is 1.5 mm here; the goal on photos is 4 mm.
      expect(apart(outcome.corners, cornersOf(camera, leaf))).toBeLessThan(1);
      expect(lens.k1).toBeCloseTo(lensOf(camera).k1, 2);
    });
  }

  test("corners set by hand are handed back untouched", () => {
    const set: Quad = [
      [1, 2],
      [300, 4],
      [310, 900],
      [5, 890],
    ];
    const { leaves } = locate(plainPhoto, { leaves: [layout(826, 2040)], references: [], handCorners: [set] }, []);
    expect(leaves).toEqual([{ kind: "found", corners: set, score: 1, byHand: true }]);
  });

  test("a bare wall has no leaf", () => {
    const { leaves } = locate(photograph(single, wall, []), { leaves: [layout(826, 2040)], references: [] }, []);
    expect(leaves[0]?.kind).toBe("not-found");
  });

  test("a leaf of other proportions is not taken for the one asked for", () => {
    const { leaves } = locate(plainPhoto, { leaves: [layout(1026, 2040)], references: [] }, []);
    expect(leaves[0]?.kind).toBe("not-found");
  });

  test("a leaf that runs out of the picture is told to be cut off", () => {
    const below = { ...single, lookAtMm: [413, 500] as const };
    const { leaves } = locate(photograph(below, wall, [leaf]), { leaves: [layout(826, 2040)], references: [] }, []);
    expect(leaves[0]).toMatchObject({ kind: "not-found", why: "cut-off" });
  });
});

describe("a leaf that cannot be measured is named for what is wrong with it", () => {
  const missing = (camera: Camera) =>
    locate(photograph(camera, wall, [leaf]), { leaves: [layout(826, 2040)], references: [] }, []).leaves[0];

  test("taken from too far off", () => {
    expect(missing({ ...single, pxPerMm: 0.13 })).toMatchObject({ kind: "not-found", why: "too-small" });
  });

  test("taken from the side", () => {
    expect(missing({ ...single, pxPerMm: 0.5, yaw: 58 })).toMatchObject({ kind: "not-found", why: "too-oblique" });
  });
});

describe("a row", () => {
  const row = [leafAt([0, 0], 726, 2040), leafAt([770, 0], 826, 2040), leafAt([1630, 0], 726, 2040)];
  const camera: Camera = { width: 1600, height: 1200, pxPerMm: 0.5, lookAtMm: [1178, 1020], yaw: 4, roll: 1 };
  const photo = photograph(camera, wall, row);
  const layouts = row.map(({ widthMm, heightMm }) => layout(widthMm, heightMm));

  test("leaves a few cm apart are found from left to right", () => {
    const { leaves } = locate(photo, { leaves: layouts, references: [] }, []);
    for (const [i, outcome] of leaves.entries()) {
      expect(outcome.kind).toBe("found");
      if (outcome.kind === "found") expect(apart(outcome.corners, cornersOf(camera, row[i]!))).toBeLessThan(1.5);
    }
  });

  test("one of them set by hand, the others still found", () => {
    const set = cornersOf(camera, row[1]!);
    const { leaves } = locate(photo, { leaves: layouts, references: [], handCorners: [null, set, null] }, []);
    expect(leaves[1]).toMatchObject({ corners: set, byHand: true });
    expect(leaves.map(({ kind }) => kind)).toEqual(["found", "found", "found"]);
  });
});

test("the drawn camera sees what it looks at in the middle", () => {
  expect(seenAt({ ...single, yaw: 9, roll: 3, k1: 0.01 }, single.lookAtMm)).toEqual([600, 800]);
});
