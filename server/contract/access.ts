import * as z from "zod";
import { deliveryId, entryId, instant, shortText } from "./ids.ts";

/** What a session may do: see one record, work on a delivery, or all of it. */
export const role = z.enum(["guest", "hand", "foreman"]);
export type Role = z.infer<typeof role>;

/**
 * Who is in: `name` null until it was given, `device` a label of its own for each phone, `delivery` null for all of them. A guest sees
 * the one record that `record` numbers.
 */
export const session = z.strictObject({
  id: entryId,
  name: shortText.nullable(),
  device: shortText,
  role,
  delivery: deliveryId.nullable(),
  record: z.number().int().min(1).nullable(),
});
export type Session = z.infer<typeof session>;

/** How things stand for the page; each but the session is a sentence to show, or null when there is nothing to say. */
export const state = z.strictObject({
  session,
  readOnly: z.string().nullable(),
  disk: z.string().nullable(),
  insecure: z.string().nullable(),
  clock: z.string().nullable(),
});

export type State = z.infer<typeof state>;

/** A phone, laptop or guest that is let in, for the list from which it can be shut out. */
export const device = session.extend({ since: instant, seen: instant });

/** Whom a pairing code lets in; `device` is made unique when it is used. */
export const offerWish = z.strictObject({
  role: z.enum(["hand", "foreman"]),
  delivery: deliveryId.nullable(),
  device: shortText.trim().min(1),
});
export type OfferWish = z.infer<typeof offerWish>;

/** An offer as the foreman sees it: for so many seconds more; `codeVoid`: tried too often, only the picture still opens. */
export const offer = offerWish.extend({ id: entryId, secondsLeft: z.number(), codeVoid: z.boolean() });

/** An offer just made: the code to type, the address that lets in at once, and that address as a QR code (SVG). */
export const newOffer = offer.extend({ code: z.string(), address: z.string(), qr: z.string() });

/** A code as it is typed, or the token of an address; and the name of who takes the device, if it was asked already. */
export const pairing = z.strictObject({ secret: z.string().min(8).max(64), name: shortText.trim().min(1).nullable() });

/** A link to one record that was given away. */
export const recordLink = z.strictObject({ id: entryId, made: instant, until: instant });
