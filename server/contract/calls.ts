import * as z from "zod";
import { chartName, chartsView, chartWhite } from "./chart.ts";
import { allotment, deliveryDocument, job, reading, sightWeights, spaceLook } from "./delivery.ts";
import { code, deliveryId, entryId, happened, instant, sha256, shortText } from "./ids.ts";
import { decision, leaf, mark, pattern, shapeReading } from "./leaf.ts";
import type { CallName } from "./paths.ts";
import { photo, shown } from "./photo.ts";
import {
  lateAnswer,
  liftAnswer,
  movesAnswer,
  replacementAnswer,
  returnsAnswer,
  surenessAnswer,
  whatIfAnswer,
} from "./questions.ts";
import { repeatView } from "./repeat.ts";
import { supplierTerms } from "./terms.ts";
import {
  historyLine,
  leafView,
  matchView,
  overview,
  patternView,
  photoReply,
  planning,
  progress,
  returnsView,
} from "./views.ts";

/** Who makes the change and on which device, as the page knows it. */
const by = z.strictObject({ name: shortText, device: shortText });

/** A call's body and reply; a body of null takes none; a reply of null is a file or a stream. */
interface Call {
  readonly body: z.ZodType | null;
  readonly reply: z.ZodType | null;
}

const done = z.strictObject({ seq: z.number() });

