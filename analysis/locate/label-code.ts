/**
 * The leaf that a label's code names: the last part of an address that ends in /L/<code>, or the code alone; null for any
 * other text. Case does not count: addresses are printed in capitals so that the code stays small.
 */
export const leafOfLabel = (text: string): string | null => {
  const [, code] = /^(?:HTTPS?:\/\/[^/]+\/L\/)?([A-Z0-9][A-Z0-9.-]{0,11})$/.exec(text.trim().toUpperCase()) ?? [];
  return code ?? null;
};
