import { describe, expect, test } from "vitest";
import type { Quad } from "../../../analysis/pixels.ts";
import type { Gate, Photo } from "../../../server/contract/photo.ts";
import { photoState } from "../../../server/contract/photo.ts";
import { faceDifference, leafView } from "../../../server/contract/views.ts";
import { type MeasuredFacts, type Outcome, readMeasured } from "../../../server/use-cases/read-measured.ts";
import type { Look, MeasuredFace } from "../../../server/workers/measurement.ts";
import type { Solved } from "../../../server/workers/solved.ts";
import { aGrain, aLeaf, aPhoto } from "../../support/leaves.ts";

const quad = (heightPx: number): Quad => [
  [10, 20],
  [110, 20],
  [110, 20 + heightPx],
  [10, 20 + heightPx],
];

const faceOf = (leaf: string, face: "A" | "B", heightPx = 300): MeasuredFace => ({
  leaf,
  face,
  corners: quad(heightPx),
  score: 0.9,
  byHand: false,
  covers: [],
});

const measured = (
  faces: readonly MeasuredFace[],
  gates: readonly Gate[] = [],
): Extract<Outcome, { kind: "measured" }> => ({
  kind: "measured",
  sample: { photo: "", camera: "", encoding: "srgb", faces: [], references: [] },
  faces,
  references: [
    { kind: "card", id: "7K3QD", corners: quad(50) },
    { kind: "grey", id: null, corners: quad(50) },
  ],
  gates,
  labels: [],
});

const gate = (name: string, passed: boolean): Gate => ({ gate: name, value: 1, limit: 2, passed, advice: "Do it." });

const photo = (letter: string): Photo => ({ ...aPhoto("single"), id: letter.repeat(64), name: `${letter}.jpg` });

const nothing: Solved = { faces: [], differences: [], untied: [], ties: [], sentBack: [], charts: [], chart: null };

/** What was measured, given the outcome of each photo by its letter. */
const read = (outcomes: Readonly<Record<string, Outcome | undefined>>, given: Partial<MeasuredFacts> = {}) =>
  readMeasured({
    photos: Object.keys(outcomes).map(photo),
    leaves: [],
    outcome: (id) => outcomes[id.slice(0, 1)],
    solved: nothing,
    solvedAt: null,
    repeats: [],
    toleranceDE00: 2,
    look: () => undefined,
    contrast: async () => null,
    ...given,
  });

const id = (letter: string): string => letter.repeat(64);

describe("the state of a photo", () => {
  const outcomes: Record<string, Outcome | undefined> = {
    a: undefined,
    b: { kind: "kept", why: "kept as evidence" },
    c: { kind: "failed", why: "its process ended twice" },
    d: { kind: "retake", gates: [gate("blur", false), gate("glare", true)], labels: [] },
    e: measured([faceOf("W01", "A")], [gate("too-dark", true), gate("not-found", false)]),
  };
  const view = read(outcomes, { solved: { ...nothing, sentBack: [] } });

  test.each(["a", "b", "c", "d", "e"])("%s fits what the screens are told", (letter) => {
    expect(photoState.parse(view.state(id(letter)))).toEqual(view.state(id(letter)));
  });

  test("is waiting before anything came back, else what came back", () => {
    expect(view.state(id("a"))).toEqual({ kind: "waiting" });
    expect(view.state(id("b"))).toEqual({ kind: "kept", why: "kept as evidence" });
    expect(view.state(id("c"))).toEqual({ kind: "failed", why: "its process ended twice" });
    expect(view.state(id("d"))).toEqual({ kind: "retake", gates: [gate("blur", false), gate("glare", true)] });
  });

  test("names faces, references and what is still open of a measured one", () => {
    expect(view.state(id("e"))).toEqual({
      kind: "measured",
      faces: [{ leaf: "W01", face: "A", corners: quad(300), score: 0.9, byHand: false }],
      references: ["card 7K3QD", "grey"],
      open: [gate("not-found", false)],
    });
  });

  test("tells of a label that belongs to another leaf by now", () => {
    const labelled = { ...measured([faceOf("W01", "A")]), labels: [{ id: "0000000000001" }] };
    const photos = [{ ...photo("a"), shows: aPhoto("single", ["W01", "A"]).shows }];
    const open = (code: string) => {
      const leaves = [aLeaf({ code, labelId: "0000000000001" })];
      const state = read({ a: labelled }, { photos, leaves }).state(id("a"));
      return state.kind === "measured" ? state.open.map((one) => one.advice) : null;
    };
    expect(open("W01")).toEqual([]);
    expect(open("W02")).toEqual([expect.stringMatching(/says W02/)]);
  });

  test("is a retake when nothing in the photo is known from elsewhere", () => {
    const sentBack = [{ photo: id("e"), gate: gate("no-reference", false) }];
    const solved = read(outcomes, { solved: { ...nothing, sentBack } });
    expect(solved.state(id("e"))).toEqual({
      kind: "retake",
      gates: [gate("too-dark", true), gate("not-found", false), gate("no-reference", false)],
    });
    expect(solved.state(id("a"))).toEqual({ kind: "waiting" });
  });
});

