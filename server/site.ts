import type { Draft } from "immer";
import type { Allotment, AllotmentProblem } from "../analysis/allot/allotment.ts";
import type { AllotmentAnswers, AllotmentQuestion } from "../analysis/allot/allotment-questions.ts";
import type { CutDifference } from "../analysis/grain/cut.ts";
import type { RepeatReading } from "../analysis/repeat/repeat-readings.ts";
import type { Delivery } from "./contract/delivery.ts";
import type { Actor } from "./contract/ids.ts";
import type { PhotoState } from "./contract/photo.ts";
import type { FaceDifference, HistoryLine, LeafView, Progress } from "./contract/views.ts";
import type { Printing } from "./records/printing.ts";
import type { FileRead, FileToRead } from "./use-cases/read-files.ts";

/** A place on the journal: the number of its last line and that line's SHA-256. */
export interface Head {
  readonly seq: number;
  readonly sha256: string;
}

/** The files of issued records: written once, flushed to disk, never changed. */
export interface RecordFiles {
  /** `copies` gives the file of each photo's copy by its name, as "photo-001.jpg": it is moved. */
  write(number: number, json: string, pdf: Buffer, copies?: ReadonlyMap<string, string>): Promise<void>;
  json(number: number): Promise<string>;
  pdf(number: number): Promise<Buffer>;
  /** Where a file of a record is: "json", "pdf", or the name of a copy. */
  path(number: number, name: string): string;
}

/** What can become of an original: its file is gone or cannot be read, or its bytes are no longer those that came. */
export type PhotoDamage = "missing" | "changed";

/** The originals, named by the SHA-256 of their bytes. */
export interface PhotoFiles {
  /** Moves a file that was written and flushed to its place for good; file and folder are on disk when it resolves. */
  keep(temporaryPath: string, sha256: string): Promise<void>;
  /** Whether it is there and, as far as it was looked at, sound. */
  has(sha256: string): boolean;
  path(sha256: string): string;
  /** Reads it all and compares it with its name. */
  check(sha256: string): Promise<PhotoDamage | null>;
  /** What the last look found, until the photo is sent again; null where it was sound or not looked at. */
  damage(sha256: string): PhotoDamage | null;
}

/** A file that came in: where it lies for now, its length, and the SHA-256 of what arrived. */
export interface Arrived {
  readonly path: string;
  readonly bytes: number;
  readonly sha256: string;
}

/**
 * Photos on their way in, before they are kept: whole ones, and those sent piece by piece, which are named by the SHA-256 they
 * will have. Refuses with 404 what was not begun, 409 another place than the one reached, 423 what another request is bringing.
 */
export interface UploadFiles {
  /** Writes what comes in one go; nothing is left of one that breaks off. */
  receive(stream: AsyncIterable<Buffer>): Promise<Arrived>;
  discard(arrived: Arrived): Promise<void>;
  begin(sha256: string, bytes: number): Promise<void>;
  /** How many of its bytes have arrived; null for one that was not begun. */
  progress(sha256: string): Promise<{ readonly offset: number; readonly bytes: number } | null>;
  /** Adds what comes from `offset` on and tells how far that goes. What arrived before a break stays. `stop` ends the request. */
  append(sha256: string, offset: number, stream: AsyncIterable<Buffer>, stop: () => void): Promise<number>;
  /** The file of one that has arrived whole, under the hash that it really has. */
  finished(sha256: string): Promise<Arrived>;
  drop(sha256: string): Promise<void>;
  /** Drops those that nobody went on with. */
  sweep(): Promise<void>;
}

/** What each photo measured, in a file beside it. It can be thrown away and made again. */
export interface MeasurementFiles {
  read(sha256: string): Promise<unknown>;
  write(sha256: string, measurement: unknown): Promise<void>;
}

/** A document and the place on the journal that it belongs to. */
export interface Standing {
  readonly document: Delivery;
  readonly head: Head;
}

/** One delivery. What `read` shows is on disk. */
export interface DeliveryStore {
  readonly id: string;
  read(): Delivery;
  head(): Head;
  /**
   * One change, one journal line, on disk before it resolves. The recipe changes a draft; when it throws nothing is
   * written. Changes of a delivery run one after the other, so a recipe may wait for files to be written. `before` is what
   * the draft was made from: changes may be in it that `read` does not show, since they are being flushed.
   */
  change<T>(
    actor: Actor,
    what: string,
    recipe: (draft: Draft<Delivery>, before: Standing) => T | Promise<T>,
  ): Promise<{ seq: number; result: T }>;
  /** Takes a change back; `whyNot` says what speaks against the document that would be left. */
  undo(actor: Actor, seq: number, whyNot?: (left: Delivery) => string | null): Promise<{ seq: number }>;
  history(): readonly HistoryLine[];
  /** The last line after `seq` that changed what `read` gives of the document, waiting lines too; null where it is as it was. */
  lastChange(
    seq: number,
    read: (document: Delivery) => unknown,
  ): Promise<Pick<HistoryLine, "seq" | "actor" | "device" | "at"> | null>;
  verify(): Promise<{ checked: number; faults: string[] }>;
  readonly photos: PhotoFiles;
  readonly records: RecordFiles;
  readonly measurements: MeasurementFiles;
  readonly uploads: UploadFiles;
  /** Where an upload may be written before it is kept. */
  readonly temporaryFolder: string;
}

