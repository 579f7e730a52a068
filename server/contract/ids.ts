import * as z from "zod";

/** Name of a delivery's folder and address: lower case letters and digits. */
export const deliveryId = z.string().regex(/^[a-z0-9]{3,40}$/);

/** What is written on a label or a schedule: a leaf "W03", an opening "1.06", a line "L2". */
export const code = z
  .string()
  .regex(/^[A-Z0-9][A-Z0-9.-]{0,11}$/, "use capital letters, digits, dots and dashes, 12 at most");

/** SHA-256 of a file's bytes, lower-case hex. A photo is named by it. */
export const sha256 = z.string().regex(/^[a-f0-9]{64}$/);

/** Time-sortable id of a mark or a reading (ULID). A phone may make it with no signal. */
export const entryId = z.string().regex(/^[0-9A-HJKMNP-TV-Z]{26}$/);

/** ISO 8601 date and time with its offset, as "2026-03-03T10:40:00+00:00". */
export const instant = z.iso.datetime({ offset: true });

/** When something happened, as a person enters it: windows are counted from it, so its year must be one of this century. */
export const happened = instant.refine((at) => at.startsWith("20"), "the year is not between 2000 and 2099");

const isControl = (character: string): boolean => character < " " && !"\t\n\r".includes(character);

/** Text a person types: no control characters but line breaks and tabs, no half of a surrogate pair. */
export const note = z
  .string()
  .max(20_000)
  .refine((text) => !/\p{Cs}/u.test(text) && !Array.from(text).some(isControl), "contains a control character");
export const shortText = note.max(200);

/** What may stand at each named place of a path: nothing else reaches a use case, let alone the disk. */
export const pathParts: Readonly<Record<string, RegExp>> = {
  delivery: /^[a-z0-9]{3,40}$/,
  leaf: /^[A-Z0-9][A-Z0-9.-]{0,11}$/,
  line: /^[A-Z0-9][A-Z0-9.-]{0,11}$/,
  pattern: /^[A-Z0-9][A-Z0-9.-]{0,11}$/,
  opening: /^[A-Z0-9][A-Z0-9.-]{0,11}$/,
  photo: /^[a-f0-9]{64}$/,
  face: /^[AB]$/,
  place: /^[0-9]{1,2}$/,
  number: /^[1-9][0-9]{0,8}$/,
  copy: /^[a-z0-9][a-z0-9.-]{0,39}$/,
  mark: /^[0-9A-HJKMNP-TV-Z]{26}$/,
  conflict: /^[0-9A-Za-z.:-]{1,64}$/,
  device: /^[0-9A-HJKMNP-TV-Z]{26}$/,
  link: /^[0-9A-HJKMNP-TV-Z]{26}$/,
};

export const face = z.enum(["A", "B"]);
export type FaceSide = z.infer<typeof face>;

/** What every change carries: who did it and on which phone or laptop. */
export interface Actor {
  readonly name: string;
  readonly device: string;
  /** Left out where the program or its command line acts: it may do everything. */
  readonly role?: "guest" | "hand" | "foreman";
}
