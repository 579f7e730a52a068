/** Characters of a pairing code: digits and capital letters without I, L, O and U, which are taken for others (Crockford's base 32). */
const strangers = /[^0-9A-HJKMNP-TV-Z]/g;

export const codeLength = 8;

/** A pairing code as a person types it: gaps and case do not matter, O is 0, I and L are 1. */
export const readCode = (typed: string): string =>
  typed.toUpperCase().replaceAll("O", "0").replace(/[IL]/g, "1").replace(strangers, "").slice(0, codeLength);

/** "7K3M 9XQ2": two groups of four, as they are read out. */
export const inGroups = (code: string): string => [code.slice(0, 4), code.slice(4)].filter(Boolean).join(" ");
