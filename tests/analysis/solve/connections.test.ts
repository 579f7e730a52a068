import { describe, expect, it } from "vitest";
import { connect } from "../../../analysis/solve/connections.ts";
import { knownChart, makeDelivery } from "./synthetic-delivery.ts";

describe("what ties photos together", () => {
  it("is a face seen twice, or one printed card, and nothing else", () => {
    const { photos } = makeDelivery(
      [
        { photo: "a", faces: ["W01/A", "W02/A"] },
        { photo: "b", faces: ["W02/A", "W03/A"] },
        { photo: "c", faces: ["W04/A"], reference: "card" },
        { photo: "d", faces: ["W05/A"], reference: "card" },
        { photo: "e", faces: ["W06/A"], reference: "chart" },
        { photo: "f", faces: ["W02/B"] },
      ],
      1,
    );
    const components = connect(photos, knownChart);
    expect(components.map(({ photos: names }) => names)).toEqual([["a", "b"], ["c", "d"], ["e"], ["f"]]);
    expect(components.map(({ known }) => known)).toEqual([false, false, true, false]);
  });
});
