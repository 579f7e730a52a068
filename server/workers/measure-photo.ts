import { invert, project } from "../../analysis/homography.ts";
import { type GateResult, judge } from "../../analysis/intake/gate-limits.ts";
import { brightness, judgePicture, smallPicture } from "../../analysis/intake/quality-gates.ts";
import { bend, type Lens, straighten } from "../../analysis/lens.ts";
import type { FoundCode, FoundReference, LeafOutcome } from "../../analysis/locate/found.ts";
import { readLabel } from "../../analysis/locate/label-code.ts";
import { locate } from "../../analysis/locate/locate.ts";
import type { Pixels, Point, Quad } from "../../analysis/pixels.ts";
import type { Cover } from "../../analysis/rectify/covers.ts";
import { judgeFace } from "../../analysis/rectify/face-gates.ts";
import { faceView } from "../../analysis/rectify/face-view.ts";
import { type FaceView, resample } from "../../analysis/rectify/resample.ts";
import {
  cardWindowMm,
  chart24,
  greyCard,
  printedCard,
  type ReferenceLayout,
  readCardCode,
} from "../../analysis/reference-card.ts";
import { splitWindow, windowPatch } from "../../analysis/sample/card-window.ts";
import { type FacePlace, sampleFace } from "../../analysis/sample/face-sample.ts";
import type { PhotoSample } from "../../analysis/sample/photo-sample.ts";
import { sampleReference } from "../../analysis/sample/reference-sample.ts";
import { decode } from "../images/decode.ts";
import { readCodes } from "../images/read-codes.ts";
import type { MeasuredFace, MeasureRequest, PhotoMeasurement } from "./measurement.ts";
import { referenceId } from "./reference-id.ts";

/** Cells of the straightened face. Colour is a mean over pieces of 60 mm: 2 mm keeps joints and pieces apart. */
const cellMm = 2;

const placeOf = ({ toPhoto, lens }: FaceView, { width, height }: Pixels): FacePlace => ({
  toPhoto: (faceMm) => bend(lens, project(toPhoto, faceMm)),
  photoWidth: width,
  photoHeight: height,
});

/** What lies on the face and is not wood: labels and references, in mm of the face. Those beside it fall outside. */
const coversOn = ({ toPhoto, lens, widthMm, heightMm }: FaceView, quads: readonly Quad[]): Cover[] => {
  const toFace = invert(toPhoto);
  return quads
    .map((quad) => quad.map((corner): Point => project(toFace, straighten(lens, corner))))
    .filter((cover) => cover.some(([x, y]) => x > 0 && y > 0 && x < widthMm && y < heightMm));
};

/** The 24-patch chart at the size a person gave; its patches keep their proportions. */
const chartOf = (sizeMm: MeasureRequest["chartMm"]): ReferenceLayout => {
  const usual = chart24();
  if (!sizeMm) return usual;
  const [widthMm, heightMm] = sizeMm;
  const [x, y] = [widthMm / usual.widthMm, heightMm / usual.heightMm];
  const patches = usual.patches.map(({ name, rectMm: [left, top, width, height] }) => ({
    name,
    rectMm: [left * x, top * y, width * x, height * y] as const,
  }));
  return { ...usual, widthMm, heightMm, patches };
};

const layoutsOf = ({ references, chartMm, greyMm }: MeasureRequest): ReferenceLayout[] => {
  const all = [printedCard, chartOf(chartMm), greyCard(...(greyMm ?? []))];
  return references === null ? all : all.filter(({ kind }) => references.includes(kind));
};

/** The printed card's window is sampled like a patch: a grey card may be clipped into it. */
const withWindow = (layout: ReferenceLayout): ReferenceLayout =>
  layout.kind === "card"
    ? { ...layout, patches: [...layout.patches, { name: windowPatch, rectMm: cardWindowMm }] }
    : layout;