describe("groups of photos that nothing ties to the rest", () => {
  const outcomes = { a: measured([]), b: measured([]), c: measured([]), d: measured([]), e: measured([]) };

  test("are told in a sentence each, by the names people gave the photos", () => {
    const untied = [[id("c")], [id("a"), id("b"), id("d"), id("e")]];
    const ties = [{ faces: ["W03/A", "W07/B"], with: null }];
    expect(read(outcomes, { solved: { ...nothing, untied, ties } }).untied).toEqual([
      "c.jpg: what it shows compares with no leaf in another photo.",
      "a.jpg, b.jpg and 2 more: leaves in them compare with each other, but with no leaf in another photo.",
      "Photograph W03 face A beside W07 face B: that one photo ties them to the rest.",
    ]);
  });

  test("are none before anything was solved", () => {
    expect(read(outcomes, { solved: null }).untied).toEqual([]);
  });
});

describe("the difference of two faces", () => {
  const pair: Solved["differences"][number] = {
    a: "W01/A",
    b: "W02/B",
    parts: [{ part: "face", deltaE: 1.5, u95: 0.4 }],
    worst: { part: "face", deltaE: 1.5, u95: 0.4 },
    verdict: "match",
    advice: null,
  };
  const untold: Solved["differences"][number] = {
    ...pair,
    b: "W03/A",
    parts: [],
    worst: null,
    verdict: "cannot-tell",
    advice: "Photograph the two side by side in one line-up.",
  };
  const solved = read({}, { solved: { ...nothing, differences: [pair, untold] } });
  const [one, other, third] = [
    { leaf: "W01", face: "A" },
    { leaf: "W02", face: "B" },
    { leaf: "W03", face: "A" },
  ] as const;

  test("is the same both ways round, each way with its own names", () => {
    const told = { part: "face", deltaE: 1.5, u95: 0.4, verdict: "match", advice: null };
    expect(solved.difference(one, other)).toEqual({ a: one, b: other, ...told });
    expect(solved.difference(other, one)).toEqual({ a: other, b: one, ...told });
    expect(faceDifference.parse(solved.difference(one, other))).toEqual(solved.difference(one, other));
  });

  test("that cannot be told says what would help", () => {
    const told = { part: null, deltaE: null, u95: null, verdict: "cannot-tell", advice: untold.advice };
    expect(solved.difference(third, one)).toEqual({ a: third, b: one, ...told });
    const notMeasured = solved.difference(other, third);
    expect(notMeasured).toMatchObject({ deltaE: null, verdict: "cannot-tell" });
    expect(notMeasured.advice).toMatch(/not been measured: photograph it\.$/);
  });
});

