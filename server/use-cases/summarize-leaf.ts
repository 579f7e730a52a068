import type { Delivery } from "../contract/delivery.ts";
import type { FaceSide } from "../contract/ids.ts";
import type { Leaf } from "../contract/leaf.ts";
import type { LeafSummary } from "../contract/views.ts";
import { wholeFace } from "../rules/face-coverage.ts";
import type { Measured } from "../site.ts";

type FaceState = LeafSummary["faces"]["A"];

/** The best that any photo of a face came to. */
const faceState = (delivery: Delivery, measured: Measured, leaf: string, face: FaceSide): FaceState => {
  const photos = wholeFace(delivery.photos, leaf, face);
  if (photos.length === 0) return "missing";
  const kinds = photos.map(({ id }) => measured.state(id).kind);
  if (kinds.includes("measured")) return "measured";
  return kinds.includes("waiting") ? "waiting" : "retake";
};

/** What a list shows of a leaf. */
export const summarizeLeaf = (leaf: Leaf, delivery: Delivery, measured: Measured): LeafSummary => ({
  code: leaf.code,
  line: leaf.line,
  item: delivery.lines.find(({ id }) => id === leaf.line)?.item ?? "existing leaf",
  identity: leaf.identity,
  unwrapped: leaf.unwrappedAt !== null,
  faces: { A: faceState(delivery, measured, leaf.code, "A"), B: faceState(delivery, measured, leaf.code, "B") },
  marks: delivery.marks.filter((mark) => mark.leaf === leaf.code && !mark.withdrawn).length,
  outcome: leaf.decision?.outcome ?? "undecided",
  opening: delivery.allotment.plan.find((place) => place.leaf === leaf.code)?.opening ?? leafStays(leaf, delivery),
});

const leafStays = (leaf: Leaf, { openings }: Delivery): string | null =>
  openings.find(({ existingLeaf }) => existingLeaf === leaf.code)?.id ?? null;
