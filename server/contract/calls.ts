import * as z from "zod";
import { device, newOffer, offer, offerWish, pairing, recordLink, session, state } from "./access.ts";
import { chartName, chartsView, chartWhite } from "./chart.ts";
import { conflictView, takenSide } from "./conflict.ts";
import { allotment, deliveryDocument, job, reading, sightWeights, spaceLook } from "./delivery.ts";
import { type Actor, code, deliveryId, entryId, face, happened, instant, sha256, shortText } from "./ids.ts";
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
  recordView,
  returnsView,
} from "./views.ts";

/** A call's body and reply; a body of null takes none; a reply of null is a file or a stream. */
interface Call {
  readonly body: z.ZodType | null;
  readonly reply: z.ZodType | null;
}

const nothing = z.strictObject({});
const done = z.strictObject({ seq: z.number() });

/** The line of the journal up to which the page had read, for a call that replaces something; left out by programs. */
const seen = z.number().int().min(0).exactOptional();

/** What every call takes and gives. The server checks both; the page takes the types alone. */
export const calls = {
  /** On this very computer nobody is asked for a code, unless other devices can reach the server too. */
  beginHere: { body: null, reply: session },
  state: { body: null, reply: state },
  /** Whose name stands beside what this device enters from now on. */
  nameSession: { body: z.strictObject({ name: shortText.trim().min(1) }), reply: session },
  signOut: { body: null, reply: nothing },
  offerPairing: { body: offerWish, reply: newOffer },
  offers: { body: null, reply: z.array(offer) },
  pair: { body: pairing, reply: session },
  devices: { body: null, reply: z.array(device) },
  /** Its session ends within a second. */
  shutOut: { body: null, reply: nothing },
  /** Whoever has the address sees this record, and nothing else, until the day named. */
  linkRecord: {
    body: z.strictObject({ days: z.number().int().min(1).max(366).default(14) }),
    reply: recordLink.extend({ address: z.string() }),
  },
  recordLinks: { body: null, reply: z.array(recordLink) },
  endLink: { body: null, reply: nothing },
  /** `secret` is what stands behind # in the address of a link; `until`: the link opens no longer. */
  openLink: { body: z.strictObject({ secret: z.string().min(8).max(64) }), reply: session.extend({ until: instant }) },
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
  /** What touched one leaf, its photos and its marks. */
  leafHistory: { body: null, reply: z.array(historyLine) },
  /** "theirs": it stays as it is. "yours": what was set aside is entered again, by the same rules. */
  settleConflict: { body: z.strictObject({ take: takenSide }), reply: done },
  undo: { body: z.strictObject({ seq: z.number().int() }), reply: done },
  setTerms: { body: z.strictObject({ seen, terms: supplierTerms }), reply: done },
  charts: { body: null, reply: chartsView },
  /** `text` is CGATS.17 or a table with columns L, a, b; `white` null where the text names it. The new chart is chosen at once. */
  addChart: {
    body: z.strictObject({
      name: chartName,
      edition: shortText,
      white: chartWhite.nullable(),
      text: z.string().max(200_000),
    }),
    reply: done,
  },
  chooseChart: { body: z.strictObject({ seen, chart: code }), reply: done },
  importOrder: { body: z.strictObject({ csv: z.string().max(2_000_000) }), reply: done },
  importSchedule: { body: z.strictObject({ csv: z.string().max(2_000_000) }), reply: done },
  countLine: { body: z.strictObject({ seen, counted: z.number().int().min(0).max(5000).nullable() }), reply: done },
  logReading: { body: z.strictObject({ reading: reading.omit({ id: true, by: true }) }), reply: done },
  leaf: { body: null, reply: leafView },
  addLeaf: {
    body: z.strictObject({
      leaf: leaf.pick({ code: true, line: true, pattern: true, identity: true, replaces: true }),
    }),
    reply: done,
  },
  pattern: { body: null, reply: patternView },
  /** Where each part of the pattern lies now, mm from the top left corner of the face; names, kinds and grain stay. */
  setJoints: {
    body: z.strictObject({
      seen,
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
  unwrapLeaf: { body: z.strictObject({ seen, at: happened }), reply: done },
  identifyLeaf: { body: z.strictObject({ seen, identity: z.enum(["as-ordered", "wrong", "over"]) }), reply: done },
  logShape: { body: z.strictObject({ reading: shapeReading.omit({ id: true, by: true }) }), reply: done },
  /** Null takes the decision back. */
  decideLeaf: {
    body: z.strictObject({ seen, decision: decision.omit({ by: true, at: true }).nullable() }),
    reply: done,
  },
  logMark: {
    body: z.strictObject({
      mark: mark.omit({ id: true, leaf: true, by: true, at: true, withdrawn: true, contrastDE00: true }),
    }),
    reply: z.strictObject({ id: entryId }),
  },
  withdrawMark: { body: z.strictObject({}), reply: done },
  /** A place that the photo proposed is no mark: it is not proposed again. */
  waveOff: { body: z.strictObject({ face, box: mark.shape.box }), reply: done },
  /** As many leaves as were counted on the line, so that their labels can be printed before they are unwrapped. */
  addLeavesOfLine: { body: z.strictObject({}), reply: z.strictObject({ seq: z.number(), leaves: z.array(code) }) },
  /**
   * multipart/form-data: `about` holds this as JSON text, `photo` the file. As JSON: what the photo that came in parts is, once
   * all of it is there.
   */
  uploadPhoto: {
    body: z.strictObject({
      sha256,
      /** What the device calls the file: cleaned to what can be shown, never refused. */
      name: z.string().max(10_000),
      kind: photo.shape.kind,
      shows: z.array(shown).max(12),
      note: shortText,
    }),
    reply: photoReply,
  },
  /** A photo in parts, named by its SHA-256, by tus 1.0 (tus.io): headers and bytes, no JSON. */
  beginUpload: { body: null, reply: null },
  uploadOffset: { body: null, reply: null },
  uploadPart: { body: null, reply: null },
  filePhoto: {
    body: z.strictObject({ seen, kind: photo.shape.kind, shows: z.array(shown).max(12), note: shortText }),
    reply: done,
  },
  photoPreview: { body: null, reply: null },
  straightFace: { body: null, reply: null },
  photoOriginal: { body: null, reply: null },
  events: { body: null, reply: null },
  match: { body: null, reply: matchView },
  repeat: { body: null, reply: repeatView },
  /** Answers when the plan is made or stopped; `planning` events tell how far it is. */
  planAllotment: { body: z.strictObject({}), reply: matchView },
  /** The call that planned answers with the best plan so far; false when none was being made. */
  stopPlanning: { body: z.strictObject({}), reply: z.strictObject({ stopped: z.boolean() }) },
  /** The plan and the one before it change places. */
  takePlanBack: { body: z.strictObject({}), reply: matchView },
  /** Look null: every two faces of the space count alike. Spaces not named stay as they are. */
  setSight: {
    body: z.strictObject({
      seen,
      sight: sightWeights,
      spaces: z.array(z.strictObject({ id: code, look: spaceLook.nullable() })).max(500),
    }),
    reply: done,
  },
  /** Replaces all locks and bans. */
  setWishes: { body: z.strictObject({ seen, locks: allotment.shape.locks, bans: allotment.shape.bans }), reply: done },
  /** Keeps as many leaves as it can where they are, for a loss of at most so much ΔE00 against the best plan. */
  planFewMoves: { body: z.strictObject({ loss: z.number().min(0).max(100) }), reply: matchView },
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
      kind: z.enum(["accept", "return"]),
      leaves: z.array(code).min(1).max(500),
      revises: z.number().int().min(1).nullable(),
      /** Made by who asks: asked again, the same request gets the same record. */
      requestId: entryId.exactOptional(),
    }),
    reply: z.strictObject({ number: z.number(), late: z.boolean() }),
  },
  recordPdf: { body: null, reply: null },
  recordJson: { body: null, reply: null },
  /** What a guest sees of a record. */
  record: { body: null, reply: recordView },
  /** Photo copies of a record, as sent. */
  recordCopy: { body: null, reply: null },
  /** All of its files with their SHA-256, as one zip. */
  recordZip: { body: null, reply: null },
  /** The letter to the supplier: plain text, and as a mail not yet sent with the PDF in it. */
  recordLetter: { body: null, reply: null },
  recordMail: { body: null, reply: null },
  verify: {
    body: null,
    reply: z.strictObject({ sound: z.boolean(), checked: z.number(), faults: z.array(z.string()) }),
  },
  /** Whose code a text is, read from a picture: it is looked at, never opened. */
  lookUpCode: {
    body: z.strictObject({ text: z.string().max(5000) }),
    reply: z.strictObject({ leaf: code.nullable(), says: z.string() }),
  },
  labelSheet: { body: null, reply: null },
  allotmentSheet: { body: null, reply: null },
  cardSheet: { body: null, reply: null },
  /** One row a leaf, for a spreadsheet. */
  leavesCsv: { body: null, reply: null },
} as const satisfies Record<CallName, Call>;

type Calls = typeof calls;
export type Body<Name extends CallName> = Calls[Name]["body"] extends z.ZodType ? z.infer<Calls[Name]["body"]> : null;
/** A body with who sent it, which the session tells and never the body itself. */
export type Signed<Name extends CallName> = (Body<Name> extends Record<string, never> ? unknown : Body<Name>) & {
  readonly by: Actor;
};
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
  /** Where another changed the same thing in the meantime. */
  conflict: conflictView.optional(),
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
