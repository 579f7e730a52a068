import type { FaceLayout } from "../../../analysis/leaf-parts.ts";
import type { BoxMm } from "../../../analysis/marks/mark-contrast.ts";
import type { Quad } from "../../../analysis/pixels.ts";
import { jobFile } from "../../../server/contract/job-file.ts";
import type { MeasureRequest } from "../../../server/workers/measurement.ts";
import { type PhotoTruth, readJob, readTruth, samplePath } from "../../sample-images/sample-files.ts";

const job = jobFile.parse(await readJob());
const truth = await readTruth();

/** A photo made to fail, and the gate that should catch it. */
export type FailingPhoto = PhotoTruth & { readonly gate: string };

/** What is true of a photo of the demo, good or made to fail. */
export const demoPhoto = (file: string): PhotoTruth => {
  const all = [...truth.photos, ...(truth.failing as readonly FailingPhoto[])];
  const found = all.find((photo) => photo.file === file);
  if (!found) throw new Error(`there is no ${file} in the demo`);
  return found;
};

/** The photo made to fail at a gate. */
export const failingPhoto = (gate: string): PhotoTruth => demoPhoto(`failing/${gate}.jpg`);

/** Every gate that has a photo of a leaf made to fail at it. */
export const failingGates: readonly string[] = (truth.failing as readonly FailingPhoto[])
  .filter(({ shows }) => shows)
  .map(({ gate }) => gate);

const layoutOf = (id: string): FaceLayout => {
  const leaf = job.leaves.find((one) => one.id === id);
  if (!leaf) throw new Error(`there is no leaf ${id} in the demo`);
  const parts = leaf.parts.map(({ part, kind, grain, rect_mm }) => ({ name: part, kind, grain, rectMm: rect_mm }));
  return { widthMm: leaf.width_mm, heightMm: leaf.height_mm, parts };
};

/** A request to measure a photo of the demo; `byHand` gives the true corners as a person would set them. */
export const demoRequest = ({ file, shows, leaves }: PhotoTruth, byHand = false): MeasureRequest => ({
  photo: file,
  path: samplePath(file),
  camera: "some camera",
  shows: shows.map(({ leaf, face }) => ({
    leaf,
    face: face as "A" | "B",
    layout: layoutOf(leaf),
    corners: byHand ? (leaves.find((one) => one.leaf === leaf)?.corners_px as unknown as Quad) : null,
  })),
  references: null,
});

/** What was rendered onto a face: each mark with its box, x, y, width, height in mm. */
export const marksOn = (leaf: string, face: string): readonly { readonly kind: string; readonly box: BoxMm }[] =>
  (truth.faces.find((one) => one.leaf === leaf && one.face === face)?.marks ?? []).map(({ kind, box_mm }) => {
    const [x = 0, y = 0, w = 0, h = 0] = box_mm;
    return { kind, box: { x, y, w, h } };
  });
