import * as z from "zod";
import { entryId, instant, shortText } from "./ids.ts";

/** An entry that was refused since another's later one touched the same thing: kept until somebody settles it. */
export const conflict = z.strictObject({
  id: entryId,
  /** The call it came in by, and what it said. */
  call: shortText,
  params: z.record(z.string(), z.string()),
  body: z.unknown(),
  by: shortText,
  device: shortText,
  at: instant,
});
