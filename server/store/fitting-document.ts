import { type Delivery, deliveryDocument } from "../contract/delivery.ts";

/**
 * Checks documents against the schema. Parts of lists that were checked before, the very same objects, are not checked again: a
 * change of a delivery with 20,000 photos checks what it changed.
 */
export const fittingDocument = (): ((document: Delivery) => void) => {
  const known = new WeakSet<object>();
  return (document) => {
    const parts: [string, unknown][] = Object.entries(document);
    const lists = parts.filter((entry): entry is [string, object[]] => Array.isArray(entry[1]));
    const fresh = lists.map(([name, list]) => [name, list.filter((part) => !known.has(part))] as const);
    deliveryDocument.parse({ ...document, ...Object.fromEntries(fresh) });
    for (const [, list] of fresh) for (const part of list) known.add(part);
  };
};
