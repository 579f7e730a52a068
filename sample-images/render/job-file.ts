import { chartBefore2014 } from "./chart-values.ts";
import { demoLeaves } from "./demo-leaves.ts";
import { openings } from "./demo-openings.ts";
import { partsOf } from "./leaf-layout.ts";
import { cardId } from "./references.ts";
import type { Shot } from "./shot.ts";

const round = (v: number): number => Math.round(v * 10) / 10;

/** One photo as the job lists it: what is in it, left to right, and which reference. */
export const photoOfJob = (shot: Shot) => ({
  file: shot.file,
  kind: shot.kind,
  shows: shot.standing.map(({ leaf, face }) => ({ leaf: leaf.id, face })),
  reference: shot.held.map(({ kind }) =>
    kind === "card-with-grey" ? "card" : kind === "other-chart" ? "chart" : kind,
  ),
  ...(shot.held.some(({ kind }) => kind === "card-with-grey") ? { inWindow: "grey" } : {}),
  taken: shot.taken,
  ...(shot.kind === "detail" && shot.mark
    ? {
        about_mm: [
          round(shot.mark.boxMm[0] + shot.mark.boxMm[2] / 2),
          round(shot.mark.boxMm[1] + shot.mark.boxMm[3] / 2),
        ],
      }
    : {}),
});

/** What a user would know of the delivery and its photos. A leaf counts as its label says: size as measured, line as noted. */
export const jobOf = (shots: readonly Shot[]) => ({
  note: "What a user would know. Rectangles are x, y, width, height in mm from the top left corner of the face as seen.",
  deliveryNote: { number: "PL-88413", order: "HJ-2217", date: "2026-03-03", arrived: "2026-03-03T10:40:00+00:00" },
  leaves: demoLeaves.map((leaf) => ({
    id: leaf.id,
    line: leaf.line,
    height_mm: leaf.heightMm,
    width_mm: leaf.widthMm,
    thickness_mm: leaf.thicknessMm,
    design: leaf.pattern,
    veneer: leaf.veneer,
    faces: ["A", "B"],
    parts: partsOf(leaf.pattern, leaf.widthMm, leaf.heightMm).map(({ part, kind, grain, rectMm }) => ({
      part,
      kind,
      grain,
      rect_mm: rectMm,
    })),
  })),
  spaces: [...new Set(openings.flatMap(({ sideA, sideB }) => [sideA, sideB]))].map((name) => ({
    name,
    openings: openings.filter(({ sideA, sideB }) => sideA === name || sideB === name).map(({ opening }) => opening),
  })),
  openings: openings.map(({ opening, leaves, widthMm, heightMm, sideA, sideB }) => ({
    id: opening,
    leaves,
    size_mm: { height: heightMm, width: widthMm },
    spaces: [sideA, sideB],
  })),
  photos: shots.map(photoOfJob),
  references: {
    chart: {
      layout: "24 patches, 6 x 4, row by row from the brown patch",
      size_mm: [278, 190],
      labD50: chartBefore2014,
    },
    grey: { reflectance: 0.18, size_mm: [200, 250] },
    card: { id: cardId, size_mm: [210, 297] },
  },
});
