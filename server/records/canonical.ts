import { createHash } from "node:crypto";
import library from "canonicalize";

// The package is CommonJS and its types speak of a default export that Node hands over as the function itself.
const serialize = library as unknown as (value: unknown) => string | undefined;

/**
 * JSON in the one form that RFC 8785 (JSON Canonicalization Scheme) allows: keys in UTF-16 order, no white space,
 * numbers as ECMAScript writes them. Throws on NaN, infinities, lone surrogates, and what JSON has no word for.
 */
export const canonicalJson = (value: unknown): string => {
  const text = serialize(value);
  if (text === undefined) throw new TypeError("only JSON values have a canonical form");
  // JSON.stringify escapes half of a surrogate pair and nothing else in this range.
  if (/\\ud[89a-f]/.test(text.replaceAll("\\\\", ""))) throw new TypeError("a lone surrogate has no canonical form");
  return text;
};

/** SHA-256 of a text (as UTF-8) or of bytes, lower-case hex. */
export const sha256Of = (content: string | Uint8Array): string => createHash("sha256").update(content).digest("hex");