const sampleReferences = (
  pixels: Pixels,
  found: readonly FoundReference[],
  layouts: readonly ReferenceLayout[],
  lens: Lens,
) =>
  found.flatMap(({ kind, id, corners }) => {
    const layout = layouts.find((one) => one.kind === kind);
    const view = layout && faceView(corners, layout, lens);
    if (!layout || !view) return [];
    const pxPerMm = Math.hypot(corners[1][0] - corners[0][0], corners[1][1] - corners[0][1]) / layout.widthMm;
    const grid = resample(pixels, view, Math.min(2, Math.max(0.5, 1 / pxPerMm)));
    const sample = sampleReference(referenceId(kind, id), withWindow(layout), grid, placeOf(view, pixels));
    return kind === "card" ? splitWindow(sample, referenceId("grey", null)) : [sample];
  });

/** Why a leaf was not found, as the gate to tell a person: what is wrong with the picture, or that the leaf is not told from its surround. */
const gateOfMissing = ({ why, score }: Extract<LeafOutcome, { kind: "not-found" }>): GateResult => {
  const seen = { "cut-off": "cut-off", "too-small": "face-scale", "too-oblique": "too-oblique" } as const;
  if (why === "no-outline" || why === "unsure") return { ...judge("not-found", score), passed: false };
  const { limit, ...gate } = judge(seen[why], 0);
  return { ...gate, limit, value: limit, passed: false };
};

/**
 * One photo from file to plain data: decoded, codes read, leaves and references found, faces straightened and sampled;
 * or the gates it failed. Throws only when the file cannot be decoded.
 */
export const measurePhoto = async (request: MeasureRequest): Promise<PhotoMeasurement> => {
  const { pixels, encoding } = await decode(request.path);
  if (!encoding) return { kind: "kept", why: "unknown colour profile: kept, colour not measured" };
  const small = smallPicture(pixels);
  const pictureGates = judgePicture(small);
  if (pictureGates.some(({ passed }) => !passed)) return { kind: "retake", gates: pictureGates, labels: [] };

  const layouts = layoutsOf(request);
  const cardMayBeIn = layouts.some(({ kind }) => kind === "card");
  const cardCodes = (codes: readonly FoundCode[]) => codes.filter(({ text }) => readCardCode(text)).length;
  const codes = await readCodes(pixels, (half) => !cardMayBeIn || cardCodes(half) >= 4);

  const expected = {
    leaves: request.shows.map(({ layout }) => layout),
    references: layouts,
    handCorners: request.shows.map(({ corners }) => corners),
  };
  const located = locate(pixels, expected, codes);
  const labels = codes.flatMap(({ text }) => readLabel(text) ?? []);
  const missing = located.leaves.filter((leaf) => leaf.kind === "not-found");
  if (missing.length === located.leaves.length)
    return { kind: "retake", gates: [...pictureGates, ...missing.map(gateOfMissing)], labels };

  const onFaces = [...codes.map(({ corners }) => corners), ...located.references.map(({ corners }) => corners)];
  const faceGates: GateResult[] = missing.map(gateOfMissing);
  const faces: MeasuredFace[] = [];
  const samples: PhotoSample["faces"][number][] = [];
  for (const [i, { leaf, face, layout }] of request.shows.entries()) {
    const outcome = located.leaves[i];
    if (outcome?.kind !== "found") continue;
    const { corners, score, byHand } = outcome;
    const view = faceView(corners, layout, located.lens);
    if (!view) continue;
    const grid = resample(pixels, view, cellMm);
    const placement = { corners, widthPx: pixels.width, heightPx: pixels.height, heightMm: layout.heightMm, encoding };
    const failed = judgeFace(grid, placement).filter(({ passed }) => !passed);
    faceGates.push(...failed);
    if (failed.length > 0) continue;
    const covers = coversOn(view, onFaces);
    samples.push(sampleFace({ leaf, face }, grid, layout, covers, placeOf(view, pixels)).sample);
    faces.push({ leaf, face, corners, score, byHand, covers });
  }
  const gates = [...pictureGates, ...faceGates];
  if (faces.length === 0) return { kind: "retake", gates, labels };
  return {
    kind: "measured",
    sample: {
      photo: request.photo,
      camera: `${request.camera} ${encoding}`,
      encoding,
      brightest: brightness(small).brightest,
      faces: samples,
      references: sampleReferences(pixels, located.references, layouts, located.lens),
    },
    faces,
    references: located.references.map(({ kind, id, corners }) => ({ kind, id, corners })),
    gates,
    labels,
  };
};
