/** Crockford's base 32, without letters that are mistaken for digits, and five more signs for the check. A QR code holds all of them tightly. */
const signs = "0123456789ABCDEFGHJKMNPQRSTVWXYZ$*+-.";
const prefix = "LL/LEAF/";
const address = "HTTPS://LEAFLEDGER.LOCAL/L/";

/** 65 bits: nobody comes upon one by guessing. */
const idLength = 13;

/** Places weighted by 1, 2, 3… modulo a prime: one wrong sign, or two neighbours in each other's place, never give the same. */
const checkSign = (id: string): string =>
  signs[Array.from(id).reduce((sum, sign, place) => sum + (place + 1) * signs.indexOf(sign), 0) % signs.length] ?? "";

/** The text in the code of a leaf's label: our prefix, the label's own random id, a check sign. */
export const labelText = (id: string): string => `${prefix}${id}${checkSign(id)}`;

/** The id of a label from random bytes, 5 bits of each. */
export const labelId = (random: Uint8Array): string =>
  Array.from(random.subarray(0, idLength), (byte) => signs[byte % 32]).join("");

/** What a label names: itself by its id, or a leaf. */
export type Label = { readonly id: string } | { readonly leaf: string };

/**
 * What the text of a code says, looked at and never opened: the id of a label of ours; or the leaf that an older label names, under
 * our own address or by its code alone, which means something within its delivery only; or null for anybody else's.
 */
export const readLabel = (text: string): Label | null => {
  const sent = text.trim().toUpperCase();
  if (sent.startsWith(prefix)) {
    const id = sent.slice(prefix.length, -1);
    return /^[0-9A-HJKMNP-TV-Z]{13}$/.test(id) && sent === labelText(id) ? { id } : null;
  }
  const leaf = sent.startsWith(address) ? sent.slice(address.length) : sent;
  return /^[A-Z0-9][A-Z0-9.-]{0,11}$/.test(leaf) ? { leaf } : null;
};
