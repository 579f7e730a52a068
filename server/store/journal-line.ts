import type { Patch } from "immer";
import { canonicalJson, sha256Of } from "../records/canonical.ts";
import type { Head } from "../site.ts";

/** One change of a delivery: who, when, on which device, what in words, and how the document changes and changes back. */
export interface JournalLine {
  readonly seq: number;
  readonly at: string;
  readonly actor: string;
  readonly device: string;
  readonly what: string;
  readonly patches: readonly Patch[];
  readonly inverse: readonly Patch[];
  /** SHA-256 of the line before; the first line has 64 zeros. */
  readonly prev: string;
  /** SHA-256 of the canonical JSON (RFC 8785) of all the other fields. */
  readonly sha256: string;
}

export const beforeFirst: Head = { seq: 0, sha256: "0".repeat(64) };

/** An undefined field has no place in JSON: it is left out. */
const hashOf = (line: JournalLine): string => sha256Of(canonicalJson({ ...line, sha256: undefined }));

/** Numbers a change, ties it to the line before and hashes it. */
export const sealLine = (head: Head, change: Omit<JournalLine, "seq" | "prev" | "sha256">): JournalLine => {
  const open: JournalLine = { seq: head.seq + 1, ...change, prev: head.sha256, sha256: "" };
  const plain = JSON.parse(JSON.stringify(open)) as JournalLine;
  return { ...plain, sha256: hashOf(plain) };
};

export const writeLine = (line: JournalLine): string => `${JSON.stringify(line)}\n`;

/** What a journal holds. `tail` are the bytes of a last line that was cut off in writing: no answer ever rested on it. */
export type JournalText =
  | { readonly kind: "sound"; readonly lines: JournalLine[]; readonly bytes: number; readonly tail: Buffer }
  | { readonly kind: "damaged"; readonly line: number; readonly why: string };

/** A line of text as a change; null where it is none. Whether it was changed is not looked at. */
export /** A line reads as it was written, letter for letter: JSON with a doubled field would read the same and hash the same. */
const asLine = (text: string): JournalLine | null => {
  try {
    const line = JSON.parse(text) as JournalLine | null;
    const isLine = typeof line === "object" && line !== null && Array.isArray(line.patches);
    return isLine && JSON.stringify(line) === text ? line : null;
  } catch {
    return null;
  }
};

/** What is wrong with a line that follows another, in words; null where nothing is. */
export const faultOf = (line: JournalLine | null, head: Head): string | null => {
  if (!line) return "is not readable";
  if (line.seq !== head.seq + 1) return `has number ${line.seq}, expected ${head.seq + 1}`;
  if (line.prev !== head.sha256) return "does not follow from the line before";
  if (hashOf(line) !== line.sha256) return "was changed after it was written";
  return null;
};

/** Reads a journal and checks number, chain and hash of every line. Every line but the last ends in a line feed. */
export const readJournalText = (bytes: Buffer): JournalText => {
  const whole = bytes.lastIndexOf(0x0a) + 1;
  const lines: JournalLine[] = [];
  let head = beforeFirst;
  for (let from = 0; from < whole; ) {
    const to = bytes.indexOf(0x0a, from);
    const line = asLine(bytes.toString("utf8", from, to));
    const why = faultOf(line, head);
    if (!line || why) return { kind: "damaged", line: lines.length + 1, why: why ?? "is not readable" };
    lines.push(line);
    head = line;
    from = to + 1;
  }
  if (lines.length === 0) return { kind: "damaged", line: 1, why: "is missing" };
  return { kind: "sound", lines, bytes: whole, tail: bytes.subarray(whole) };
};