describe("the faces of a leaf", () => {
  const solved: Solved = {
    ...nothing,
    faces: [
      {
        leaf: "W01",
        face: "A",
        parts: [{ part: "face", kind: "face", lab: [43.2, 8.4, 17.6], u95: 0.5 }],
        photos: [id("a"), id("b")],
      },
      { leaf: "W02", face: "A", parts: [], photos: [id("a")] },
    ],
  };
  const lookOf = (xMm: number): Look => ({
    grain: [{ ...aGrain, directionDeg: xMm }],
    proposed: [{ kind: "dent", box: { x: xMm, y: 2, w: 3, h: 4 }, score: 0.7 } as Look["proposed"][number]],
  });
  const small = measured([faceOf("W01", "A", 200)]);
  const large = measured([faceOf("W01", "A", 900), faceOf("W02", "A", 900)]);

  test("have the colour of each part, with a swatch, and only of that leaf", () => {
    const faces = read({ a: small, b: large }, { solved }).faces("W01");
    expect(leafView.shape.faces.parse(faces)).toEqual(faces);
    expect(faces).toMatchObject([{ face: "A", photos: [id("a"), id("b")], grain: [] }]);
    expect(faces[0]?.parts).toMatchObject([{ part: "face", kind: "face", lab: [43.2, 8.4, 17.6], u95: 0.5 }]);
    expect(faces[0]?.parts[0]?.swatch).toMatch(/^#[0-9a-f]{6}$/);
    expect(read({ a: small }, { solved: null }).faces("W01")).toEqual([]);
  });

  test("are looked at in the photo that shows them largest", () => {
    const looks = { [id("a")]: lookOf(1), [id("b")]: lookOf(2) };
    const view = read({ a: small, b: large }, { solved, look: (at) => looks[at] });
    expect(view.faces("W01")[0]?.grain).toEqual(lookOf(2).grain);
    expect(view.proposedMarks("W01")).toEqual([{ ...lookOf(2).proposed[0], face: "A", photo: id("b") }]);
    expect(view.proposedMarks("W09")).toEqual([]);
  });

  test("differ in their cuts as the photos that show them largest tell", () => {
    const [a, b] = [measured([faceOf("W01", "A")]), measured([faceOf("W02", "A")])];
    const straight = { ...lookOf(0), grain: [{ ...aGrain, figure: "straight" as const, spreadDeg: 3 }] };
    const looks = { [id("a")]: lookOf(0), [id("b")]: straight };
    const view = read({ a, b }, { solved, look: (at) => looks[at] });
    const [one, other] = [{ leaf: "W01", face: "A" } as const, { leaf: "W02", face: "A" } as const];
    expect(view.cuts(one, other)).toEqual([{ kind: "face", what: "figure", one: "crown", other: "straight" }]);
    expect(view.cuts(one, { leaf: "W09", face: "A" })).toEqual([]);
  });

  test("have corners in the photos that show them only", () => {
    const view = read({ a: small, b: large, c: { kind: "retake", gates: [], labels: [] } }, { solved });
    expect(view.corners(id("a"), { leaf: "W01", face: "A" })).toEqual(quad(200));
    expect(view.corners(id("b"), { leaf: "W01", face: "A" })).toEqual(quad(900));
    expect(view.corners(id("a"), { leaf: "W02", face: "A" })).toBeNull();
    expect(view.corners(id("c"), { leaf: "W01", face: "A" })).toBeNull();
  });

  test("have a mark's contrast measured in the photo that shows them largest, or none", async () => {
    const box = { x: 1, y: 2, w: 3, h: 4 };
    const asked: unknown[] = [];
    const contrast: MeasuredFacts["contrast"] = async (...given) => {
      asked.push(given);
      return 3.5;
    };
    const view = read({ a: small, b: large }, { solved, contrast });
    const face = { leaf: "W01", face: "A" } as const;
    expect(await view.markContrast(face, box)).toBe(3.5);
    expect(asked).toEqual([[id("b"), face, quad(900), box]]);
    expect(await view.markContrast({ leaf: "W01", face: "B" }, box)).toBeNull();
    expect(asked).toHaveLength(1);
  });
});
