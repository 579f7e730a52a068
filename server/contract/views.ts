import * as z from "zod";
import { conflictView } from "./conflict.ts";
import {
  issuedRecord,
  job,
  opening,
  orderLine,
  placed,
  planFigures,
  reading,
  sightWeights,
  space,
} from "./delivery.ts";
import { code, deliveryId, face, instant, sha256, shortText } from "./ids.ts";
import { leaf, mark, pattern } from "./leaf.ts";
import { photo, photoState } from "./photo.ts";
import { supplierTerms, windowKind } from "./terms.ts";

/** The six numbers of a line and what is left over: ordered = accepted + allowance + held + returned + wrong + short + undecided. */
export const lineBalance = z.strictObject({
  line: code,
  item: shortText,
  price: z.number(),
  ordered: z.number(),
  onNote: z.number(),
  counted: z.number().nullable(),
  accepted: z.number(),
  allowance: z.number(),
  held: z.number(),
  returned: z.number(),
  wrong: z.number(),
  short: z.number(),
  over: z.number(),
  undecided: z.number(),
  balanced: z.boolean(),
  /** A ready sentence for the delivery note when the line does not agree, or null. Never "unchecked". */
  noteSentence: z.string().nullable(),
});
export type LineBalance = z.infer<typeof lineBalance>;

/** A claim window that is running or shut. `counted` says how the deadline was counted. */
export const claimWindow = z.strictObject({
  kind: windowKind,
  to: z.enum(["supplier", "haulier"]),
  opensAt: instant,
  deadline: instant,
  hoursLeft: z.number(),
  shut: z.boolean(),
  counted: z.string(),
});
export type ClaimWindow = z.infer<typeof claimWindow>;

/** The store log judged: each reading with the moisture wood would come to, hours outside the band, and what to look at. */
export const storeLog = z.strictObject({
  readings: z.array(reading.extend({ moisturePercent: z.number(), outside: z.boolean() })),
  hoursOutside: z.number(),
  warnings: z.array(z.string()),
});
export type StoreLog = z.infer<typeof storeLog>;

export const faceState = z.enum(["missing", "waiting", "retake", "measured"]);

export const leafSummary = z.strictObject({
  code,
  line: code.nullable(),
  item: shortText,
  identity: z.enum(["as-ordered", "wrong", "over"]),
  unwrapped: z.boolean(),
  faces: z.strictObject({ A: faceState, B: faceState }),
  marks: z.number(),
  outcome: z.enum(["undecided", "accept", "accept-with-allowance", "hold", "return"]),
  opening: code.nullable(),
});
export type LeafSummary = z.infer<typeof leafSummary>;

/** How far the measuring is: counts of photos, and the last sentence about what goes on. */
export const progress = z.strictObject({
  waiting: z.number(),
  measured: z.number(),
  retake: z.number(),
  kept: z.number(),
  failed: z.number(),
  solvedAt: instant.nullable(),
});
export type Progress = z.infer<typeof progress>;

export const money = z.strictObject({
  total: z.number(),
  pay: z.number(),
  allowance: z.number(),
  held: z.number(),
  withheld: z.number(),
  undecided: z.number(),
});

/** The first screen: count by line, what is left to unwrap, hours left on each window, the store. */
export const overview = z.strictObject({
  id: deliveryId,
  job,
  terms: supplierTerms,
  lines: z.array(lineBalance),
  orderLines: z.array(orderLine),
  money,
  windows: z.array(claimWindow),
  store: storeLog,
  leaves: z.array(leafSummary),
  readyToHang: z.array(z.strictObject({ opening: code, leaf: code })),
  progress,
  /** Entries that were set aside since another was first, until somebody settles them. */
  conflicts: z.array(conflictView),
  /** The last line of the journal that the view was made from. */
  seq: z.number(),
  head: z.strictObject({ seq: z.number(), sha256 }),
});
export type Overview = z.infer<typeof overview>;

export const partColour = z.strictObject({
  part: z.string(),
  kind: z.string(),
  /** CIELAB D65, 2 degrees. */
  lab: z.tuple([z.number(), z.number(), z.number()]),
  /** 95 % uncertainty of the colour itself as a ΔE00; null where no known reference ties it. */
  u95: z.number().nullable(),
  /** For a screen only: the numbers decide. */
  swatch: z.string(),
});

/**
 * Grain of one part: direction in degrees from the leaf's height and how much it varies, pitch in mm, contrast in L*; `u95` is how far
 * each is sure, 95 %, null where too little of the part tells.
 */
export const grainFigure = z.strictObject({
  part: z.string(),
  kind: pattern.shape.parts.element.shape.kind,
  directionDeg: z.number(),
  pitchMm: z.number().nullable(),
  contrastL: z.number(),
  spreadDeg: z.number(),
  u95: z.strictObject({
    directionDeg: z.number().nullable(),
    pitchMm: z.number().nullable(),
    contrastL: z.number().nullable(),
    spreadDeg: z.number().nullable(),
  }),
  figure: z.enum(["straight", "crown", "plain"]),
});

export const faceColour = z.strictObject({
  face,
  parts: z.array(partColour),
  grain: z.array(grainFigure),
  photos: z.array(sha256),
});

export const markJudgement = z.strictObject({
  verdict: z.enum(["natural", "within-limits", "beyond-limits", "undecided", "no-limit"]),
  why: z.string(),
});

/** A place that the photo shows and no person has judged yet. */
export const proposedMark = z.strictObject({
  face,
  kind: z.string(),
  box: mark.shape.box,
  contrastDE00: z.number(),
  score: z.number(),
  photo: sha256,
});

