import { describe, expect, test } from "vitest";
import { connect } from "../../../analysis/solve/connections.ts";
import { leastTies, type TyingPhoto, untiedGroups } from "../../../analysis/solve/least-ties.ts";
import { knownChart, makeDelivery, type Shown } from "./synthetic-delivery.ts";

const groupsOf = (shows: readonly Shown[]) => untiedGroups(connect(makeDelivery(shows, 1).photos, knownChart));
const tiesOf = (shows: readonly Shown[]): TyingPhoto[] => leastTies(groupsOf(shows));

const lineUp = (photo: string, ...faces: string[]): Shown => ({ photo, faces });

/** The photos named, as if they had been taken. */
const taken = (ties: readonly TyingPhoto[]): Shown[] =>
  ties.map(({ faces, with: reference }, i) => ({
    photo: `tie ${i}`,
    faces,
    ...(reference === null ? {} : { reference: reference === "known" ? "chart" : "card" }),
  }));

describe("groups that do not compare", () => {
  test("all that is known is one, and the one with most faces comes first", () => {
    const groups = groupsOf([
      lineUp("a", "W01/A", "W02/A"),
      { photo: "b", faces: ["W03/A"], reference: "chart" },
      { photo: "c", faces: ["W04/A"], reference: "grey" },
      { photo: "d", faces: ["W05/A"], reference: "chart" },
    ]);
    expect(groups.map(({ photos }) => photos)).toEqual([["b", "c", "d"], ["a"]]);
  });
});

describe("the photo that would tie them", () => {
  test("none where all hang together", () => {
    expect(tiesOf([lineUp("a", "W01/A", "W02/A"), lineUp("b", "W02/A", "W03/A")])).toEqual([]);
    expect(tiesOf([])).toEqual([]);
  });

  test("two leaves of two groups side by side", () => {
    expect(tiesOf([lineUp("a", "W01/A", "W02/A", "W03/A"), lineUp("b", "W07/B", "W08/A")])).toEqual([
      { faces: ["W07/B", "W01/A"], with: null },
    ]);
  });

  test("one row of four joins four groups, seven groups take two rows, eight take three", () => {
    const groups = (n: number) => Array.from({ length: n }, (_, i) => lineUp(`p${i}`, `W${10 + i}/A`, `W${30 + i}/A`));
    for (const [count, photos] of [
      [2, 1],
      [4, 1],
      [7, 2],
      [8, 3],
    ] as const) {
      const ties = tiesOf(groups(count));
      expect(ties).toHaveLength(photos);
      expect(groupsOf([...groups(count), ...taken(ties)])).toHaveLength(1);
      for (const { faces } of ties) expect(faces.length).toBeLessThanOrEqual(4);
    }
  });

  test("never shows a leaf beside itself", () => {
    const ties = tiesOf([lineUp("a", "W01/A", "W02/A"), lineUp("b", "W01/B", "W03/A"), lineUp("c", "W01/B", "W02/B")]);
    for (const { faces } of ties) expect(new Set(faces.map((face) => face.split("/")[0])).size).toBe(faces.length);
  });

  test.each<[string, Shown[], TyingPhoto[]]>([
    [
      "with a chart or grey card, where the other group is known",
      [
        { photo: "a", faces: ["W01/A"], reference: "chart" },
        { photo: "b", faces: ["W01/B"], reference: "card" },
      ],
      [{ faces: ["W01/B"], with: "known" }],
    ],
    [
      "with the printed card that stands in one of the groups",
      [
        { photo: "a", faces: ["W01/A"], reference: "card" },
        { photo: "b", faces: ["W01/B"] },
      ],
      [{ faces: ["W01/B"], with: { card: "card-7" } }],
    ],
    [
      "two photos with one card, where nothing is there yet",
      [lineUp("a", "W01/A"), lineUp("b", "W01/B")],
      [
        { faces: ["W01/A"], with: "one-card" },
        { faces: ["W01/B"], with: "one-card" },
      ],
    ],
  ])("two faces of one leaf: %s", (_, shows, ties) => {
    expect(tiesOf(shows)).toEqual(ties);
    expect(groupsOf([...shows, ...taken(ties)])).toHaveLength(1);
  });
});
