/** Letters of a name that are shown. */
const longest = 120;

/** What cannot be shown or turns the order of letters round: control characters, halves of surrogate pairs, line ends. */
const unseen = /[\p{Cc}\p{Cs}\p{Bidi_Control}\u2028\u2029]/gu;

/**
 * The name under which a photo is shown, from the one its device gave the file: without folders, without what cannot be shown. It
 * names nothing on the disk, so nothing need be refused.
 */
export const photoName = (given: string): string => {
  const last = given.replace(unseen, "").split(/[/\\]/).at(-1) ?? "";
  const name = Array.from(last.replace(/^[a-z]:/i, "").trim())
    .slice(0, longest)
    .join("")
    .trim();
  return /^\.*$/.test(name) ? "photo" : name;
};