/** What people must know of the store, a sentence each. */
export interface StoreState {
  /** Why nothing can be written until the next start. */
  readonly readOnly: string | null;
  /** Disk space is short. */
  readonly disk: string | null;
  /** The clock of this computer is not to be trusted. */
  readonly clock: string | null;
}

export interface Store {
  health(): StoreState;
  /** Throws a Refusal where nothing can be written (503), or where there is too little space on the disk for this (507). */
  check(writes: "photo" | "file" | "entry"): void;
  list(): readonly string[];
  open(id: string): DeliveryStore;
  create(actor: Actor, document: Delivery): Promise<DeliveryStore>;
  close(): Promise<void>;
}

/** What a file is, before anything is measured. */
export type Examined =
  | {
      readonly kind: "photo";
      readonly width: number;
      readonly height: number;
      readonly takenAt: string | null;
      readonly camera: string;
      readonly flags: string[];
    }
  | { readonly kind: "refused"; readonly status: 400 | 413 | 415 | 422; readonly why: string };

/** A piece of a face cut straight: `box` in mm on the face, the picture scaled to `pxPerMm`. */
export interface CropRequest {
  readonly corners: readonly (readonly [number, number])[];
  readonly widthMm: number;
  readonly heightMm: number;
  readonly box: { readonly x: number; readonly y: number; readonly w: number; readonly h: number };
  readonly pxPerMm: number;
}

/** A copy that may leave this computer: its length, and what its original carries beside the picture that the copy does not. */
export interface SupplierCopy {
  readonly bytes: number;
  readonly removed: readonly string[];
}

/** Everything that decodes a photo; it runs in a child process. Pictures come back as JPEG without metadata. */
export interface Darkroom {
  examine(path: string): Promise<Examined>;
  preview(path: string, longestPx: number): Promise<Buffer>;
  crop(path: string, request: CropRequest): Promise<Buffer>;
  /** Writes the copy to the file named. */
  supplierCopy(path: string, to: string): Promise<SupplierCopy>;
  close(): Promise<void>;
}

export interface FaceRef {
  readonly leaf: string;
  readonly face: "A" | "B";
}

/** What the photos of one delivery measured together. */
export interface Measured {
  readonly solvedAt: string | null;
  state(photo: string): PhotoState;
  faces(leaf: string): LeafView["faces"];
  proposedMarks(leaf: string): LeafView["proposed"];
  difference(a: FaceRef, b: FaceRef): FaceDifference;
  /** How the cuts of two faces differ, beside their colour; none where they do not, or one was not looked at closely yet. */
  cuts(a: FaceRef, b: FaceRef): readonly CutDifference[];
  /** ΔE00 of a box on a face to the timber round it, from the best photo that shows it; null where none does. */
  markContrast(face: FaceRef, box: CropRequest["box"]): Promise<number | null>;
  /** Corners of a face in a photo that was measured, or null. */
  corners(photo: string, face: FaceRef): CropRequest["corners"] | null;
  /** The edition of the 24-patch chart by whose values photos were measured; null where none shows a chart. */
  readonly chart: string | null;
  /** Colours of faces that more than one photo shows, photo by photo. */
  readonly repeats: readonly RepeatReading[];
  /** Photos that nothing ties to the rest, a sentence each, then the photos that would tie them, one each. */
  readonly untied: readonly string[];
}

/** Measures what has not been measured, in the background, and solves all photos of a delivery together. */
export interface Measuring {
  measured(delivery: string): Measured;
  progress(delivery: string): Progress;
  /** Looks for photos that wait; call it after a photo or its filing changed. */
  wake(delivery: string): void;
  /** Resolves when nothing waits and the colours are solved. */
  settled(delivery: string): Promise<void>;
  onProgress(listener: (delivery: string, progress: Progress) => void): () => void;
}

/** How far a plan being made is: the best so far, what no plan can better, and for how long it has been tried. */
export interface PlanningProgress {
  readonly worst: number;
  readonly bound: number;
  readonly seconds: number;
}

/** A plan and what one gets without a search: leaves dealt out from light to dark, or chosen by eye. */
export interface Allotments {
  readonly plan: Allotment;
  readonly dealt: Allotment;
  readonly byEye: Allotment;
}

/** Makes plans in a process of its own, one after the other. */
export interface Planning {
  /** Refused while one is made, or waits to be, for the same delivery. */
  make(delivery: string, problem: AllotmentProblem): Promise<Allotments>;
  /** The best plan so far is taken; false when none is being made. */
  stop(delivery: string): boolean;
  progress(delivery: string): PlanningProgress | null;
  /** Null: it ended. */
  onProgress(listener: (delivery: string, progress: PlanningProgress | null) => void): () => void;
}

/** All that a use case may touch. */
export interface Site {
  readonly store: Store;
  readonly darkroom: Darkroom;
  readonly measuring: Measuring;
  readonly planning: Planning;
  /** What dealing out and choosing by eye come to, worked out in a process of its own. */
  dealByHand(problem: AllotmentProblem): Promise<Omit<Allotments, "plan">>;
  /** Works out the answer in a process of its own: other requests go on. */
  askAllotment<Kind extends AllotmentQuestion["kind"]>(
    question: Extract<AllotmentQuestion, { kind: Kind }>,
  ): Promise<AllotmentAnswers[Kind]>;
  /** Reads a CSV file; a large one in a child process. */
  readFile(reading: FileToRead): Promise<FileRead>;
  /** Prints a sheet as a PDF, in a child process. */
  print(printing: Printing): Promise<Buffer>;
  /** ISO 8601 with offset. */
  now(): string;
  newId(): string;
}
