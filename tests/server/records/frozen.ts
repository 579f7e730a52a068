import type { Delivery } from "../../../server/contract/delivery.ts";
import type { LeafView } from "../../../server/contract/views.ts";
import { freezeRecord, type RecordFacts } from "../../../server/records/record.ts";
import type { LeafRecord } from "../../../server/records/record-schema.ts";
import { hashOf, quayDelivery } from "./quay-delivery.ts";

const issuedAt = "2026-03-06T09:30:00+00:00";

const colours = (delivery: Delivery, code: string): LeafView["faces"] => {
  const leaf = delivery.leaves.find((candidate) => candidate.code === code);
  const parts = delivery.patterns.find(({ id }) => id === leaf?.pattern)?.parts ?? [];
  return (["A", "B"] as const).map((face) => ({
    face,
    photos: [],
    grain: [],
    parts: parts.map(({ name, kind }) => ({ part: name, kind, lab: [43.2, 8.4, 17.6], u95: 0.6, swatch: "#775533" })),
  }));
};

/** The facts of a return of W03 and the pair, with windows that shut on Friday at five. */
export const quayFacts = (change: Partial<RecordFacts> = {}): RecordFacts => {
  const delivery = change.delivery ?? quayDelivery();
  return {
    kind: "return",
    number: 2,
    revision: 1,
    revises: null,
    previous: { number: 1, jsonSha256: hashOf("json 1"), pdfSha256: hashOf("pdf 1") },
    ledgerHead: { seq: 214, sha256: hashOf("line 214") },
    issuedAt,
    by: "R. Tallis",
    device: "laptop",
    delivery,
    leaves: ["W03", "P1", "P2"],
    photos: delivery.photos.map((photo) => ({
      ...photo,
      original: "as-received",
      copy: { kind: "made", name: "photo-001.jpg", sha256: hashOf("copy"), bytes: 4, removed: ["position", "time"] },
    })),
    pictures: [],
    storeLog: { readings: [], hoursOutside: 0, warnings: [] },
    solvedAt: issuedAt,
    chart: null,
    colours: (leaf) => colours(delivery, leaf),
    windows: () =>
      (["damage", "defect", "haulier-notice"] as const).map((kind) => ({
        kind,
        to: kind === "haulier-notice" ? "haulier" : "supplier",
        opensAt: delivery.job.deliveredAt,
        deadline: kind === "haulier-notice" ? "2026-03-10T17:00:00+00:00" : "2026-03-06T17:00:00+00:00",
        hoursLeft: kind === "haulier-notice" ? 103.5 : 7.5,
        shut: false,
        counted: "3 working days after the delivery on Tue 3 Mar, to 17:00 Europe/London",
      })),
    judgement: ({ kind }) => ({ verdict: "beyond-limits", why: `Beyond: ${kind}.` }),
    pairDifferences: (one, other) => [
      {
        a: { leaf: one, face: "A" },
        b: { leaf: other, face: "A" },
        part: "face",
        deltaE: 6.7,
        u95: 0.5,
        verdict: "differs",
        advice: null,
      },
    ],
    ...change,
  };
};

export const quayRecord = (change: Partial<RecordFacts> = {}): LeafRecord => freezeRecord(quayFacts(change));
