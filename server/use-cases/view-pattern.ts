import type { PatternView } from "../contract/views.ts";
import type { Site } from "../site.ts";
import { patternOf } from "./delivery-parts.ts";

type Corners = readonly (readonly [number, number])[];

const heightPx = (corners: Corners): number => {
  const [[x, y] = [0, 0], , , [x2, y2] = [0, 0]] = corners;
  return Math.hypot(x2 - x, y2 - y);
};

/** A pattern with the leaves made by it and the photos over which its joints can be laid, best first. */
export const viewPattern = (site: Site, deliveryId: string, id: string): PatternView => {
  const delivery = site.store.open(deliveryId).read();
  const pattern = patternOf(delivery, id);
  const measured = site.measuring.measured(deliveryId);
  const leaves = delivery.leaves.filter((leaf) => leaf.pattern === id).map(({ code }) => code);
  const faces = delivery.photos.flatMap((photo) =>
    photo.shows.flatMap(({ leaf, face }) => {
      const corners = leaves.includes(leaf) ? measured.corners(photo.id, { leaf, face }) : null;
      return corners ? [{ leaf, face, photo: photo.id, heightPx: heightPx(corners) }] : [];
    }),
  );
  return {
    pattern,
    leaves,
    faces: faces
      .toSorted((one, other) => other.heightPx - one.heightPx)
      .map(({ leaf, face, photo }) => ({ leaf, face, photo })),
  };
};
