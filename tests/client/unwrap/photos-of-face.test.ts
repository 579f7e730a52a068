import { expect, test } from "vitest";
import { facesNotFound, failsItsChart, photoSays, photosOfFace } from "../../../client/unwrap/photos-of-face.ts";
import type { LeafView } from "../../../server/contract/views.ts";
import { leafView } from "../support/brannoch-quay.ts";

const view = leafView("W05");
const [first] = view.photos;
if (!first) throw new Error("no photo");
const photo = (change: Partial<typeof first.photo>): LeafView["photos"][number] => ({
  ...first,
  photo: { ...first.photo, ...change },
});

test("photos of a face are whole views of that face of that leaf, newest first", () => {
  const older = photo({ name: "older", receivedAt: "2026-03-03T10:00:00+00:00" });
  const newer = photo({ name: "newer", receivedAt: "2026-03-03T12:00:00+00:00", kind: "line-up" });
  const photos = [
    older,
    newer,
    photo({ kind: "detail" }),
    photo({ shows: [{ leaf: "W05", face: "B", corners: null }] }),
    photo({ shows: [{ leaf: "W06", face: "A", corners: null }] }),
  ];
  expect(photosOfFace({ ...view, photos }, "A").map((one) => one.photo.name)).toEqual(["newer", "older"]);
});

test("a damaged photo says so, whatever was measured before", () => {
  const [missing, changed] = (["missing", "changed"] as const).map((damage) => photoSays({ ...first, damage }));
  expect(missing).toMatchObject({ well: false, says: expect.stringMatching(/^Photo damaged: its file is missing\./) });
  expect(changed).toMatchObject({ well: false, says: expect.stringMatching(/^Photo damaged: the file is not as it/) });
});

test("what became of a photo is one sentence with what to do", () => {
  const gate = { gate: "glare", value: 1, limit: 0.1, passed: false, advice: "Step aside and take it again." };
  const passed = { ...gate, passed: true, advice: "never said" };
  const says = (state: LeafView["photos"][number]["state"]) => photoSays({ ...first, state });
  expect(says({ kind: "retake", gates: [passed, gate] })).toEqual({ well: false, says: gate.advice });
  expect(says({ kind: "measured", faces: [], references: ["card K7"], open: [] })).toEqual({
    well: true,
    says: "Measured with card K7.",
  });
  expect(says({ kind: "measured", faces: [], references: [], open: [gate] })).toEqual({
    well: false,
    says: "Measured. Step aside and take it again.",
  });
  expect(says({ kind: "measured", faces: [], references: ["chart", "grey"], open: [gate, gate] }).says).toBe(
    "Measured with the chart and the grey card. Step aside and take it again.",
  );
  expect(says({ kind: "failed", why: "The file is cut short." })).toEqual({
    well: false,
    says: "The file is cut short.",
  });
  expect(says({ kind: "waiting" }).well).toBe(true);
});

test("a face that a measured photo is said to show and does not hold is not found in it", () => {
  const shows = [
    { leaf: "A01", face: "A" as const, corners: null },
    { leaf: "A02", face: "A" as const, corners: null },
    { leaf: "A01", face: "B" as const, corners: null },
  ];
  const corners: [[number, number], [number, number], [number, number], [number, number]] = [
    [0, 0],
    [1, 0],
    [1, 2],
    [0, 2],
  ];
  const faces = [{ leaf: "A01", face: "A" as const, corners, score: 0.9, byHand: false }];
  const lineUp = photo({ kind: "line-up", shows });
  const names = (state: typeof lineUp.state) =>
    facesNotFound({ ...lineUp, state }).map(({ leaf, face }) => `${leaf} ${face}`);
  expect(names({ kind: "measured", faces, references: [], open: [] })).toEqual(["A02 A", "A01 B"]);
  expect(names({ kind: "waiting" })).toEqual([]);
});

test("a photo whose chart is not of the edition chosen leads to the charts, one sent back for another reason does not", () => {
  const gate = { gate: "wrong-chart", value: 40, limit: 5, passed: false, advice: "Choose the edition." };
  const sentBack = (...gates: (typeof gate)[]) => failsItsChart({ ...first, state: { kind: "retake", gates } });
  expect(sentBack(gate)).toBe(true);
  expect(sentBack({ ...gate, gate: "blur" }, { ...gate, passed: true })).toBe(false);
});
