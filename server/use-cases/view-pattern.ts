import type { PhotoState } from "../contract/photo.ts";
import type { PatternView } from "../contract/views.ts";
import type { Site } from "../site.ts";
import { patternOf } from "./delivery-parts.ts";

type Corners = Extract<PhotoState, { kind: "measured" }>["faces"][number]["corners"];

const heightPx = ([[x, y], , , [x2, y2]]: Corners): number => Math.hypot(x2 - x, y2 - y);

/** A pattern with the leaves made by it and the photos over which its joints can be laid, best first. */
export const viewPattern = (site: Site, deliveryId: string, id: string): PatternView => {
  const delivery = site.store.open(deliveryId).read();
  const pattern = patternOf(delivery, id);
  const measured = site.measuring.measured(deliveryId);
  const leaves = delivery.leaves.filter((leaf) => leaf.pattern === id).map(({ code }) => code);
  const made = new Set(leaves);
  const faces = delivery.photos.flatMap((photo) => {
    const state = measured.state(photo.id);
    if (state.kind !== "measured") return [];
    const seen = state.faces.filter(({ leaf }) => made.has(leaf));
    return seen.map(({ leaf, face, corners }) => ({ leaf, face, photo: photo.id, heightPx: heightPx(corners) }));
  });
  return {
    pattern,
    seq: site.store.open(deliveryId).head().seq,
    leaves,
    faces: faces
      .toSorted((one, other) => other.heightPx - one.heightPx)
      .map(({ leaf, face, photo }) => ({ leaf, face, photo })),
  };
};
