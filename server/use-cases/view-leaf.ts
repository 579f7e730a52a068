import type { LeafView } from "../contract/views.ts";
import { cautions } from "../rules/cautions.ts";
import { claimWindows } from "../rules/claim-window.ts";
import { missingViews } from "../rules/face-coverage.ts";
import { whyNot } from "../rules/leaf-decision.ts";
import { judgeMark } from "../rules/mark-limits.ts";
import { isWavedOff } from "../rules/waved-off.ts";
import type { Site } from "../site.ts";
import { calendarOf } from "./calendar.ts";
import { leafOf, patternOf } from "./delivery-parts.ts";
import { openConflicts } from "./overwrite.ts";

/** One leaf: its photos, colours, marks judged by the terms, what may be decided, what is still missing. */
export const viewLeaf = (site: Site, deliveryId: string, code: string): LeafView => {
  const store = site.store.open(deliveryId);
  const delivery = store.read();
  const measured = site.measuring.measured(deliveryId);
  const leaf = leafOf(delivery, code);
  const line = delivery.lines.find(({ id }) => id === leaf.line) ?? null;
  const pattern = patternOf(delivery, leaf.pattern);
  const { job, terms, photos, marks, allotment } = delivery;
  const opened = { deliveredAt: job.deliveredAt, unwrappedAt: leaf.unwrappedAt };
  return {
    leaf,
    item: line?.item ?? "existing leaf",
    line,
    pattern,
    placed: allotment.plan.find((place) => place.leaf === code) ?? null,
    photos: photos
      .filter(({ shows }) => shows.some((shown) => shown.leaf === code))
      .map((photo) => ({ photo, state: measured.state(photo.id), damage: store.photos.damage(photo.id) })),
    faces: measured.faces(code),
    marks: marks
      .filter((mark) => mark.leaf === code && !mark.withdrawn)
      .map((mark) => ({ mark, judgement: judgeMark(mark, terms) })),
    proposed: measured.proposedMarks(code).filter((place) => !isWavedOff(delivery, code, place)),
    windows: claimWindows(terms, opened, calendarOf(delivery), site.now()),
    whyNot: {
      accept: whyNot(leaf, "accept", delivery),
      "accept-with-allowance": whyNot(leaf, "accept-with-allowance", delivery),
      hold: whyNot(leaf, "hold", delivery),
      return: whyNot(leaf, "return", delivery),
    },
    missing: missingViews(leaf, delivery),
    cautions: cautions(leaf, pattern, line),
    conflicts: openConflicts(delivery).filter((one) => one.leaf === code),
    seq: site.store.open(deliveryId).head().seq,
    beforeUnwrapping: terms.beforeUnwrapping,
  };
};
