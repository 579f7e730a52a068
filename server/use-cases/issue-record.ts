import { mkdtemp, rm } from "node:fs/promises";
import { join } from "node:path";
import type { Reply, Signed } from "../contract/calls.ts";
import type { Delivery, IssuedRecord } from "../contract/delivery.ts";
import { Refusal } from "../problem.ts";
import { canonicalJson, sha256Of } from "../records/canonical.ts";
import { whyNotRecorded } from "../records/may-be-recorded.ts";
import { freezeRecord } from "../records/record.ts";
import type { LeafRecord } from "../records/record-schema.ts";
import { claimWindows } from "../rules/claim-window.ts";
import { judgeMark } from "../rules/mark-limits.ts";
import { storeLog } from "../rules/store-log.ts";
import type { Site, Standing } from "../site.ts";
import { calendarOf } from "./calendar.ts";
import { type Evidence, evidenceIn } from "./record-evidence.ts";

type Wish = Signed<"issueRecord">;

const earlierOf = (record: IssuedRecord | undefined): LeafRecord["previous"] =>
  record ? { number: record.number, jsonSha256: record.jsonSha256, pdfSha256: record.pdfSha256 } : null;

const freeze = (
  site: Site,
  { document: delivery, head }: Standing,
  { by, kind, leaves, revises }: Wish,
  { photos, pictures }: Evidence,
): LeafRecord => {
  const { terms, job, records } = delivery;
  const issuedAt = site.now();
  const revised = records.find(({ number }) => number === revises);
  const measured = site.measuring.measured(delivery.id);
  return freezeRecord({
    kind,
    number: records.length + 1,
    revision: (revised?.revision ?? 0) + 1,
    revises: earlierOf(revised),
    previous: earlierOf(records.at(-1)),
    ledgerHead: head,
    issuedAt,
    by: by.name,
    device: by.device,
    delivery,
    leaves,
    photos,
    pictures,
    storeLog: storeLog(delivery.readings, terms.store, issuedAt),
    solvedAt: measured.solvedAt,
    chart: measured.chart,
    colours: (leaf) => measured.faces(leaf),
    windows: (code) => {
      const unwrappedAt = delivery.leaves.find((leaf) => leaf.code === code)?.unwrappedAt ?? null;
      return claimWindows(terms, { deliveredAt: job.deliveredAt, unwrappedAt }, calendarOf(delivery), issuedAt);
    },
    judgement: (mark) => judgeMark(mark, terms),
    pairDifferences: (one, other) =>
      (["A", "B"] as const).map((face) => measured.difference({ leaf: one, face }, { leaf: other, face })),
  });
};

/** What was answered to this request before, or null. Refused when the same request asked for something else. */
const answered = ({ records }: Delivery, { requestId, kind, leaves }: Wish): Reply<"issueRecord"> | null => {
  const record = requestId === undefined ? undefined : records.find((one) => one.requestId === requestId);
  if (!record) return null;
  if (record.kind !== kind || record.leaves.join() !== leaves.join())
    throw new Refusal(`This request issued record ${record.number} of other leaves already. Ask anew.`);
  const late = record.deadline !== null && Date.parse(record.issuedAt) >= Date.parse(record.deadline);
  return { number: record.number, late };
};

const refuseUnlessRecordable = (delivery: Delivery, wish: Wish): void => {
  const refusals = whyNotRecorded(delivery, wish);
  if (refusals.length > 0) throw new Refusal(refusals.join(" "));
};

/**
 * Issues a record: freezes what is known, makes its pictures and the copies to send, writes all its files for good and only then
 * the journal line that numbers and chains it. All of it is one change, so that numbers have no gaps; the same request again gets
 * the same number. A late record is issued all the same and says so. Refused when a leaf cannot stand on it.
 */
export const issueRecord = async (site: Site, deliveryId: string, wish: Wish): Promise<Reply<"issueRecord">> => {
  const store = site.store.open(deliveryId);
  const known = answered(store.read(), wish);
  if (known) return known;
  refuseUnlessRecordable(store.read(), wish);
  const folder = await mkdtemp(join(store.temporaryFolder, "record-"));
  const evidence = evidenceIn(site, store, deliveryId, folder);
  try {
    await evidence.gather(store.read(), wish.leaves);
    const what = `Issued ${wish.kind} record for ${wish.leaves.join(", ")}`.slice(0, 200);
    const { result } = await store.change(wish.by, what, async (draft, before) => {
      const delivery = before.document;
      const issued = answered(delivery, wish);
      if (issued) return issued;
      refuseUnlessRecordable(delivery, wish);
      const record = freeze(site, before, wish, await evidence.gather(delivery, wish.leaves));
      const json = canonicalJson(record);
      const jsonSha256 = sha256Of(json);
      const pdf = await site.print({ sheet: "record", record, jsonSha256, folder });
      const copies = record.photos.flatMap(({ id, copy }) => (copy.kind === "made" ? [{ id, ...copy }] : []));
      const files = new Map(copies.map(({ id, name }) => [name, evidence.copyPath(id)]));
      await store.records.write(record.number, json, pdf, files);
      draft.records.push({
        number: record.number,
        kind: record.kind,
        revises: wish.revises,
        revision: record.revision,
        leaves: wish.leaves,
        issuedAt: record.issuedAt,
        by: record.by,
        deadline: record.deadline,
        jsonSha256,
        pdfSha256: sha256Of(pdf),
        previousSha256: record.previous?.jsonSha256 ?? null,
        ...(wish.requestId !== undefined && { requestId: wish.requestId }),
        copies: copies.map(({ name, sha256, bytes }) => ({ name, sha256, bytes })),
      });
      return { number: record.number, late: record.late };
    });
    return result;
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
};