export const leafView = z.strictObject({
  leaf,
  item: shortText,
  line: orderLine.nullable(),
  pattern,
  placed: placed.nullable(),
  /** `damage`: what the last look at the original found. */
  photos: z.array(z.strictObject({ photo, state: photoState, damage: z.enum(["missing", "changed"]).nullable() })),
  faces: z.array(faceColour),
  marks: z.array(z.strictObject({ mark, judgement: markJudgement })),
  proposed: z.array(proposedMark),
  windows: z.array(claimWindow),
  /** Why a decision cannot be taken now, a sentence each, or null when it can. */
  whyNot: z.strictObject({
    accept: z.string().nullable(),
    "accept-with-allowance": z.string().nullable(),
    hold: z.string().nullable(),
    return: z.string().nullable(),
  }),
  /** The view still missing, in the order to take it. */
  missing: z.array(z.string()),
  cautions: z.array(z.string()),
  conflicts: z.array(conflictView),
  seq: z.number(),
  beforeUnwrapping: z.string().nullable(),
});
export type LeafView = z.infer<typeof leafView>;

/** A pattern, the leaves made by it, and their faces in photos, the one seen largest first. */
export const patternView = z.strictObject({
  pattern,
  leaves: z.array(code),
  faces: z.array(z.strictObject({ leaf: code, face, photo: sha256 })),
  seq: z.number(),
});
export type PatternView = z.infer<typeof patternView>;

export const verdict = z.enum(["match", "differs", "cannot-tell"]);

/** Two faces in one view: the part that differs most decides. */
export const faceDifference = z.strictObject({
  a: z.strictObject({ leaf: code, face }),
  b: z.strictObject({ leaf: code, face }),
  /** Null where nothing ties the two together. */
  part: z.string().nullable(),
  deltaE: z.number().nullable(),
  u95: z.number().nullable(),
  verdict,
  /** For "cannot-tell": what would settle it. */
  advice: z.string().nullable(),
  /** Two photos of one face differ as much: no reliable difference. Left out where it is one, or where no repeats tell. */
  withinRepeats: z.literal(true).optional(),
});
export type FaceDifference = z.infer<typeof faceDifference>;

export const stripPlace = z.strictObject({
  opening: code,
  place: z.union([z.literal(0), z.literal(1)]),
  leaf: code.nullable(),
  face: face.nullable(),
  turned: z.boolean(),
  locked: z.boolean(),
  existing: z.boolean(),
  swatch: z.string().nullable(),
  lab: z.tuple([z.number(), z.number(), z.number()]).nullable(),
  parts: z.array(partColour),
});

export const spaceStrip = z.strictObject({
  space,
  places: z.array(stripPlace),
  worst: faceDifference.nullable(),
  differences: z.array(faceDifference),
  /** How the cuts of the faces differ, beside their colour, a sentence each. */
  cuts: z.array(z.string()),
});
export type SpaceStrip = z.infer<typeof spaceStrip>;

/** How far an allotment being planned is: the best so far, what no plan can better, and for how long it has been tried. */
export const planning = z.strictObject({ worst: z.number(), bound: z.number(), seconds: z.number() });

export const matchView = z.strictObject({
  tolerance: z.number(),
  confidence: z.number(),
  spaces: z.array(spaceStrip),
  figures: planFigures.nullable(),
  plannedAt: instant.nullable(),
  /** The plan before this one, to be shown beside it and to go back to. */
  before: z.strictObject({ places: z.array(placed), plannedAt: instant, figures: planFigures.nullable() }).nullable(),
  sight: sightWeights,
  /** What `sight` is until a delivery sets its own. */
  usualSight: sightWeights,
  planning: planning.nullable(),
  openings: z.array(opening),
  /** How the parts lie on each leaf, by which its faces are drawn. */
  patterns: z.array(pattern),
  leaves: z.array(z.strictObject({ code, pattern: code })),
  /** Leaves that could still be placed. */
  spare: z.array(code),
  locks: z.array(placed.extend({ turned: z.boolean().nullable() })),
  bans: z.array(z.strictObject({ leaf: code, opening: code.nullable(), space: code.nullable(), why: shortText })),
  /** What cannot be told, a sentence each, with the photo that would settle it. */
  cannotTell: z.array(z.string()),
  seq: z.number(),
});
export type MatchView = z.infer<typeof matchView>;

export const returnsView = z.strictObject({
  /** Leaves decided for return or acceptance that no record carries yet. */
  toReturn: z.array(leafSummary),
  toAccept: z.array(leafSummary),
  windows: z.array(claimWindow),
  records: z.array(issuedRecord),
});
export type ReturnsView = z.infer<typeof returnsView>;

export const historyLine = z.strictObject({
  seq: z.number(),
  at: instant,
  actor: z.string(),
  device: z.string(),
  what: z.string(),
  undoable: z.boolean(),
  /** The leaves whose own data, photos or marks it changed. */
  leaves: z.array(code),
});
export type HistoryLine = z.infer<typeof historyLine>;

/** An issued record as a guest sees it; `headSha256` stands for it and all before it, and is in the letter. */
export const recordView = z.strictObject({
  number: z.number(),
  revision: z.number(),
  kind: z.enum(["accept", "return"]),
  leaves: z.array(code),
  issuedAt: instant,
  deadline: instant.nullable(),
  by: shortText,
  job: shortText,
  supplier: shortText,
  timeZone: z.string(),
  headSha256: sha256,
  /** Null where a file is gone. */
  files: z.array(z.strictObject({ name: z.string(), bytes: z.number().nullable(), sha256 })),
});

export const photoReply = z.strictObject({ id: sha256, known: z.boolean(), state: photoState });
