import type { Delivery } from "../contract/delivery.ts";
import type { Leaf, Mark } from "../contract/leaf.ts";
import type { ClaimWindow, FaceDifference, LeafView, StoreLog } from "../contract/views.ts";
import { hangingSide, sideOfFace } from "./hanging-side.ts";
import { markPlace } from "./mark-place.ts";
import { asksOf, linesConcerned } from "./record-lines.ts";
import {
  type LeafRecord,
  leafRecord,
  type OpeningAffected,
  type RecordLeaf,
  type RecordMark,
} from "./record-schema.ts";
import { windowsConcerned } from "./windows-concerned.ts";
import { askWord, conditionSentence, decisionSentence, markSentence } from "./wording.ts";

/** Everything a record is made from, as it stood on one date. */
export interface RecordFacts
  extends Pick<
    LeafRecord,
    | "kind"
    | "number"
    | "revision"
    | "revises"
    | "previous"
    | "ledgerHead"
    | "issuedAt"
    | "by"
    | "device"
    | "photos"
    | "pictures"
  > {
  readonly delivery: Delivery;
  readonly leaves: readonly string[];
  readonly storeLog: StoreLog;
  readonly solvedAt: string | null;
  /** The edition of the 24-patch chart by whose values photos were measured; null where none shows a chart. */
  readonly chart: string | null;
  colours(leaf: string): LeafView["faces"];
  readonly windows: (leaf: string) => readonly ClaimWindow[];
  judgement(mark: Mark): RecordMark["judgement"];
  pairDifferences(one: string, other: string): FaceDifference[];
}

/** How the figures came about, in sentences for the reader of the record. */
const method = ({ solvedAt, chart }: RecordFacts): string[] => [
  "Sizes and places of marks were set by the person named on the drawn leaf or on the photo, in mm on the face.",
  solvedAt === null
    ? "Colours were not measured."
    : "Colours are means of linear light over a part, as CIELAB (D65, 2 degrees), from one least-squares adjustment of all photos of the delivery; differences are CIEDE2000, with the 95 % uncertainty of that adjustment.",
  ...(chart === null ? [] : [`Charts in the photos were read by the values of the ${chart}.`]),
  "Moisture of wood is what it would come to in the recorded air (Hailwood-Horrobin equation, Wood Handbook), not a reading on the leaf.",
];

/** What the printed pictures and the pictures sent do not carry. */
const leftOut =
  "Pictures in this record and photos sent with it are copies: cut straight to the face or made smaller, encoded again as JPEG, without position, serial numbers, owner, embedded thumbnail or any other data of the camera. The originals stay with the fitter, unchanged, under the SHA-256 listed.";

const openingAffected = ({ openings, spaces, allotment }: Delivery, leaf: string): OpeningAffected | null => {
  const placed = allotment.plan.find((place) => place.leaf === leaf);
  const opening = openings.find(({ id }) => id === placed?.opening);
  if (!placed || !opening) return null;
  const faces = (["A", "B"] as const).map((face) => {
    const side = sideOfFace(face, placed.turned);
    const space = spaces.find(({ id }) => id === opening.sides[side])?.name ?? null;
    return { face, space, hangingSide: hangingSide(opening, placed.place, side) };
  });
  return { code: opening.id, place: placed.place, faces };
};

/** The leaf as it is recorded. Its pattern must be in the delivery. */
const recordLeafOf = (facts: RecordFacts, leaf: Leaf): RecordLeaf => {
  const { delivery } = facts;
  const { timeZone, currency } = delivery.job;
  const pattern = delivery.patterns.find(({ id }) => id === leaf.pattern);
  if (!pattern) throw new Error(`leaf ${leaf.code} has the pattern ${leaf.pattern}, which the delivery does not hold`);
  const opening = openingAffected(delivery, leaf.code);
  const marks = delivery.marks
    .filter((mark) => mark.leaf === leaf.code && !mark.withdrawn)
    .map((mark): RecordMark => {
      const { leaf: _, withdrawn: __, ...kept } = mark;
      const onFace = opening?.faces.find(({ face }) => face === mark.face);
      const place = markPlace(pattern, mark.box, onFace?.hangingSide ?? null);
      return { ...kept, place, says: markSentence(mark, place, timeZone), judgement: facts.judgement(mark) };
    });
  const { labelId: _, ...asRecorded } = leaf;
  return {
    ...asRecorded,
    item: delivery.lines.find(({ id }) => id === leaf.line)?.item ?? "",
    pattern,
    opening,
    colours: facts
      .colours(leaf.code)
      .toSorted((one, other) => one.face.localeCompare(other.face))
      .map(({ face, parts }) => ({ face, parts: parts.map(({ part, kind, lab, u95 }) => ({ part, kind, lab, u95 })) })),
    marks,
    says: leaf.decision ? decisionSentence(leaf.decision, timeZone, currency) : "No decision recorded.",
    condition: conditionSentence(leaf),
  };
};

const pairsOf = (facts: RecordFacts, leaves: readonly RecordLeaf[]): LeafRecord["pairs"] =>
  leaves.flatMap(({ code, pairWith }) =>
    pairWith !== null && code < pairWith
      ? [{ leaves: [code, pairWith] as [string, string], differences: facts.pairDifferences(code, pairWith) }]
      : [],
  );

/** Half of a surrogate pair, which a broken phone keyboard may send, has no place in canonical JSON. */
const wellFormed = (_: string, value: unknown): unknown =>
  typeof value === "string" ? value.replaceAll(/\p{Surrogate}/gu, "\uFFFD") : value;

/**
 * The record from the facts on one date: plain data of its own that later changes of the delivery cannot reach.
 * A return record is late when a window towards the supplier was shut at the time of issue.
 */
export const freezeRecord = (facts: RecordFacts): LeafRecord => {
  const { delivery } = facts;
  const leaves = facts.leaves.map((code) => {
    const leaf = delivery.leaves.find((candidate) => candidate.code === code);
    if (!leaf) throw new Error(`no leaf ${code} in the delivery`);
    return recordLeafOf(facts, leaf);
  });
  const lines = linesConcerned(delivery, facts.leaves);
  const windows = facts.kind === "return" ? windowsConcerned(leaves, facts.windows) : [];
  const towardsSupplier = windows.filter(({ to }) => to === "supplier");
  const record: Record<keyof LeafRecord, unknown> = {
    format: "leafledger-record-2",
    kind: facts.kind,
    number: facts.number,
    revision: facts.revision,
    revises: facts.revises,
    previous: facts.previous,
    ledgerHead: facts.ledgerHead,
    issuedAt: facts.issuedAt,
    by: facts.by,
    device: facts.device,
    delivery: delivery.id,
    job: delivery.job,
    terms: delivery.terms,
    lines,
    leaves,
    pairs: pairsOf(facts, leaves),
    asks:
      facts.kind === "return"
        ? asksOf(
            lines,
            leaves.map((leaf) => ({ code: leaf.code, line: leaf.line, asks: askWord(leaf) })),
          )
        : [],
    windows,
    deadline: towardsSupplier[0]?.deadline ?? null,
    late: towardsSupplier.some(({ shut }) => shut),
    storeLog: facts.storeLog,
    method: method(facts),
    photos: facts.photos,
    pictures: facts.pictures,
    leftOut,
  };
  return leafRecord.parse(JSON.parse(JSON.stringify(record, wellFormed)));
};