/** What every call takes and gives. The server checks both; the page takes the types alone. */
export const calls = {
  listDeliveries: {
    body: null,
    reply: z.array(
      z.strictObject({
        id: deliveryId,
        name: shortText,
        supplier: shortText,
        deliveredAt: instant,
        leaves: z.number(),
      }),
    ),
  },
  /** `order` and `schedule` are the text of CSV files; a fault names line and column. */
  createDelivery: {
    body: z.strictObject({
      by,
      job,
      terms: supplierTerms,
      order: z.string().max(2_000_000),
      schedule: z.string().max(2_000_000),
    }),
    reply: z.strictObject({ id: deliveryId }),
  },
  overview: { body: null, reply: overview },
  document: { body: null, reply: deliveryDocument },
  history: { body: null, reply: z.array(historyLine) },
  undo: { body: z.strictObject({ by, seq: z.number().int() }), reply: done },
  setTerms: { body: z.strictObject({ by, terms: supplierTerms }), reply: done },
  charts: { body: null, reply: chartsView },
  /** `text` is CGATS.17 or a table with columns L, a, b; `white` null where the text names it. The new chart is chosen at once. */
  addChart: {
    body: z.strictObject({
      by,
      name: chartName,
      edition: shortText,
      white: chartWhite.nullable(),
      text: z.string().max(200_000),
    }),
    reply: done,
  },
  chooseChart: { body: z.strictObject({ by, chart: code }), reply: done },
  importOrder: { body: z.strictObject({ by, csv: z.string().max(2_000_000) }), reply: done },
  importSchedule: { body: z.strictObject({ by, csv: z.string().max(2_000_000) }), reply: done },
  countLine: { body: z.strictObject({ by, counted: z.number().int().min(0).max(5000).nullable() }), reply: done },
  logReading: { body: z.strictObject({ by, reading: reading.omit({ id: true, by: true }) }), reply: done },
  leaf: { body: null, reply: leafView },
  addLeaf: {
    body: z.strictObject({
      by,
      leaf: leaf.pick({ code: true, line: true, pattern: true, identity: true, replaces: true }),
    }),
    reply: done,
  },
  pattern: { body: null, reply: patternView },
  /** Where each part of the pattern lies now, mm from the top left corner of the face; names, kinds and grain stay. */
  setJoints: {
    body: z.strictObject({
      by,
      parts: z
        .array(
          z.strictObject({
            name: pattern.shape.parts.element.shape.name,
            rectMm: z.tuple([z.number(), z.number(), z.number(), z.number()]),
          }),
        )
        .max(60),
    }),
    reply: done,
  },
  unwrapLeaf: { body: z.strictObject({ by, at: happened }), reply: done },
  identifyLeaf: { body: z.strictObject({ by, identity: z.enum(["as-ordered", "wrong", "over"]) }), reply: done },
  logShape: { body: z.strictObject({ by, reading: shapeReading.omit({ id: true, by: true }) }), reply: done },
  /** Null takes the decision back. */
  decideLeaf: { body: z.strictObject({ by, decision: decision.omit({ by: true, at: true }).nullable() }), reply: done },
  logMark: {
    body: z.strictObject({
      by,
      mark: mark.omit({ id: true, leaf: true, by: true, at: true, withdrawn: true, contrastDE00: true }),
    }),
    reply: z.strictObject({ id: entryId }),
  },
  withdrawMark: { body: z.strictObject({ by }), reply: done },
  /** multipart/form-data: `about` holds this as JSON text, `photo` the file. */
  uploadPhoto: {
    body: z.strictObject({
      by,
      sha256,
      name: shortText,
      kind: photo.shape.kind,
      shows: z.array(shown).max(12),
      note: shortText,
    }),
    reply: photoReply,
  },
  filePhoto: {
    body: z.strictObject({ by, kind: photo.shape.kind, shows: z.array(shown).max(12), note: shortText }),
    reply: done,
  },
  photoPreview: { body: null, reply: null },
  straightFace: { body: null, reply: null },
  photoOriginal: { body: null, reply: null },
  events: { body: null, reply: null },
  match: { body: null, reply: matchView },
  repeat: { body: null, reply: repeatView },
  /** Answers when the plan is made or stopped; `planning` events tell how far it is. */
  planAllotment: { body: z.strictObject({ by }), reply: matchView },
  /** The call that planned answers with the best plan so far; false when none was being made. */
  stopPlanning: { body: z.strictObject({ by }), reply: z.strictObject({ stopped: z.boolean() }) },
  /** The plan and the one before it change places. */
  takePlanBack: { body: z.strictObject({ by }), reply: matchView },
  /** Look null: every two faces of the space count alike. Spaces not named stay as they are. */
  setSight: {
    body: z.strictObject({
      by,
      sight: sightWeights,
      spaces: z.array(z.strictObject({ id: code, look: spaceLook.nullable() })).max(500),
    }),
    reply: done,
  },
  /** Replaces all locks and bans. */
  setWishes: { body: z.strictObject({ by, locks: allotment.shape.locks, bans: allotment.shape.bans }), reply: done },
  /** Keeps as many leaves as it can where they are, for a loss of at most so much ΔE00 against the best plan. */
  planFewMoves: { body: z.strictObject({ by, loss: z.number().min(0).max(100) }), reply: matchView },
  /** Tolerance null: the one agreed. The answers take seconds at 60 leaves and change nothing. */
  askReturns: {
    body: z.strictObject({ tolerance: z.number().positive().max(100).nullable() }),
    reply: returnsAnswer,
  },
  askLate: { body: z.strictObject({ leaf: code }), reply: lateAnswer },
  askMoves: { body: z.strictObject({ loss: z.number().min(0).max(100) }), reply: movesAnswer },
  /** Turned null: either way round. */
  askWhatIf: {
    body: z.strictObject({
      leaf: code,
      opening: code,
      turned: z.boolean().nullable(),
      loss: z.number().min(0).max(100),
    }),
    reply: whatIfAnswer,
  },
  askReplacement: { body: null, reply: replacementAnswer },
  /** What would lift the difference that forces the best plan's worst. */
  askLift: { body: z.strictObject({}), reply: liftAnswer },
  /** How sure the plan as it stands is, within the uncertainty of its differences. */
  askSureness: { body: z.strictObject({}), reply: surenessAnswer },
  returns: { body: null, reply: returnsView },
  issueRecord: {
    body: z.strictObject({
      by,
      kind: z.enum(["accept", "return"]),
      leaves: z.array(code).min(1).max(500),
      revises: z.number().int().min(1).nullable(),
    }),
    reply: z.strictObject({ number: z.number(), late: z.boolean() }),
  },
  recordPdf: { body: null, reply: null },
  recordJson: { body: null, reply: null },
  verify: {
    body: null,
    reply: z.strictObject({ sound: z.boolean(), checked: z.number(), faults: z.array(z.string()) }),
  },
  labelSheet: { body: null, reply: null },
  allotmentSheet: { body: null, reply: null },
  cardSheet: { body: null, reply: null },
} as const satisfies Record<CallName, Call>;

type Calls = typeof calls;
export type Body<Name extends CallName> = Calls[Name]["body"] extends z.ZodType ? z.infer<Calls[Name]["body"]> : null;
export type Reply<Name extends CallName> = Calls[Name]["reply"] extends z.ZodType
  ? z.infer<Calls[Name]["reply"]>
  : Response;

/** An error answer, application/problem+json (RFC 9457). `faults` names the place in what was sent. */
export const problem = z.strictObject({
  type: z.string(),
  title: z.string(),
  status: z.number(),
  detail: z.string(),
  faults: z.array(z.strictObject({ at: z.string(), says: z.string() })).optional(),
});
export type Problem = z.infer<typeof problem>;

/**
 * One server-sent event: `progress` while photos are measured, `changed` when the delivery changed, `planning` while an allotment is
 * planned, null when that ended.
 */
export const serverEvent = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.literal("progress"), progress }),
  z.strictObject({ kind: z.literal("changed"), seq: z.number() }),
  z.strictObject({ kind: z.literal("planning"), planning: planning.nullable() }),
]);
export type ServerEvent = z.infer<typeof serverEvent>;
