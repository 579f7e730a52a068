import type { Reply } from "../contract/calls.ts";
import { type Photo, unknownCamera } from "../contract/photo.ts";
import type { Site } from "../site.ts";
import { repeatReportOf, type Taken } from "./repeat-report.ts";

const takenOf = ({ camera, by }: Photo): Taken => ({
  phone: camera === unknownCamera ? null : camera,
  person: by ?? null,
});

/** How repeatable the photos of a delivery are: the faces that were photographed more than once tell. */
export const viewRepeat = (site: Site, deliveryId: string): Reply<"repeat"> => {
  const { photos, terms } = site.store.open(deliveryId).read();
  const measured = photos.filter(({ kind }) => kind === "single" || kind === "line-up");
  const taken = new Map(measured.map((photo) => [photo.id, takenOf(photo)]));
  return {
    ...repeatReportOf(site.measuring.measured(deliveryId).repeats, taken),
    tolerance: terms.toleranceDE00,
  };
};
