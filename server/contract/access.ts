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

/** A phone, laptop or guest that is let in, for the list from which it can be shut out. */
export const device = session.extend({ since: instant, seen: instant });
